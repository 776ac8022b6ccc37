"""From a collection and its weather to the plan of a season."""

import hashlib
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity, FriableError, Refused
from friable.planning.collection_values import (
    EVERY_DAYS,
    ON_NEED,
    Collection,
    Kind,
    mix_facts,
)
from friable.planning.flow_pot import (
    BROKEN,
    CONTINUOUS,
    MORNING,
    POURED_BY_HAND_CM3_H,
    PotSetting,
    pot_of,
)
from friable.planning.season_draws import drawn, drawn_share
from friable.planning.season_inputs import Layers, Media, Places
from friable.planning.season_plan import PlannedKind, PlannedLine, SeasonPlan
from friable.planning.season_said import habit_said, place_said
from friable.reference.rewetting import MixedRewetting, mixed_rewetting
from friable.reference.watering_work import (
    TIME_FOR_A_LITRE,
    TIME_FOR_A_POT,
    TIME_TO_LOOK,
    too_dry_day_hours,
    too_dry_share,
    too_wet_day_hours,
    used_share,
    watering_time_s,
)
from friable.science.flow.pot import CALENDAR, NEED, Pot, Watering
from friable.science.flow.pot import NOBODY as BY_NOBODY
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.climate import Climate

    Array = NDArray[np.float64]

USUAL_DRAWS = 16
MOST_DRAWS, MOST_WEATHERS = 256, 50
MOST_SUMS = 200_000  # groups times weathers times draws: what is added up at once
POT_DAYS_IN_BLOCK = 36_000
SIDE_BY_SIDE = 16


def plan_season(
    collection: Collection,
    climates: "Sequence[Climate]",
    *,
    draws: int = USUAL_DRAWS,
    name: str = "",
    way: str = "hose",
    block_pots: int | None = None,
) -> SeasonPlan:
    """Plan a season of a collection.

    Parameters
    ----------
    collection : Collection
    climates : sequence of Climate
        One for each weather, over the same days; see `friable.planning.weather_variants`.
    draws : int
        How often the ranges of media, plants, weather and work are drawn.
    name : str
        What to call it.
    way : str
        How pots are watered by hand: “hose” or “can”.
    block_pots : int, optional
        Pots that are run at once; by default about two seconds of work. It changes no number.

    Raises
    ------
    BadQuantity
        If draws, weathers or groups are out of range.
    Refused
        If the climates differ in their days, or a pot stands outdoors and the weather is that of a house.
    """
    _check(collection, climates, draws)
    places = Places(collection, climates)
    mixes, layers = Media(draws), Layers()
    kinds, wanted, repels = [], [], []
    for number, kind in enumerate(collection.kinds):
        try:
            planned, pots = _planned(kind, mixes, layers, places, number)
        except FriableError as problem:
            line = next(line.number for line in collection.lines if line.kind == number)
            raise Refused(
                _("Line {line} of the collection: {problem}").format(line=line, problem=problem)
            ) from None
        kinds.append(planned)
        wanted.append([(pot.evaporation_cm2, pot.uptake_cm2) for pot in pots])
        repels.append([_repels(pot) for pot in pots])
    first = climates[0]
    return SeasonPlan(
        name=name or _("Season of {climate}").format(climate=first.name),
        climate=first.name,
        climate_mark=_climate_mark(climates),
        starts_on=first.starts_on,
        weathers=len(climates),
        draws=draws,
        groups=collection.groups,
        lines=_lines(collection),
        kinds=tuple(kinds),
        way=way,
        too_dry_share=too_dry_share().value,
        too_wet_day_hours=too_wet_day_hours().value,
        too_dry_day_hours=too_dry_day_hours().value,
        block_pots=block_pots or _block_pots(first.days),
        reference_cm=places.reference_cm(),
        rain_cm=places.rain_cm(),
        water=np.stack(mixes.water),
        conductivity_cm_h=np.stack(mixes.conductivity_cm_h),
        total_porosity=np.stack(mixes.total_porosity),
        layer_water=np.array(layers.water),
        layer_conductivity_cm_h=np.array(layers.conductivity_cm_h),
        wanted_cm2=np.array(wanted),
        repels=np.array(repels),
        work_s=_work_s(way, draws),
    )


def _check(collection: Collection, climates: "Sequence[Climate]", draws: int) -> None:
    for said, value, most in (
        (_("number of weathers"), len(climates), MOST_WEATHERS),
        (_("number of draws"), draws, MOST_DRAWS),
    ):
        if not 1 <= value <= most:
            raise BadQuantity(said, value, "", _("from 1 to {most}").format(most=most))
    sums = len(collection.groups) * len(climates) * draws
    if sums > MOST_SUMS:
        raise BadQuantity(
            _("groups times weathers times draws"),
            sums,
            "",
            _("at most {most}").format(most=f"{MOST_SUMS:,}"),
            _("Take fewer draws, or put groups together."),
        )
    if len({(climate.starts_on, climate.hours) for climate in climates}) > 1:
        raise Refused(_("The weathers of a season must all cover the same days."))


def _climate_mark(climates: "Sequence[Climate]") -> str:
    digest = hashlib.sha256()
    for climate in climates:
        digest.update(np.ascontiguousarray(climate.reference_mm).tobytes())
        digest.update(np.ascontiguousarray(climate.rain_at_plants_mm).tobytes())
    return digest.hexdigest()[:16]


def _block_pots(days: int) -> int:
    return max(1, round(POT_DAYS_IN_BLOCK / days / SIDE_BY_SIDE)) * SIDE_BY_SIDE


def _lines(collection: Collection) -> tuple[PlannedLine, ...]:
    place = {name: number for number, name in enumerate(collection.groups)}
    counts: dict[tuple[int, int], int] = {}
    for line in collection.lines:
        key = place[line.group], line.kind
        counts[key] = counts.get(key, 0) + line.count
    return tuple(PlannedLine(group, kind, count) for (group, kind), count in counts.items())


def _planned(
    kind: Kind, mixes: Media, layers: Layers, places: Places, number: int
) -> tuple[PlannedKind, list[Pot]]:
    """Return a kind, and a pot of it for each draw.

    Films into a drainage layer are broken in every other draw and continuous in the rest: the two cases
    that bound what it does.
    """
    place, figures = mixes.of(kind)
    weather = places.of_kind(number)
    use, draws = kind.use, len(figures)
    uses = drawn(f"use {kind.plant.key} {kind.water_use}", draws, use.low, use.middle, use.high)
    uses = uses * places.factors(weather, draws)
    settings = [_setting(kind, films) for films in (BROKEN, CONTINUOUS)]
    past = _run_past(kind, settings[0].rewetting, draws)
    pots = [
        pot_of(settings[d % 2], one, use=float(uses[d]), run_past=float(past[d]))
        for d, one in enumerate(figures)
    ]
    one = pots[0]
    planned = PlannedKind(
        mix=kind.mix.title,
        container_said=kind.container_as_typed,
        plant=kind.plant.name,
        place=place_said(kind.place),
        watering=habit_said(kind.habit),
        habit=kind.habit,
        container=kind.container,
        medium=place,
        layers=layers.of(kind.layer_material),
        entry_suction_cm=one.entry_suction_cm or 0.0,
        weather=weather,
        uptake=one.uptake,
        root_depth_share=one.root_depth_share,
        base=one.base,
        rule=one.watering,
        rain_cm2=one.rain_cm2,
        rim_cm=one.rim_cm,
        air_limit=one.air_limit,
    )
    return planned, pots


def _setting(kind: Kind, films: str) -> PotSetting:
    habit = kind.habit
    return PotSetting(
        container=kind.container,
        plant=kind.plant,
        base=habit.base,
        watering=Watering(
            by={EVERY_DAYS: CALENDAR, ON_NEED: NEED}.get(habit.by, BY_NOBODY),
            at_hour=MORNING,
            every_days=habit.every_days,
            used_share=used_share().value if habit.used_share is None else habit.used_share,
            rate_cm3_h=POURED_BY_HAND_CM3_H,
        ),
        layer_material=kind.layer_material,
        films=films,
        rewetting=mixed_rewetting(kind.mix.parts),
        air_limit=kind.plant.air_limit,
        too_dry_share=too_dry_share().value,
    )


def _run_past(kind: Kind, rewetting: MixedRewetting | None, draws: int) -> "Array":
    if rewetting is None:
        return np.zeros(draws)
    return drawn_share(f"run past {mix_facts(kind.mix)}", draws, rewetting.run_past)


def _repels(pot: Pot) -> tuple[float, float, float]:
    if pot.repelling is None:
        return math.nan, math.nan, math.nan
    return pot.repelling.below, pot.repelling.until, pot.repelling.run_past


def _work_s(way: str, draws: int) -> "Array":
    times = []
    for quantity in (TIME_FOR_A_POT, TIME_FOR_A_LITRE, TIME_TO_LOOK):
        time = watering_time_s(quantity, way)
        times.append(drawn(f"{quantity} {way}", draws, time.low, time.value, time.high))
    return np.stack(times, axis=-1)
