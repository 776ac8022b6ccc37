"""The container and plant group each published recipe is meant for, and how its open words may be read."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.reference.row import Row
from friable.wording import gettext as _

MIX = "mix:"  # a reading that names a published recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeUse:
    """Where a published recipe is used. A recipe that cannot be computed says why in `left_out`."""

    recipe: str  # key of a published recipe
    groups: tuple[str, ...]  # keys of plant groups
    container: str  # as it is typed
    printed: str  # what the source says of the container; "" means it is assumed
    readings: tuple[tuple[str, tuple[str, ...]], ...]  # printed name, keys of materials or mix:RECIPE
    left_out: str
    note: str
    how_known: str
    source: str

    @property
    def is_assumed(self) -> bool:
        """Whether the source says nothing of the container."""
        return not self.printed


@cache
def recipe_uses() -> tuple[RecipeUse, ...]:
    """Return the use of every published recipe, in the order of the recipes.

    Raises
    ------
    LookupError
        If readings are not written as NAME=KEY|KEY.
    """
    return tuple(_use(row) for row in read_table("recipe_containers"))


def _use(row: Row) -> RecipeUse:
    return RecipeUse(
        recipe=row["recipe"],
        groups=row.list("groups"),
        container=row["container"],
        printed=row["container_printed"],
        readings=tuple(_reading(row, entry) for entry in row.list("readings")),
        left_out=row["left_out"],
        note=row["note"],
        how_known=row["how_known"],
        source=row["source"],
    )


def _reading(row: Row, entry: str) -> tuple[str, tuple[str, ...]]:
    name, _equals, keys = entry.partition("=")
    read = tuple(key.strip() for key in keys.split("|") if key.strip())
    if not (name.strip() and read):
        raise row.refused(_("the reading “{entry}” is not written as NAME=KEY|KEY").format(entry=entry))
    return name.strip(), read
