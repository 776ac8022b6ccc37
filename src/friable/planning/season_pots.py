"""The pots of one block of a season, and what became of them each day."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.collection_values import EVERY_DAYS, ON_NEED
from friable.planning.season_plan import PlannedKind, SeasonPlan
from friable.planning.watering_text import FLOOD, MAT, SAUCER, STANDING
from friable.science.flow.column import Column, column_of
from friable.science.flow.medium import Medium, Uptake
from friable.science.flow.pot import CALENDAR, HELD, NEED, Base, Pot, Repelling, Watering, Weather
from friable.science.flow.pot import NOBODY as BY_NOBODY
from friable.science.flow.pot import OPEN as OPEN_HOLES
from friable.science.flow.pot import SAUCER as IN_SAUCER

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

MORNING = 8
WATERED_BY_HAND_L_H = 300.0
CM3_PER_L = 1000.0
SAUCER_OF_TOP = 1.0  # area of a saucer, of the top of its pot
TENTHS = 10  # of an hour: hours of a day fit one byte
LEAST_RIM_CM = 0.0


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
    columns: dict[int, Column] = {}
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
        column = columns.setdefault(k, column_of(kind.container))
        medium = media.get((kind.medium, d))
        if medium is None:
            medium = media[kind.medium, d] = Medium(
                water=plan.water[kind.medium, d], conductivity_cm_h=plan.conductivity_cm_h[kind.medium, d]
            )
        under: tuple[Medium, ...] = ()
        if kind.layer >= 0:
            if kind.layer not in layers:
                layers[kind.layer] = Medium(
                    water=plan.layer_water[kind.layer],
                    conductivity_cm_h=plan.layer_conductivity_cm_h[kind.layer],
                )
            under = (layers[kind.layer],)
        pots.append(_pot(plan, k, d, places[at], column, (medium, *under)))
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
    """Run the pots by the flow of water through them."""
    from friable.science.flow.layout import DAILY
    from friable.science.flow.pots import run_pots

    runs = run_pots(pots, weathers, hours)
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


def _pot(
    plan: SeasonPlan, number: int, draw: int, weather: int, column: Column, media: tuple[Medium, ...]
) -> Pot:
    kind = plan.kinds[number]
    top_cm2 = float(column.face_area_cm2[0])
    wanted_cm2 = float(plan.uses[number, draw] * plan.reference_factor[kind.weather, draw]) * top_cm2
    wet, easy, hard, wilting = kind.heads_cm
    return Pot(
        column=column,
        media=media,
        total_porosity=float(plan.total_porosity[kind.medium, draw]),
        uptake=Uptake(wet, max(easy, wet + 1e-3), hard, wilting),
        root_depth_share=kind.root_depth_share,
        evaporation_cm2=kind.evaporation_share * wanted_cm2,
        uptake_cm2=(1 - kind.evaporation_share) * wanted_cm2,
        rain_cm2=top_cm2,
        base=_base(kind, top_cm2),
        watering=_watering(kind),
        # Films into a layer are broken in every other draw, continuous in the rest: the two bounding cases.
        entry_suction_cm=kind.entry_suction_cm if kind.layer >= 0 and draw % 2 == 0 else None,
        repelling=_repelling(kind, media[0], float(plan.run_past[number, draw])),
        rim_cm=max(LEAST_RIM_CM, kind.container.headspace_cm),
        weather=weather,
        air_limit=kind.air_limit,
        too_dry_share=plan.too_dry_share,
    )


def _base(kind: PlannedKind, top_cm2: float) -> Base:
    base = kind.habit.base
    if base.kind == STANDING:
        return Base(kind=HELD, head_cm=base.depth_cm)
    if base.kind == MAT:
        return Base(kind=HELD, head_cm=-base.depth_cm)
    if base.kind == SAUCER:
        return Base(
            kind=IN_SAUCER, saucer_area_cm2=SAUCER_OF_TOP * top_cm2, saucer_cm3=CM3_PER_L * base.saucer_l
        )
    return Base(kind=OPEN_HOLES)


def _watering(kind: PlannedKind) -> Watering:
    habit = kind.habit
    flooding = habit.base.kind == FLOOD
    return Watering(
        by={EVERY_DAYS: CALENDAR, ON_NEED: NEED}.get(habit.by, BY_NOBODY),
        at_hour=MORNING,
        every_days=habit.every_days,
        used_share=kind.used_share,
        rate_cm3_h=CM3_PER_L * WATERED_BY_HAND_L_H,
        flood_cm=habit.base.depth_cm if flooding else None,
        flood_hours=habit.base.hours if flooding else 0.25,
    )


def _repelling(kind: PlannedKind, medium: Medium, run_past: float) -> Repelling | None:
    if not kind.repels_from_cm > 0 or not run_past > 0:
        return None
    below, until = medium.water_at(np.array([kind.repels_from_cm, kind.repels_until_cm]))
    return Repelling(below=float(below), until=float(until), run_past=run_past) if below < until else None
