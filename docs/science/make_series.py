"""Work out the tables of docs/science/series.md: published series beside the flow of water.

    python docs/science/make_series.py

writes the tables between the marks of the page; the words around them are written by hand.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from friable.planning.flow_media import MediumFigures, media
from friable.reference.plant_water import find_plant
from friable.reference.water_series import WaterSeries, find_series
from friable.science.containers import Container
from friable.science.flow.column import column_of
from friable.science.flow.medium import Medium, Uptake, van_genuchten_medium
from friable.science.flow.pot import Pot, Weather
from friable.science.flow.pots import CAREFUL, run_pots

PAGE = Path(__file__).with_name("series.md")
DIAMETER_CM = 10.0  # straight walls: nothing depends on it
DRAWS = 32
QUARTER = 4  # hours are the finest the books keep: conductivity over 4 makes one hour a quarter
SEAL_CM = 1.0  # a sealed base: a layer that lets nothing through
SEAL = van_genuchten_medium(
    saturated=0.3, residual=0.2, alpha_per_cm=1e-5, n=2.0, saturated_conductivity_cm_h=1e-11
)

# The curve that Iden et al. fitted to their sand, from the loss itself and from heads inside the column.
FITTED_SAND = van_genuchten_medium(
    saturated=0.2797,
    residual=0.0448,
    alpha_per_cm=0.0512,
    n=3.294,
    saturated_conductivity_cm_h=3.154,
    connectivity=-0.0692,
)


@dataclass(frozen=True, slots=True)
class Course:
    """What the flow of water says of one medium: hours, and water lost to the air and below. [mm]"""

    lost_mm: NDArray[np.float64]  # at every hour from 0
    drained_mm: NDArray[np.float64]

    def rate_mm_d(self, hour: float) -> float:
        """Loss to the air over the day around an hour, at the start over the first day. [mm/d]"""
        middle = min(max(int(hour), 12), len(self.lost_mm) - 13)
        return float(self.lost_mm[middle + 12] - self.lost_mm[middle - 12])


def courses(
    series: WaterSeries,
    figures: tuple[MediumFigures, ...] | tuple[Medium, ...],
    hours: int,
    slower: float = 1,
    plant: str = "none",
) -> list[Course]:
    """Run the container of a series, full at the start, with each medium."""
    group = find_plant(plant)
    sealed = series.base == "sealed"
    seal_cm = SEAL_CM if sealed else 0.0
    shape = Container(
        shape="round",
        top_length_cm=DIAMETER_CM,
        top_width_cm=DIAMETER_CM,
        bottom_length_cm=DIAMETER_CM,
        bottom_width_cm=DIAMETER_CM,
        height_cm=series.height_cm + seal_cm,
        drainage_layer_cm=seal_cm,
    )
    column = column_of(shape)
    area = float(column.face_area_cm2[0])
    pots = []
    for one in figures:
        medium = one if isinstance(one, Medium) else one.medium
        medium = Medium(medium.water, medium.conductivity_cm_h / slower, medium.suction_cm)
        pots.append(
            Pot(
                column=column,
                media=(medium, SEAL) if sealed else (medium,),
                total_porosity=medium.saturated,
                uptake=Uptake(*group.heads_cm),
                root_depth_share=group.root_depth_share,
                evaporation_cm2=area * group.evaporation_share,
                uptake_cm2=area * (1 - group.evaporation_share),
            )
        )
    demand_cm_h = (series.demand_mm_d or 0.0) / 240
    weather = Weather(np.full(hours, demand_cm_h), np.zeros(hours))
    full = np.tile(shape.height_cm - column.height_cm, (len(pots), 1))
    ran = run_pots(pots, [weather], hours, hourly=True, start_heads_cm=full, solver=CAREFUL)
    if ran.lost or ran.hourly is None:
        raise RuntimeError(f"{series.key}: {ran.lost} of {len(pots)} pots were not brought to the end")
    return [Course(lost_mm=10 * rows[:, 5] / area, drained_mm=10 * rows[:, 3] / area) for rows in ran.hourly]


def range_of(values: list[float]) -> tuple[float, float, float]:
    """Return the figure of the middle medium and the 5th and 95th percentile of the drawn ones."""
    low, high = np.quantile(values[1:], (0.05, 0.95))
    return values[0], float(low), float(high)


# --- greens that drain ---------------------------------------------------------------------------


def drained_in_a_quarter_hour(key: str, draws: int = DRAWS) -> list[float]:
    """Return the share of a day's drainage that leaves in the first 15 minutes, for each medium."""
    series = find_series(key)
    ran = courses(series, media(series.parts, draws=draws), 24 * QUARTER, slower=QUARTER)
    return [float(course.drained_mm[1] / course.drained_mm[-1]) for course in ran]


# --- a sand that dries ---------------------------------------------------------------------------


def published_loss_mm(series: WaterSeries) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the hours of a drying series and the water lost by then, by trapezoids. [mm]"""
    hours = np.array([0.0, *series.hours])
    rates = np.array([series.values[0], *series.values])
    return hours, np.concatenate([[0.0], np.cumsum((rates[1:] + rates[:-1]) / 2 * np.diff(hours) / 24)])


def hour_of_half(hours: NDArray[np.float64], lost_mm: NDArray[np.float64], demand_mm_d: float) -> float:
    """Return the hour from which less than half the demand is lost, by hours of six."""
    grid = np.arange(0.0, hours[-1] - 6)
    rate = (np.interp(grid + 3, hours, lost_mm) - np.interp(grid - 3, hours, lost_mm)) * 4
    return float(grid[np.flatnonzero(rate[3:] < demand_mm_d / 2)[0] + 3])


def sand_that_dries() -> dict[str, list[tuple[float, NDArray[np.float64]]]]:
    """Return the hour of half the demand and the loss by the hour, by what was taken for the sand. [h, mm]

    As published; with the curve its authors fitted; with ours; and with ours filled by no more than the
    published water, as a grower could weigh it.
    """
    series = find_series("iden-sand")
    demand = series.demand_mm_d or 0.0
    hours, lost = published_loss_mm(series)
    ours = media(series.parts, draws=DRAWS)
    weighed = tuple(
        Medium(
            one.medium.water * FITTED_SAND.saturated / one.medium.saturated,
            one.medium.conductivity_cm_h,
            one.medium.suction_cm,
        )
        for one in ours
    )
    grid = np.arange(int(hours[-1]) + 1.0)
    found = {"published": [(hour_of_half(hours, lost, demand), np.interp(grid, hours, lost))]}
    for name, figures in (("fitted", (FITTED_SAND,)), ("ours", ours), ("weighed", weighed)):
        found[name] = [
            (hour_of_half(grid, course.lost_mm, demand), course.lost_mm)
            for course in courses(series, figures, int(grid[-1]))
        ]
    return found


# --- trays that dry ------------------------------------------------------------------------------

DAYS_OF_TRAYS = 28
MEAN_LOSS_MM_D = {"poe-spring": (0.6, 1.0), "poe-summer": (0.7, 1.25)}  # Poë et al. 2015: over the nine


def trays_that_dry(key: str, plant: str = "none") -> list[Course]:
    """Return the course of the trays over four weeks, for each medium."""
    series = find_series(key)
    return courses(series, media(series.parts, draws=DRAWS), 24 * DAYS_OF_TRAYS, plant=plant)


# --- the page ------------------------------------------------------------------------------------


def tables() -> str:
    """Return the tables of the page."""
    lines = ["| drains in 15 minutes, of a day's drainage | published | here |", "|---|---|---|"]
    for key in ("waltz-sand", "waltz-peat"):
        series = find_series(key)
        lines.append(
            f"| {series.medium}, 30 cm | {_share(series.values[0])} "
            f"| {_with_range(range_of(drained_in_a_quarter_hour(key)), _share)} |"
        )
    found = sand_that_dries()
    lines += [
        "",
        "| sand, 10 cm, demand 7.3 mm a day | loss halves after | lost by 72 h | by 168 h | by 333 h |",
        "|---|---|---|---|---|",
    ]
    for name, said in (
        ("published", "published"),
        ("fitted", "the curve its authors fitted"),
        ("ours", "fine sand of our table"),
        ("weighed", "the same, filled with the published water"),
    ):
        halves = [half for half, _lost in found[name]]
        losses = [[float(lost[hour]) for _half, lost in found[name]] for hour in (72, 168, 333)]
        lines.append(
            f"| {said} | {_said(halves, _hours)} | {' | '.join(_said(loss, _mm) for loss in losses)} |"
        )
    lines += [
        "",
        "| trays, 8 cm | start | after 7 days | after 14 days | mean of 28 days |",
        "|---|---|---|---|---|",
    ]
    for key, climate in (("poe-spring", "spring"), ("poe-summer", "summer")):
        series = find_series(key)
        low, high = MEAN_LOSS_MM_D[key]
        given = " | ".join(f"{value:.1f}" for value in series.values)
        lines.append(f"| {climate}, published, mm a day | {given} | {low} to {high} |")
        for plant, said in (("none", "bare"), ("succulents", "with stonecrop")):
            ran = trays_that_dry(key, plant)
            rates = [[course.rate_mm_d(hour) for course in ran] for hour in series.hours]
            mean = [float(course.lost_mm[-1]) / DAYS_OF_TRAYS for course in ran]
            cells = " | ".join(_said(rate, _rate) for rate in rates)
            lines.append(f"| {climate}, here, {said} | {cells} | {_said(mean, _rate)} |")
    return "\n".join(lines)


def _said(values: list[float], written: Callable[[float], str]) -> str:
    return written(values[0]) if len(values) == 1 else _with_range(range_of(values), written)


def _with_range(middle_low_high: tuple[float, float, float], written: Callable[[float], str]) -> str:
    middle, low, high = (written(value) for value in middle_low_high)
    return middle if low == middle == high else f"{middle} ({low} to {high})"


def _share(value: float) -> str:
    return f"{100 * value:.0f} %"


def _hours(value: float) -> str:
    return f"{value:.0f} h"


def _mm(value: float) -> str:
    return f"{value:.1f} mm"


def _rate(value: float) -> str:
    return f"{value:.1f}" if value >= 0.3 else f"{value:.2f}"


BEGIN, END = "<!-- made by make_series.py -->", "<!-- end -->"


def with_tables(page: str) -> str:
    """Return the page with its tables worked out anew."""
    before, _begin, rest = page.partition(BEGIN)
    return f"{before}{BEGIN}\n\n{tables()}\n\n{END}{rest.partition(END)[2]}"


if __name__ == "__main__":
    PAGE.write_text(with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
