"""Reading what was measured here."""

from friable.records.models import Measurement
from friable.records.models.measurements import DRY_BULK_DENSITY, MIX_VOLUME, PACK_YIELD


def standing(kind):
    """Measurements of a kind that were not withdrawn, newest first."""
    return Measurement.objects.filter(kind=kind, withdrawn_at=None).order_by("-done_at", "-pk")


def measurements_of_material(material):
    """Everything measured on a material, withdrawn or not, newest first."""
    of_it = Measurement.objects.filter(material=material)
    return (
        (
            of_it
            | Measurement.objects.filter(other_material=material)
            | Measurement.objects.filter(pack__material=material)
        )
        .select_related("material", "other_material", "pack__material", "container", "mix_version__mix")
        .order_by("-done_at", "-pk")
    )


def measurements_of_container(container):
    """Everything measured on a container, withdrawn or not, newest first."""
    return (
        Measurement.objects.filter(container=container)
        .select_related("container", "material", "mix_version__mix")
        .order_by("-done_at", "-pk")
    )


def densities_measured(materials):
    """Newest standing dry bulk density of each material, by its pk; one query."""
    found = {}
    for measurement in standing(DRY_BULK_DENSITY).filter(material__in=materials):
        found.setdefault(measurement.material_id, measurement)
    return found


def mix_volumes_measured(materials):
    """Newest standing mix volume of each pair among these materials, by the pair of pks; one query."""
    found = {}
    measured = standing(MIX_VOLUME).select_related("material", "other_material")
    for measurement in measured.filter(material__in=materials, other_material__in=materials):
        found.setdefault(frozenset((measurement.material_id, measurement.other_material_id)), measurement)
    return found


def yields_measured(packs):
    """Newest standing yield measurement of each pack, by its pk; one query."""
    found = {}
    for measurement in standing(PACK_YIELD).filter(pack__in=packs):
        found.setdefault(measurement.pack_id, measurement)
    return found
