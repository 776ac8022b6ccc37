"""Ranges of air, water and density that sources ask of a medium."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetRange:
    """One range as printed, in `unit`; None where a source gives no such end."""

    id: str
    use: str  # crop or kind of medium
    quantity: str  # our name of the quantity: air_space, container_capacity, ...
    printed_as: str
    low: float | None
    high: float | None
    unit: str
    basis: str
    remark: str
    how_known: str
    source: str


@cache
def target_ranges(quantity: str = "") -> tuple[TargetRange, ...]:
    """Return the target ranges of one quantity, or all.

    Raises
    ------
    LookupError
        If a range has no end at all, or its ends are out of order.
    """
    found = []
    for row in read_table("targets"):
        low, high = row.maybe("low"), row.maybe("high")
        if low is None and high is None:
            raise row.refused(_("the range has no end"))
        if low is not None and high is not None and low > high:
            raise row.refused(_("the range is out of order"))
        found.append(
            TargetRange(
                id=row["id"],
                use=row["use"],
                quantity=row["quantity"],
                printed_as=row["printed_as"],
                low=low,
                high=high,
                unit=row["unit"],
                basis=row["basis"],
                remark=row["remark"],
                how_known=row["how_known"],
                source=row["source"],
            )
        )
    return tuple(target for target in found if not quantity or target.quantity == quantity)
