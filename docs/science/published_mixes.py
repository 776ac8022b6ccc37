"""Published mixes, each rebuilt from what was published of its parts, beside forecast and plain average."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

from friable.planning.forecast import forecast
from friable.planning.forecast_values import Forecast
from friable.reference.materials import Material, find_material
from friable.reference.mix_cases import MixCase, PartFigures, published_mix_cases
from friable.science.containers import Container
from friable.science.drainage import drained_column
from friable.science.ingredient import Ingredient
from friable.science.retention import saturation

USUAL_CORE_CM = 7.6  # height of a porometer core; taken where a source gives none
WITHIN = 0.05  # "within 5 points"
ALPHA = 0.10  # 1 - 0.90, of the interval score
QUANTITIES = {
    "total_porosity": "pores",
    "air_space": "air",
    "container_capacity": "water",
    "dry_bulk_density_g_cm3": "dry density, g/cm3",
}
# Parts that a laboratory names in its own words, and the material whose sizes and curve shape stand in.
STANDS_IN = {"compost": "GWC", "peat-lite": "PEAT_M"}
# Coir pith of this laboratory is so much drier than the tabulated one that inner pores must shift as well.
BOTH_FAMILIES_SHIFT = {"COIR_P"}


@dataclass(frozen=True, slots=True)
class Check:
    """One published figure beside the forecast and the plain average, each with its 5 to 95 % range."""

    case: str
    quantity: str
    measured: float
    forecast: float
    forecast_low: float
    forecast_high: float
    plain: float
    plain_low: float
    plain_high: float
    use: str
    source: str

    def interval(self, whose: str) -> tuple[float, float, float]:
        """Return value, low and high of "forecast" or "plain"."""
        if whose == "forecast":
            return self.forecast, self.forecast_low, self.forecast_high
        return self.plain, self.plain_low, self.plain_high


def core(height_cm: float) -> Container:
    """A straight round core."""
    across = {f"{end}_{side}_cm": 7.6 for end in ("top", "bottom") for side in ("length", "width")}
    return Container(shape="round", height_cm=height_cm, **across)


# --- parts as their laboratory measured them ------------------------------------------------------


@cache
def laboratory_parts(name: str) -> dict[str, Material]:
    """Return the parts of the laboratory that published them, by its own names for them."""
    figures = {
        part.part: part
        for case in published_mix_cases()
        for part in case.part_figures
        if laboratory_of(case) == name
    }
    return {part: as_measured(figure) for part, figure in figures.items()}


def laboratory_of(case: MixCase) -> str:
    """Return which laboratory's parts a case is made of."""
    names = {part.part for part in case.part_figures}
    if names & {"compost", "peat-lite"}:
        return "seedling-laboratory"
    if case.source == "colombia":
        return "cut-flower-laboratory"
    return "porometer-laboratory" if names else "tables"


def as_measured(figures: PartFigures) -> Material:
    """Return a tabulated material with the pores, water and density that one laboratory found.

    Voids between grains, sizes, lambda and both n stay; pores inside grains make up the total porosity, and
    the outer alpha is solved so that a drained 7.6 cm core holds the water given. The table's ranges move
    along on the log-odds (density: in proportion): the lots in the mixes are not the lots that were measured.
    """
    key = STANDS_IN.get(figures.part, figures.part)
    material = find_material(key)
    old = material.physics
    inner = (figures.total_porosity - old.void_fraction) / (1 - old.void_fraction)
    new = replace(old, internal_porosity=inner)
    if figures.container_capacity is not None:
        new = solved(new, figures.container_capacity, both=key in BOTH_FAMILIES_SHIFT)
    heavier = figures.dry_bulk_density_g_cm3 / old.dry_bulk_density_g_cm3
    pores = log_odds(new.total_porosity) - log_odds(old.total_porosity)
    at_10cm = log_odds(float(water_at(new, 10.0))) - log_odds(float(water_at(old, 10.0)))
    new = replace(
        new,
        dry_bulk_density_g_cm3=figures.dry_bulk_density_g_cm3,
        dry_bulk_density_low_g_cm3=heavier * material.dry_bulk_density_g_cm3.low,
        dry_bulk_density_high_g_cm3=heavier * material.dry_bulk_density_g_cm3.high,
        total_porosity_low=moved(old.total_porosity_low, pores),
        total_porosity_high=moved(old.total_porosity_high, pores),
        water_at_10cm_low=moved(old.water_at_10cm_low, at_10cm),
        water_at_10cm_high=moved(old.water_at_10cm_high, at_10cm),
    )
    return replace(material, physics=new)


def solved(part: Ingredient, capacity: float, *, both: bool) -> Ingredient:
    """Return the part with its outer alpha (or both) such that a drained 7.6 cm core holds `capacity`."""
    column = drained_column(core(USUAL_CORE_CM))

    def scaled(by: float) -> Ingredient:
        return replace(
            part,
            alpha_ext_per_cm=by * part.alpha_ext_per_cm,
            alpha_int_per_cm=(by if both else 1) * part.alpha_int_per_cm,
        )

    def excess(log_by: float) -> float:
        return float(water_at(scaled(math.exp(log_by)), column.suctions_cm) @ column.weights) - capacity

    return scaled(math.exp(brentq(excess, -9, 9, xtol=1e-12)))


def water_at(part: Ingredient, suction_cm: ArrayLike) -> NDArray[np.float64]:
    """Water content of one material alone."""
    outer = saturation(suction_cm, part.alpha_ext_per_cm, part.n_ext)
    inner = saturation(suction_cm, part.alpha_int_per_cm, part.n_int)
    return part.void_fraction * outer + (1 - part.void_fraction) * part.internal_porosity * inner


def log_odds(share: float) -> float:
    """Return ln(x / (1 - x))."""
    return math.log(share / (1 - share))


def moved(share: float | None, by: float) -> float | None:
    """Shift a share on its log-odds, if it is known."""
    if share is None:
        return None
    return 1 / (1 + math.exp(-(log_odds(share) + by)))


# --- the checks ----------------------------------------------------------------------------------


def checks() -> Iterator[Check]:
    """Work out every published figure that can be rebuilt."""
    for case in published_mix_cases():
        if case.quantity not in QUANTITIES:
            continue  # water released from 10 to 100 cm: the level of the parts' curves is not published
        found = forecast_of(case)
        rule, plain = (getattr(figures, case.quantity) for figures in (found, found.plain_average))
        yield Check(
            case=case.case,
            quantity=case.quantity,
            measured=case.value,
            forecast=rule.value,
            forecast_low=rule.low,
            forecast_high=rule.high,
            plain=plain.value,
            plain_low=plain.low,
            plain_high=plain.high,
            use="held out" if case.held_out else "tuned on",
            source=case.source,
        )


def forecast_of(case: MixCase) -> Forecast:
    """Forecast the mix of a case in the column that it was measured in."""
    return _forecast(case.parts, laboratory_of(case), case.column_height_cm or USUAL_CORE_CM)


@cache
def _forecast(parts: tuple[tuple[str, float], ...], laboratory: str, height_cm: float) -> Forecast:
    own = laboratory_parts(laboratory) if laboratory != "tables" else {}
    return forecast([(own.get(name) or find_material(name), share) for name, share in parts], core(height_cm))


# --- totals --------------------------------------------------------------------------------------


def interval_score(measured: float, low: float, high: float, alpha: float = ALPHA) -> float:
    """Width plus 2/alpha times the distance by which it misses (Gneiting and Raftery 2007)."""
    return (high - low) + 2 / alpha * (max(0.0, low - measured) + max(0.0, measured - high))


@dataclass(frozen=True, slots=True)
class Total:
    """How one of the two did on a set of figures."""

    figures: int
    within: int  # 5 points; not counted for density
    root_mean_square: float
    held: int  # measured figure inside the range
    mean_width: float
    mean_score: float


def total(rows: Iterable[Check], whose: str) -> Total:
    """Sum up "forecast" or "plain" over some checks."""
    rows = list(rows)
    errors = [row.interval(whose)[0] - row.measured for row in rows]
    spans = [row.interval(whose)[1:] for row in rows]
    return Total(
        figures=len(rows),
        within=sum(abs(error) <= WITHIN + 1e-9 for error in errors),
        root_mean_square=math.sqrt(sum(error**2 for error in errors) / len(rows)),
        held=sum(low <= row.measured <= high for row, (low, high) in zip(rows, spans, strict=True)),
        mean_width=sum(high - low for low, high in spans) / len(rows),
        mean_score=sum(interval_score(row.measured, *span) for row, span in zip(rows, spans, strict=True))
        / len(rows),
    )


def some(rows: Iterable[Check], quantity: str, use: str | None = None) -> list[Check]:
    """Pick the checks of one quantity."""
    return [row for row in rows if row.quantity == quantity and use in (None, row.use)]
