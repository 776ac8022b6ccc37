"""From a collection and its weather to the plan of a season."""

import hashlib
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity, FriableError, Refused
from friable.planning.collection_values import (
    AS_RECORDED,
    EVERY_DAYS,
    GLASS,
    NOBODY,
    OUTDOORS,
    Collection,
    Habit,
    Kind,
    Place,
    mix_facts,
)
from friable.planning.season_draws import drawn
from friable.planning.season_plan import PlannedKind, PlannedLine, SeasonPlan
from friable.planning.watering_text import OPEN, SAUCER
from friable.reference.rewetting import mixed_rewetting
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
from friable.science.drainage import water_entry_suction_cm
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.climate import Climate
    from friable.reference.materials import Material

    Array = NDArray[np.float64]

USUAL_DRAWS = 16
MOST_DRAWS, MOST_WEATHERS = 256, 50
MOST_SUMS = 200_000  # groups times weathers times draws: what is added up at once
POT_DAYS_IN_BLOCK = 36_000
SIDE_BY_SIDE = 16
CM_PER_MM = 0.1


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
    places = _Places(collection, climates)
    media, layers = _Media(draws), _Layers()
    kinds, uses, run_past = [], [], []
    for number, kind in enumerate(collection.kinds):
        try:
            planned = _planned(kind, media, layers, places.of_kind(number))
        except FriableError as problem:
            line = next(line.number for line in collection.lines if line.kind == number)
            raise Refused(
                _("Line {line} of the collection: {problem}").format(line=line, problem=problem)
            ) from None
        kinds.append(planned)
        use = kind.use
        named = f"use {kind.plant.key} {kind.water_use}"
        uses.append(drawn(named, draws, use.low, use.middle, use.high))
        run_past.append(_run_past(kind, draws))
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
        reference_factor=places.factors(draws),
        water=np.stack(media.water),
        conductivity_cm_h=np.stack(media.conductivity_cm_h),
        total_porosity=np.stack(media.total_porosity),
        layer_water=np.array(layers.water),
        layer_conductivity_cm_h=np.array(layers.conductivity_cm_h),
        uses=np.stack(uses),
        run_past=np.stack(run_past),
        work_s=_work_s(way, draws),
    )


def habit_said(habit: Habit) -> str:
    """Return a habit of watering in words."""
    under = "" if habit.base.kind == OPEN else habit.base.kind
    if habit.base.depth_cm:
        under += f" {habit.base.depth_cm:g} cm"
    elif habit.base.kind == SAUCER:
        under += f" {habit.base.saucer_l:g} L"
    if habit.by == NOBODY:
        return under or _("rain only")
    if habit.by == EVERY_DAYS:
        said = _("daily") if habit.every_days == 1 else _("every {days} days").format(days=habit.every_days)
    else:
        said = _("on need")
    return f"{said}, {under}" if under else said


def place_said(place: Place) -> str:
    """Return a place in words."""
    where = {AS_RECORDED: "", GLASS: _("glass"), OUTDOORS: _("outdoors")}[place.where]
    shade = (
        ""
        if place.light_share == 1
        else _("{share:.0f} % of the light").format(share=100 * place.light_share)
    )
    return ", ".join(part for part in (where, shade) if part)


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


def _planned(kind: Kind, media: "_Media", layers: "_Layers", weather: int) -> PlannedKind:
    plant, layer = kind.plant, kind.layer_material
    rewetting = mixed_rewetting(kind.mix.parts)
    return PlannedKind(
        mix=kind.mix.title,
        container_said=kind.container_as_typed,
        plant=plant.name,
        place=place_said(kind.place),
        watering=habit_said(kind.habit),
        container=kind.container,
        habit=kind.habit,
        used_share=used_share().value if kind.habit.used_share is None else kind.habit.used_share,
        medium=media.of(kind),
        layer=-1 if layer is None else layers.of(layer),
        entry_suction_cm=0.0 if layer is None else water_entry_suction_cm(layer.d50_mm),
        weather=weather,
        heads_cm=plant.heads_cm,
        evaporation_share=plant.evaporation_share,
        root_depth_share=plant.root_depth_share,
        air_limit=plant.air_limit,
        repels_from_cm=rewetting.from_suction_cm.value if rewetting else 0.0,
        repels_until_cm=rewetting.again_below_suction_cm if rewetting else 0.0,
    )


def _run_past(kind: Kind, draws: int) -> "Array":
    rewetting = mixed_rewetting(kind.mix.parts)
    if rewetting is None or not rewetting.run_past.low > 0:
        return np.full(draws, 0.0 if rewetting is None else rewetting.run_past.value)
    past = rewetting.run_past
    return drawn(f"run past {mix_facts(kind.mix)}", draws, past.low, past.value, past.high)


def _work_s(way: str, draws: int) -> "Array":
    times = []
    for quantity in (TIME_FOR_A_POT, TIME_FOR_A_LITRE, TIME_TO_LOOK):
        time = watering_time_s(quantity, way)
        times.append(drawn(f"{quantity} {way}", draws, time.low, time.value, time.high))
    return np.stack(times, axis=-1)


class _Media:
    """The drawn media of each distinct mix."""

    def __init__(self, draws: int) -> None:
        self._draws = draws
        self._place: dict[str, int] = {}
        self.water: list[Array] = []
        self.conductivity_cm_h: list[Array] = []
        self.total_porosity: list[Array] = []

    def of(self, kind: Kind) -> int:
        from friable.planning.flow_media import media

        facts = mix_facts(kind.mix)
        if facts not in self._place:
            self._place[facts] = len(self.water)
            found = media(kind.mix.parts, draws=self._draws, pair_overlap_loss=kind.mix.pair_overlap_loss)[1:]
            self.water.append(np.stack([one.medium.water for one in found]))
            self.conductivity_cm_h.append(np.stack([one.medium.conductivity_cm_h for one in found]))
            self.total_porosity.append(np.array([one.total_porosity for one in found]))
        return self._place[facts]


class _Layers:
    """Each distinct material of a drainage layer."""

    def __init__(self) -> None:
        self._place: dict[str, int] = {}
        self.water: list[Array] = []
        self.conductivity_cm_h: list[Array] = []

    def of(self, material: "Material") -> int:
        from friable.planning.flow_media import layer_medium

        if material.key not in self._place:
            self._place[material.key] = len(self.water)
            medium = layer_medium(material)
            self.water.append(medium.water)
            self.conductivity_cm_h.append(medium.conductivity_cm_h)
        return self._place[material.key]


class _Places:
    """The weathers at each distinct place."""

    def __init__(self, collection: Collection, climates: "Sequence[Climate]") -> None:
        self._of_kind: list[int] = []
        self._weathers: list[list[Climate]] = []
        known: dict[Place, int] = {}
        for number, kind in enumerate(collection.kinds):
            if kind.place not in known:
                if kind.place.where == OUTDOORS and climates[0].under_glass:
                    line = next(line.number for line in collection.lines if line.kind == number)
                    raise Refused(
                        _(
                            "Line {line} of the collection stands outdoors, but the weather of {climate} "
                            "is that of a house; give weather from outdoors."
                        ).format(line=line, climate=climates[0].name)
                    )
                known[kind.place] = len(known)
                self._weathers.append([_weather_at(kind.place, climate) for climate in climates])
            self._of_kind.append(known[kind.place])

    def of_kind(self, number: int) -> int:
        return self._of_kind[number]

    def reference_cm(self) -> "Array":
        return np.stack([[CM_PER_MM * one.reference_mm for one in at] for at in self._weathers])

    def rain_cm(self) -> "Array":
        return np.stack([[CM_PER_MM * one.rain_at_plants_mm for one in at] for at in self._weathers])

    def factors(self, draws: int) -> "Array":
        ends = [at[0].reference_factors for at in self._weathers]
        return np.stack([drawn("reference", draws, low, 1.0, high) for low, high in ends])


def _weather_at(place: Place, climate: "Climate") -> "Climate":
    if place.where == GLASS and not climate.under_glass:
        climate = climate.under_glass_of()
    return climate if place.light_share == 1 else climate.shaded_to(place.light_share)
