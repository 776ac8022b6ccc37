"""Loose litres that a compressed pack gives, as sources and sellers print them."""

from dataclasses import dataclass
from functools import cache

from friable.errors import UnknownName
from friable.reference.load import read_table
from friable.reference.words import nearest, tokens
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class PackYield:
    """One statement of a yield: loose litres (`unit` L), or loose over compressed volume (`unit` ratio)."""

    item: str
    pack_l: float | None
    pack_kg: float | None
    yield_low: float
    yield_high: float
    unit: str
    water_low_l: float | None  # water to add, where it is printed
    water_high_l: float | None
    remark: str
    how_known: str
    source: str


def pack_yields(name: str = "") -> tuple[PackYield, ...]:
    """Return what sources print of the yield of a pack; they disagree. Without a name: all.

    Raises
    ------
    UnknownName
        If no pack is called so; the nearest names are given.
    """
    if not name:
        return _all()
    names: dict[str, str] = {}
    for row in read_table("pack_yields"):
        for spelling in (row["item"], *row.list("other_names")):
            names[spelling] = row["item"]
    words = tokens(name)
    exact = [item for spelling, item in names.items() if tokens(spelling) == words]
    within = [item for spelling, item in names.items() if words and tokens(spelling) <= words]
    for items in (exact, within):
        if items:
            return tuple(found for found in _all() if found.item == items[0])
    raise UnknownName(_("compressed pack"), name, nearest(name, names))


@cache
def _all() -> tuple[PackYield, ...]:
    found = []
    for row in read_table("pack_yields"):
        low, high = row.number("yield_low"), row.number("yield_high")
        if not 0 < low <= high:
            raise row.refused(_("the yield must be above 0 and in order"))
        found.append(
            PackYield(
                item=row["item"],
                pack_l=row.maybe("pack_l"),
                pack_kg=row.maybe("pack_kg"),
                yield_low=low,
                yield_high=high,
                unit=row["unit"],
                water_low_l=row.maybe("water_low_l"),
                water_high_l=row.maybe("water_high_l"),
                remark=row["remark"],
                how_known=row["how_known"],
                source=row["source"],
            )
        )
    return tuple(found)
