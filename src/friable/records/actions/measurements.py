"""Writing down what was measured here."""

from friable.errors import BadQuantity, Refused
from friable.planning.forecast import overlap_loss_from_mix_volume
from friable.records import plain
from friable.records.actions.act import act, in_the_past, keep
from friable.records.models import Container, Measurement
from friable.records.models.measurements import (
    DRY_BULK_DENSITY,
    MIX_VOLUME,
    PACK_YIELD,
    POT_TEST,
    POT_VOLUME,
)
from friable.records.queries.measurements import standing
from friable.wording import gettext as _

# Particle density of the densest minerals among growing media, about that of granite and limestone (2.6 to
# 2.9 g/cm3, handbooks of soil physics; from memory). Nothing lighter than water-free rock can exceed it.
DENSEST_SOLIDS_G_CM3 = 2.9
LARGEST_MEASURED_OVER_COMPUTED = 2.0


@act
def measure_pack_yield(pack, *, by, loose_l, done_at=None, lot="", note=""):
    """Write down how many loose litres one pack gave."""
    return _keep(PACK_YIELD, by, done_at, note, pack=pack, loose_l=loose_l, lot=lot)


@act
def measure_mix_volume(
    material, other_material, *, by, material_l, other_material_l, mixed_l, done_at=None, lot="", note=""
):
    """Write down the volume of two materials mixed; mixes that hold both are forecast with it.

    Raises
    ------
    BadQuantity
        If the mix is larger than its parts, or smaller than their packing allows.
    """
    measurement = _keep(
        MIX_VOLUME,
        by,
        done_at,
        note,
        material=material,
        other_material=other_material,
        material_l=material_l,
        other_material_l=other_material_l,
        mixed_l=mixed_l,
        lot=lot,
    )
    both = plain.materials([material, other_material])
    overlap_loss_from_mix_volume(
        both[material.pk], material_l, both[other_material.pk], other_material_l, mixed_l
    )
    return measurement


@act
def measure_pot_volume(container, *, by, brim_l, done_at=None, note=""):
    """Write down the volume of a container to its brim (kilograms of water are litres)."""
    measurement = _keep(POT_VOLUME, by, done_at, note, container=container, brim_l=brim_l)
    _set_measured_volume(container)
    computed = plain.container(container, measured=False).brim_volume_l
    if not 1 / LARGEST_MEASURED_OVER_COMPUTED <= brim_l / computed <= LARGEST_MEASURED_OVER_COMPUTED:
        raise BadQuantity(
            _("the volume of {name}").format(name=container.name),
            brim_l,
            "L",
            _("within half and double of what its measures give ({computed:.3g} L)").format(
                computed=computed
            ),
            _("Measure the container again, or correct its measures first."),
        )
    return measurement


@act
def measure_dry_bulk_density(
    material,
    *,
    by,
    dry_bulk_density_g_cm3,
    dry_bulk_density_low_g_cm3=None,
    dry_bulk_density_high_g_cm3=None,
    done_at=None,
    lot="",
    note="",
):
    """Write down the dry bulk density of a material, loosely poured; it replaces the figure of the table.

    Raises
    ------
    BadQuantity
        If the solids would have to be denser than rock.
    """
    measurement = _keep(
        DRY_BULK_DENSITY,
        by,
        done_at,
        note,
        material=material,
        dry_bulk_density_g_cm3=dry_bulk_density_g_cm3,
        dry_bulk_density_low_g_cm3=dry_bulk_density_low_g_cm3,
        dry_bulk_density_high_g_cm3=dry_bulk_density_high_g_cm3,
        lot=lot,
    )
    if material.table_key:
        solids = 1 - plain.table_material(material).total_porosity.low
        densest = DENSEST_SOLIDS_G_CM3 * solids
        if not dry_bulk_density_g_cm3 <= densest:
            raise BadQuantity(
                _("dry bulk density of {name}").format(name=material.name),
                dry_bulk_density_g_cm3,
                "g/cm3",
                _("at most {densest:.2g} g/cm3, where its solids would be as dense as rock").format(
                    densest=densest
                ),
                _("Dry the sample fully, pour it loosely and weigh it again."),
            )
    return measurement


@act
def measure_pot_test(
    container,
    *,
    by,
    headspace_cm,
    water_in_l,
    drained_l,
    mix_version=None,
    material=None,
    done_at=None,
    lot="",
    note="",
):
    """Write down a pot test: water to saturate, water drained, in this container."""
    fill_l = plain.container(container, headspace_cm=headspace_cm).fill_volume_l
    measurement = _keep(
        POT_TEST,
        by,
        done_at,
        note,
        container=container,
        headspace_cm=headspace_cm,
        water_in_l=water_in_l,
        drained_l=drained_l,
        mix_version=mix_version,
        material=material,
        lot=lot,
    )
    if not water_in_l < fill_l:
        raise BadQuantity(
            _("water to saturate"),
            water_in_l,
            "L",
            _("below the filled volume of the container ({fill:.3g} L)").format(fill=fill_l),
        )
    return measurement


@act
def withdraw_measurement(measurement, *, by, reason):
    """Withdraw a wrong measurement in the open: it stays, with who and why, and counts no more."""
    if measurement.withdrawn_at:
        raise Refused(_("This measurement is withdrawn already."))
    keep(measurement, withdrawn_by=by, withdrawn_at=in_the_past(None, ""), withdrawn_reason=reason)
    if measurement.kind == POT_VOLUME:
        _set_measured_volume(measurement.container)
    return measurement


def _keep(kind, by, done_at, note, **columns) -> Measurement:
    return keep(
        Measurement(
            kind=kind,
            done_by=by,
            done_at=in_the_past(done_at, _("The time of the measurement")),
            note=note,
            **columns,
        )
    )


def _set_measured_volume(container: Container) -> None:
    newest = standing(POT_VOLUME).filter(container=container).first()
    keep(container, measured_volume_l=newest.brim_l if newest else None)
