"""How moist a mix should be when it goes into pots."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class MoistureTarget:
    """One target: a share of the wet mass in per cent, hours of rest, or what the hand feels (no figure)."""

    use: str
    quantity: str
    low: float | None
    high: float | None
    unit: str
    statement: str
    how_known: str
    source: str


@cache
def moisture_targets() -> tuple[MoistureTarget, ...]:
    """Return every target, in the order of the table."""
    return tuple(
        MoistureTarget(
            use=row["use"],
            quantity=row["quantity"],
            low=row.maybe("low"),
            high=row.maybe("high"),
            unit=row["unit"],
            statement=row["statement"],
            how_known=row["how_known"],
            source=row["source"],
        )
        for row in read_table("moisture_targets")
    )
