"""Writing down containers, buckets, scales and mixers."""

from friable.records.actions.act import act, keep, refuse_unknown
from friable.records.models import Bucket, Container, Mixer, Scale
from friable.science import containers as science

SIDES = ("top_length_cm", "top_width_cm", "bottom_length_cm", "bottom_width_cm", "height_cm")


@act
def add_container(name, measures, *, note=""):
    """Add a container from its inside measures (a `science.containers.Container`)."""
    container = Container(name=name, note=note)
    return keep(container, **_columns(measures))


@act
def change_container(container, *, measures=None, **changes):
    """Change a container's name, note, measures, or whether it is in use."""
    refuse_unknown(changes, {"name", "note", "in_use", "headspace_cm"})
    columns = _columns(measures) if measures is not None else {}
    return keep(container, **{**columns, **changes})


@act
def container_for(measures):
    """Return the stored container with these measures, storing it under its measures if there is none."""
    columns = _columns(measures)
    sides = {column: columns[column] for column in ("shape", *SIDES)}
    same = Container.objects.filter(**sides).order_by("-in_use", "pk")
    return same.first() or keep(Container(name=measures.describe(), **sides))


@act
def add_bucket(name, *, line_l, brim_l=None, note=""):
    """Add a bucket with its line."""
    return keep(Bucket(name=name, line_l=line_l, brim_l=brim_l, note=note))


@act
def add_scale(name, *, smallest_g, largest_g=None, note=""):
    """Add a scale with the least it weighs rightly."""
    return keep(Scale(name=name, smallest_g=smallest_g, largest_g=largest_g, note=note))


@act
def add_mixer(name, *, working_l, note=""):
    """Add a mixer with its working volume."""
    return keep(Mixer(name=name, working_l=working_l, note=note))


@act
def retire(thing):
    """Take a material, mix, container, pack, bucket, scale or mixer out of use; what used it keeps it."""
    return keep(thing, in_use=False)


def _columns(measures: science.Container) -> dict[str, object]:
    columns = {side: getattr(measures, side) for side in SIDES}
    return {**columns, "shape": measures.shape, "headspace_cm": measures.headspace_cm}
