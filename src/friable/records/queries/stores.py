"""Reading materials, packs, containers and what stands at the bench."""

from django.db.models import Prefetch

from friable.records.models import Bucket, Container, Material, Mixer, Pack, Scale
from friable.records.queries.measurements import yields_measured


def materials_in_use():
    """Materials in use, by name, with their aliases and packs."""
    packs = Prefetch("packs", Pack.objects.filter(in_use=True).order_by("name"))
    return Material.objects.filter(in_use=True).prefetch_related("aliases", packs)


def containers_in_use():
    """Containers in use, by name."""
    return Container.objects.filter(in_use=True)


def container_named(name):
    """The stored container of a name, whatever its capitals; None if there is none."""
    wanted = name.strip().casefold()
    return next((row for row in Container.objects.order_by("pk") if row.name.casefold() == wanted), None)


def container_like(measures):
    """The stored container with these inside measures; None if there is none."""
    sides = ("shape", "top_length_cm", "top_width_cm", "bottom_length_cm", "bottom_width_cm", "height_cm")
    same = Container.objects.filter(**{side: getattr(measures, side) for side in sides})
    return same.order_by("-in_use", "pk").first()


def packs_of(material):
    """Packs of a material in use, each with `measured` (its newest yield measurement, or None)."""
    packs = list(
        Pack.objects.filter(material=material, in_use=True).select_related("material").order_by("name")
    )
    measured = yields_measured(packs)
    for pack in packs:
        pack.measured = measured.get(pack.pk)
    return packs


def packs_in_use():
    """All packs in use, each with `measured` (its newest yield measurement, or None); two queries."""
    packs = list(
        Pack.objects.filter(in_use=True).select_related("material").order_by("material__name", "name")
    )
    measured = yields_measured(packs)
    for pack in packs:
        pack.measured = measured.get(pack.pk)
    return packs


def buckets_in_use():
    """Buckets in use, by name."""
    return Bucket.objects.filter(in_use=True)


def scales_in_use():
    """Scales in use, by name."""
    return Scale.objects.filter(in_use=True)


def mixers_in_use():
    """Mixers in use, by name."""
    return Mixer.objects.filter(in_use=True)
