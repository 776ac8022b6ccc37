"""What sources say of mixing, thresholds and the shape of pots, where they give no table."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One statement in our words, with its figure if it has one, in `unit`."""

    id: str
    topic: str
    statement: str
    low: float | None
    high: float | None
    unit: str
    how_known: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PotStatement:
    """What a source says of one medium in one container, in per cent of volume as printed."""

    id: str
    container: str
    medium: str
    heights_cm: tuple[float, ...]
    total_porosity_pct: float | None
    water_pct: float | None
    air_pct: float | None
    water_change_pct: float | None  # from the lowest to the tallest height, relative
    statement: str
    how_known: str
    source: str


@cache
def published_statements(topic: str = "") -> tuple[Statement, ...]:
    """Return the statements on one topic, or all."""
    return tuple(
        Statement(
            id=row["id"],
            topic=row["topic"],
            statement=row["statement"],
            low=row.maybe("low"),
            high=row.maybe("high"),
            unit=row["unit"],
            how_known=row["how_known"],
            source=row["source"],
        )
        for row in read_table("statements")
        if not topic or row["topic"] == topic
    )


@cache
def pot_statements() -> tuple[PotStatement, ...]:
    """Return what sources say of containers and test cores."""
    return tuple(
        PotStatement(
            id=row["id"],
            container=row["container"],
            medium=row["medium"],
            heights_cm=tuple(float(height) for height in row.list("heights_cm")),
            total_porosity_pct=row.maybe("total_porosity_pct"),
            water_pct=row.maybe("water_pct"),
            air_pct=row.maybe("air_pct"),
            water_change_pct=row.maybe("water_change_pct"),
            statement=row["statement"],
            how_known=row["how_known"],
            source=row["source"],
        )
        for row in read_table("geometry")
    )
