"""The pots of the comparison as the solvers of the package take them."""

from collections.abc import Callable

import numpy as np
from flow_cases import (
    BOTTOM_RADIUS_CM,
    CELLS,
    DOSE_CM,
    FROM_SURFACE,
    HEIGHT_CM,
    POURED_IN_HOURS,
    ROOTS_CM,
    TOP_CM2,
    TOP_RADIUS_CM,
    WATERED_AT_HOUR,
    Media,
)

from friable.science.containers import Container
from friable.science.flow.column import Column, column_of
from friable.science.flow.medium import STEPS, Uptake, van_genuchten_medium
from friable.science.flow.pot import CALENDAR, Pot, Watering, Weather
from friable.science.flow.pots import PotRuns, run_pots

FINE_STEPS = 1024  # in a doubling: a table of 17,409 nodes
REFERENCE_TOLERANCE = 2e-5


def container() -> Container:
    """Return the pot of the comparison."""
    return Container(
        shape="round",
        top_length_cm=2 * TOP_RADIUS_CM,
        top_width_cm=2 * TOP_RADIUS_CM,
        bottom_length_cm=2 * BOTTOM_RADIUS_CM,
        bottom_width_cm=2 * BOTTOM_RADIUS_CM,
        height_cm=HEIGHT_CM,
    )


def pots_of(media: Media, column: Column, steps: int = STEPS) -> list[Pot]:
    """Return a pot for each medium."""
    watered = Watering(
        by=CALENDAR,
        at_hour=WATERED_AT_HOUR,
        dose_cm3=DOSE_CM * TOP_CM2,
        rate_cm3_h=DOSE_CM * TOP_CM2 / POURED_IN_HOURS,
    )
    return [
        Pot(
            column=column,
            media=(
                van_genuchten_medium(
                    saturated=float(media.saturated[i]),
                    residual=float(media.residual[i]),
                    alpha_per_cm=float(media.alpha_per_cm[i]),
                    n=float(media.n[i]),
                    saturated_conductivity_cm_h=float(media.conductivity_cm_h[i]),
                    steps=steps,
                ),
            ),
            total_porosity=float(media.saturated[i]),
            uptake=Uptake(*ROOTS_CM),
            evaporation_cm2=FROM_SURFACE * TOP_CM2,
            uptake_cm2=(1 - FROM_SURFACE) * TOP_CM2,
            watering=watered,
            rim_cm=50.0,
        )
        for i in range(len(media))
    ]


def even_column(cells: int = CELLS) -> Column:
    """Return the pot in even cells."""
    return column_of(container(), cells=cells, top_cell_cm=None)


def weather_of(wanted_cm_h: np.ndarray) -> Weather:
    """Return weather without rain."""
    return Weather(reference_cm=wanted_cm_h, rain_cm=np.zeros_like(wanted_cm_h))


def reference_run(media: Media, wanted_cm_h: np.ndarray, column: Column | None = None) -> PotRuns:
    """Run the careful solver at a tolerance of 2e-5 with a fine table."""
    return run_pots(
        pots_of(media, column or even_column(), FINE_STEPS),
        [weather_of(wanted_cm_h)],
        len(wanted_cm_h),
        hourly=True,
        tolerance=REFERENCE_TOLERANCE,
        solver="careful",
        steps=FINE_STEPS,
    )


def stored_cm3(runs: PotRuns) -> np.ndarray:
    """Return water stored at every hour, NaN for pots that did not come to their end. (pots, hours + 1)"""
    if runs.hourly is None:
        raise ValueError("the run kept no hours")
    stored = runs.hourly[:, :, 0].copy()
    stored[runs.state[:, -1] > 0] = np.nan
    return stored


def medians_of(work: Callable[[], object], times: int, clock: Callable[[], float]) -> float:
    """Return the median time of several runs."""
    taken = []
    for _time in range(times):
        begun = clock()
        work()
        taken.append(clock() - begun)
    return float(np.median(taken))
