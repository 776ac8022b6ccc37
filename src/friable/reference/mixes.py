"""Published measurements of mixes, as printed: per cent of volume, g/cm3."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from friable.reference.load import read_table
from friable.reference.row import Row
from friable.wording import gettext as _

LONGEST_MIX = 3  # columns of the table


@dataclass(frozen=True, slots=True)
class MixedIn:
    """A component as printed, its share of loose volume, the material it may be."""

    name: str
    share: Fraction
    material: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedMix:
    """One published mix; None where the part that was read prints no figure."""

    id: str
    series: str
    components: tuple[MixedIn, ...]
    ratio: str
    method: str
    suction_cm: float | None
    total_porosity_pct: float | None
    water_pct: float | None
    air_pct: float | None
    dry_bulk_density_g_cm3: float | None
    particle_density_g_cm3: float | None
    released_10_to_100cm_pct: float | None
    saturated_conductivity_cm_h: float | None
    remark: str
    how_known: str
    source: str
    place: str


@cache
def published_mixes() -> tuple[PublishedMix, ...]:
    """Return every published mix, in the order of the table.

    Raises
    ------
    LookupError
        If the shares of a mix do not sum to 1.
    """
    return tuple(_mix(row) for row in read_table("mixes"))


def _mix(row: Row) -> PublishedMix:
    components = tuple(
        MixedIn(row[f"component_{i}"], Fraction(row[f"share_{i}"]), row[f"material_{i}"])
        for i in range(1, LONGEST_MIX + 1)
        if row[f"component_{i}"] and Fraction(row[f"share_{i}"]) > 0
    )
    if sum(component.share for component in components) != 1:
        raise row.refused(_("the shares do not sum to 1"))
    return PublishedMix(
        id=row["id"],
        series=row["series"],
        components=components,
        ratio=row["ratio"],
        method=row["method"],
        suction_cm=row.maybe("suction_cm"),
        total_porosity_pct=row.maybe("total_porosity_pct"),
        water_pct=row.maybe("water_pct"),
        air_pct=row.maybe("air_pct"),
        dry_bulk_density_g_cm3=row.maybe("dry_bulk_density_g_cm3"),
        particle_density_g_cm3=row.maybe("particle_density_g_cm3"),
        released_10_to_100cm_pct=row.maybe("released_10_to_100cm_pct"),
        saturated_conductivity_cm_h=row.maybe("saturated_conductivity_cm_h"),
        remark=row["remark"],
        how_known=row["how_known"],
        source=row["source"],
        place=row["place"],
    )
