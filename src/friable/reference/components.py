"""Published measurements of single materials, as printed: per cent of volume, g/cm3."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.reference.row import Row
from friable.wording import gettext as _

OpenSpan = tuple[float | None, float | None]  # a limit: only one end is printed


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedComponent:
    """One published measurement. Figures may disagree among themselves: then `remark` says so."""

    id: str
    name: str
    grade: str
    material: str  # key of the material it can be compared with; empty: none
    method: str
    core_height_cm: float | None
    suction_kpa: float | None
    total_porosity_pct: OpenSpan
    water_pct: OpenSpan
    water_printed_as: str
    air_pct: OpenSpan
    dry_bulk_density_g_cm3: OpenSpan
    particle_density_g_cm3: OpenSpan
    easily_available_water_pct: OpenSpan
    released_10_to_100cm_pct: OpenSpan
    internal_porosity_pct: OpenSpan
    saturated_conductivity_cm_h: float | None
    remark: str
    how_known: str
    source: str
    place: str


@cache
def published_components() -> tuple[PublishedComponent, ...]:
    """Return every published measurement of a material, in the order of the table.

    Raises
    ------
    LookupError
        If a range is out of order or a figure is negative.
    """
    return tuple(_component(row) for row in read_table("components"))


def _component(row: Row) -> PublishedComponent:
    return PublishedComponent(
        id=row["id"],
        name=row["name"],
        grade=row["grade"],
        material=row["material"],
        method=row["method"],
        core_height_cm=row.maybe("core_height_cm"),
        suction_kpa=row.maybe("suction_kpa"),
        total_porosity_pct=_span(row, "total_porosity", "_pct"),
        water_pct=_span(row, "water", "_pct"),
        water_printed_as=row["water_printed_as"],
        air_pct=_span(row, "air", "_pct"),
        dry_bulk_density_g_cm3=_span(row, "dry_bulk_density", "_g_cm3"),
        particle_density_g_cm3=_span(row, "particle_density", "_g_cm3"),
        easily_available_water_pct=_span(row, "easily_available_water", "_pct"),
        released_10_to_100cm_pct=_span(row, "released_10_to_100cm", "_pct"),
        internal_porosity_pct=_span(row, "internal_porosity", "_pct"),
        saturated_conductivity_cm_h=row.maybe("saturated_conductivity_cm_h"),
        remark=row["remark"],
        how_known=row["how_known"],
        source=row["source"],
        place=row["place"],
    )


def _span(row: Row, quantity: str, unit: str) -> OpenSpan:
    low, high = row.maybe(f"{quantity}_low{unit}"), row.maybe(f"{quantity}_high{unit}")
    if low is not None and low < 0:
        raise row.refused(_("{quantity} is negative").format(quantity=quantity))
    if low is not None and high is not None and low > high:
        raise row.refused(_("the range of {quantity} is out of order").format(quantity=quantity))
    return low, high
