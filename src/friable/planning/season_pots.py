"""The pots of one block of a season, and what became of them each day."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.flow_pot import column_for
from friable.planning.season_plan import SeasonPlan
from friable.science.flow.medium import Medium
from friable.science.flow.pot import Pot, Repelling, Weather

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

CM3_PER_L = 1000.0
TENTHS = 10  # of an hour: hours of a day fit one byte


@dataclass(frozen=True, slots=True, eq=False)
class Daily:
    """What a solver returns. Shapes (pots, days); volumes in cm3, of the whole pot.

    `watered` is what was poured and what was drawn up from below; `ran_through` what left by the holes, over
    the rim or past the medium.
    """

    watered: "Array"
    ran_through: "Array"
    hours_wet: "Array"
    hours_dry: "Array"
    waterings: "Array"
    handed_over: int  # pots that the fast solver gave to the careful one
    lost: int  # pots that neither could bring to the end


Solve = Callable[[Sequence[Pot], Sequence[Weather], int], Daily]


@dataclass(frozen=True, slots=True, eq=False)
class BlockWork:
    """All that a worker needs for one block."""

    number: int
    plan_mark: str
    pots: tuple[Pot, ...]
    weathers: tuple[Weather, ...]
    hours: int


@dataclass(frozen=True, slots=True, eq=False)
class BlockResult:
    """What is kept of one block: shapes (pots, days) but for `ran_through_cm3` (pots).

    `watered_cm3` in single precision, hours in tenths.
    """

    number: int
    plan_mark: str
    watered_cm3: "NDArray[np.float32]"
    ran_through_cm3: "NDArray[np.float32]"
    wet_tenths: "NDArray[np.uint8]"
    dry_tenths: "NDArray[np.uint8]"
    waterings: "NDArray[np.uint8]"
    handed_over: int
    lost: int


def block_work(plan: SeasonPlan, block: int) -> BlockWork:
    """Return one block of a plan as pots and weathers."""
    places: dict[tuple[int, int], int] = {}
    weathers: list[Weather] = []
    media: dict[tuple[int, int], Medium] = {}
    layers: dict[int, Medium] = {}
    pots = []
    for number in plan.pots_of(block):
        k, w, d = plan.member_of(number)
        kind = plan.kinds[k]
        at = (kind.weather, w)
        if at not in places:
            places[at] = len(weathers)
            weathers.append(Weather(plan.reference_cm[at], plan.rain_cm[at], plan.starts_on.weekday()))
        if (kind.medium, d) not in media:
            media[kind.medium, d] = Medium(
                water=plan.water[kind.medium, d], conductivity_cm_h=plan.conductivity_cm_h[kind.medium, d]
            )
        of_pot = [media[kind.medium, d]]
        layer = kind.layers[d % 2]
        if layer >= 0:
            if layer not in layers:
                layers[layer] = Medium(
                    water=plan.layer_water[layer], conductivity_cm_h=plan.layer_conductivity_cm_h[layer]
                )
            of_pot.append(layers[layer])
        pots.append(_pot(plan, k, d, places[at], tuple(of_pot)))
    return BlockWork(block, plan.mark, tuple(pots), tuple(weathers), plan.hours)


def run_block(work: BlockWork, solve: Solve | None = None) -> BlockResult:
    """Run the pots of one block. The same work gives the same result, wherever it is done.

    Parameters
    ----------
    work : BlockWork
    solve : callable, optional
        From pots, weathers and hours to `Daily`; by default the flow of water, `solve_flow`.
    """
    daily = (solve or solve_flow)(work.pots, work.weathers, work.hours)
    return BlockResult(
        number=work.number,
        plan_mark=work.plan_mark,
        watered_cm3=daily.watered.astype(np.float32),
        ran_through_cm3=daily.ran_through.sum(axis=1).astype(np.float32),
        wet_tenths=np.rint(TENTHS * daily.hours_wet).astype(np.uint8),
        dry_tenths=np.rint(TENTHS * daily.hours_dry).astype(np.uint8),
        waterings=np.minimum(daily.waterings, 255).astype(np.uint8),
        handed_over=daily.handed_over,
        lost=daily.lost,
    )


def solve_flow(pots: Sequence[Pot], weathers: Sequence[Weather], hours: int) -> Daily:
    """Run the pots by the flow of water through them.

    In single precision: figures of a season are as near to those of a ten times smaller tolerance as in
    double precision, docs/science/season.md. Balances are kept in double either way.
    """
    from friable.science.flow.layout import DAILY
    from friable.science.flow.pots import SINGLE, run_pots

    runs = run_pots(pots, weathers, hours, precision=SINGLE)
    day = {name: runs.daily[:, :, place] for place, name in enumerate(DAILY)}
    return Daily(
        watered=day["watered"] + day["drawn_up"],
        ran_through=day["ran_through"],
        hours_wet=day["hours_wet"],
        hours_dry=day["hours_dry"],
        waterings=day["waterings"],
        handed_over=runs.handed_over,
        lost=runs.lost,
    )


def _pot(plan: SeasonPlan, number: int, draw: int, weather: int, media: tuple[Medium, ...]) -> Pot:
    kind = plan.kinds[number]
    broken_films = len(media) > 1 and draw % 2 == 0
    evaporation_cm2, uptake_cm2 = (float(wanted) for wanted in plan.wanted_cm2[number, draw])
    below, until, run_past = (float(x) for x in plan.repels[number, draw])
    return Pot(
        column=column_for(kind.container),
        media=media,
        total_porosity=float(plan.total_porosity[kind.medium, draw]),
        uptake=kind.uptake,
        root_depth_share=kind.root_depth_share,
        evaporation_cm2=evaporation_cm2,
        uptake_cm2=uptake_cm2,
        rain_cm2=kind.rain_cm2,
        base=kind.base,
        watering=kind.rule,
        entry_suction_cm=kind.entry_suction_cm if broken_films else None,
        repelling=Repelling(below=below, until=until, run_past=run_past) if below < until else None,
        rim_cm=kind.rim_cm,
        weather=weather,
        air_limit=kind.air_limit,
        too_dry_share=plan.too_dry_share,
    )
