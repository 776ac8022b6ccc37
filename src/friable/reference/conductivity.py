"""Hydraulic conductivities: of each material alone, and as sources print them beside the mix most like it."""

import math
from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.reference.row import Row
from friable.science.estimate import Estimate
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedConductivity:
    """One published conductivity, or the low and high end of several.

    `parts` names the materials that stand in for it, by key and loose volume; empty where none does.
    `compared` says whether the difference tells of the rule at all; where it does not, `remark` says why.
    """

    item: str
    parts: tuple[tuple[str, float], ...]
    suction_cm: float
    conductivity_low_cm_h: float
    conductivity_high_cm_h: float
    compared: bool
    remark: str
    how_known: str
    source: str


def saturated_conductivity_cm_h(key: str) -> Estimate | None:
    """Return the conductivity of a material full of water, or None where its key is not in the table. [cm/h]

    The middle is that of the logarithms: the range spans a factor of five to twenty.
    """
    return _alone().get(key)


@cache
def _alone() -> dict[str, Estimate]:
    found = {}
    for row in read_table("materials"):
        low = row.number("saturated_conductivity_low_cm_h")
        high = row.number("saturated_conductivity_high_cm_h")
        found[row["key"]] = Estimate(
            math.sqrt(low * high), low, high, row["conductivity_how_known"], row["conductivity_source"]
        )
    return found


@cache
def published_conductivities() -> tuple[PublishedConductivity, ...]:
    """Return every row, in the order of the table.

    Raises
    ------
    LookupError
        If a row is not in order, or names a part without a volume above 0.
    """
    return tuple(_built(row) for row in read_table("conductivity"))


def _built(row: Row) -> PublishedConductivity:
    low, high = row.number("conductivity_low_cm_h"), row.number("conductivity_high_cm_h")
    if not 0 < low <= high:
        raise row.refused(_("the conductivity must be above 0 and in order"))
    if not row.number("suction_cm") >= 0:
        raise row.refused(_("the suction must be 0 or more"))
    if row["compared"] not in ("yes", "no"):
        raise row.refused(_("compared must be yes or no"))
    parts = tuple(_part(row, text) for text in row.list("parts"))
    if row["compared"] == "yes" and not parts:
        raise row.refused(_("a row that is compared needs the parts that stand in for it"))
    return PublishedConductivity(
        item=row["item"],
        parts=parts,
        suction_cm=row.number("suction_cm"),
        conductivity_low_cm_h=low,
        conductivity_high_cm_h=high,
        compared=row["compared"] == "yes",
        remark=row["remark"],
        how_known=row["how_known"],
        source=row["source"],
    )


def _part(row: Row, text: str) -> tuple[str, float]:
    key, _space, volume = text.partition(" ")
    try:
        share = float(volume) if volume else 1.0
    except ValueError:
        share = 0.0
    if not share > 0:
        raise row.refused(_("the part “{text}” has no volume above 0").format(text=text))
    return key, share
