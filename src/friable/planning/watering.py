"""A pot through one watering and the days after it: how wet, how long, how much, when again.

Each member of the range (a drawn medium, plant and weather) starts drained, dries until the chosen share of
its available water is gone, is watered once, and dries again. The answer is that second drying.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning import watering_text as stands
from friable.planning.climate import BUILT_IN
from friable.planning.drying import DRAINED_HOURS, SURPLUS, Course, course_of
from friable.planning.flow_media import MediumFigures, media
from friable.planning.flow_pot import (
    BROKEN,
    CONTINUOUS,
    MORNING,
    POURED_BY_HAND_CM3_H,
    PotSetting,
    pot_of,
    weather_of,
)
from friable.planning.forecast_values import ProfilePoint
from friable.planning.season_draws import drawn, drawn_share
from friable.planning.watering_reading import watering_reading
from friable.planning.watering_values import LayerSide, Moment, SeriesPoint, WateringAnswer, WateringCase
from friable.reference.plant_water import find_plant
from friable.reference.rewetting import mixed_rewetting
from friable.reference.watering_work import air_limit, too_dry_share
from friable.science import ranges
from friable.science.estimate import Estimate
from friable.science.flow.pot import NEED, NOBODY, Watering
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

__all__ = ["WateringAnswer", "WateringCase", "watering", "watering_reading"]

RULE = "flow of water in the pot; docs/science/flow.md"
DRAWS = 16
LONGEST_DAYS, FEWEST_DAYS = 150, 4
MOST_POINTS = 120
PROFILE_POINTS = 13
CM3_PER_L = 1000.0


def watering(case: WateringCase, *, draws: int = DRAWS) -> WateringAnswer:
    """Answer what a watering does to a pot, and when the next is due.

    Parameters
    ----------
    case : WateringCase
    draws : int
        Members of the range besides the middle; 0 gives the middle only.

    Raises
    ------
    BadQuantity, BadRecipe, Refused
        If something about the case is impossible.

    Notes
    -----
    Ranges are the 5th and 95th percentile over the members: media, use of water, weather where it is
    guessed, and with a drainage layer both of its bounding cases. That a clay wall loses water and that an
    old root ball of another mix drains otherwise is not in them.
    """
    if not 0.01 <= case.used_share <= 0.99:
        raise BadQuantity(_("share of the available water used"), case.used_share, "", _("from 0.01 to 0.99"))
    figures = media(case.parts, draws=draws, pair_overlap_loss=case.pair_overlap_loss)
    sides = (BROKEN, CONTINUOUS) if case.container.drainage_layer_cm else (BROKEN,)
    middle = [_courses(case, films, figures[:1], np.ones(1)) for films in sides]
    longest = max(course.hours_to_water for courses, _failed in middle for course in courses)
    drawn_ones = [
        _courses(case, films, figures[1:], _factors(case, draws), longest) if draws else ([], 0)
        for films in sides
    ]
    centres = [courses[0] for courses, _failed in middle]
    members = [course for courses, _failed in drawn_ones for course in courses]
    return _answer(case, centres, members, sum(failed for _pots_, failed in (*middle, *drawn_ones)))


def _factors(case: WateringCase, draws: int) -> "Array":
    """Return use times weather of each drawn member, over their middle."""
    low, middle, high = _use(case)
    factor = drawn("use", draws, low / middle, 1.0, high / middle)
    reference_low, reference_high = case.climate.reference_factors
    return np.asarray(
        factor * drawn("reference", draws, min(reference_low, 1.0), 1.0, max(reference_high, 1.0))
    )


def _use(case: WateringCase) -> tuple[float, float, float]:
    if isinstance(case.use, Estimate):
        return case.use.low, case.use.value, case.use.high
    if case.use is not None:
        return case.use, case.use, case.use
    plant = case.plant or find_plant("none")
    return plant.use_low, plant.use, plant.use_high


def _setting(case: WateringCase, films: str) -> PotSetting:
    dose_cm3 = None if case.dose_l is None else CM3_PER_L * case.dose_l
    by = NOBODY if case.base.kind in (stands.STANDING, stands.MAT) else NEED
    return PotSetting(
        container=case.container,
        plant=case.plant,
        base=case.base,
        watering=Watering(
            by=by,
            at_hour=MORNING,
            at_most=1,
            used_share=case.used_share,
            dose_cm3=dose_cm3,
            surplus=SURPLUS,
            rate_cm3_h=CM3_PER_L * case.rate_l_h if case.rate_l_h else POURED_BY_HAND_CM3_H,
        ),
        layer_material=case.layer_material,
        films=films,
        rewetting=mixed_rewetting(case.parts),
        air_limit=air_limit().value if case.plant is None else case.plant.air_limit,
        too_dry_share=too_dry_share().value,
    )


def _courses(
    case: WateringCase,
    films: str,
    figures: tuple[MediumFigures, ...],
    factors: "Array",
    expected_hours: float | None = None,
) -> tuple[list[Course], int]:
    """Run members until each has dried twice, in at most `LONGEST_DAYS`; shorter weather is repeated."""
    from friable.science.flow.pots import run_pots

    setting = _setting(case, films)
    rewetting = setting.rewetting
    past = None
    if rewetting is not None and len(figures) > 1:
        past = drawn_share("run past", len(figures), rewetting.run_past)
    use = _use(case)[1]
    pots = [
        pot_of(setting, one, use=use * float(factors[m]), run_past=None if past is None else float(past[m]))
        for m, one in enumerate(figures)
    ]
    days = LONGEST_DAYS
    if expected_hours is not None:
        days = min(days, max(FEWEST_DAYS, int(8 * expected_hours / 24) + 3))
    runs = run_pots(pots, [weather_of(case.climate, days)], 24 * days, hourly=True)
    return [course_of(pot, runs, m, figures[m], case) for m, pot in enumerate(pots)], runs.handed_over


# --- the answer ---------------------------------------------------------------------------------


def _estimate(values: list[float], drawn_values: list[float]) -> Estimate:
    """Middle and range; over both bounding cases where there are two."""
    value = sum(values) / len(values)
    edges = [*values]
    if drawn_values:
        edges += [float(edge) for edge in ranges.range_of(np.array(drawn_values))]
    return Estimate(value, min(edges), max(edges), "computed", RULE)


def _answer(case: WateringCase, centres: list[Course], members: list[Course], failed: int) -> WateringAnswer:
    def over(figure: Callable[[Course], float]) -> Estimate:
        return _estimate([figure(c) for c in centres], [figure(m) for m in members])

    target = over(lambda c: c.dry_kg + _target_cm3(c, case) / CM3_PER_L)
    full = over(lambda c: c.dry_kg + c.pot.full_cm3 / CM3_PER_L)
    return WateringAnswer(
        hours_wet=over(lambda c: c.hours_wet),
        days_to_water=over(lambda c: c.hours_to_water / 24),
        dries_within=all(c.dries for c in centres),
        stands_in_water=case.base.kind in (stands.STANDING, stands.MAT),
        litres_per_watering=over(lambda c: c.poured_cm3 / CM3_PER_L),
        runs_through=over(lambda c: c.ran_through),
        litres_per_week=over(lambda c: 168 * c.lost_cm3_h / CM3_PER_L),
        target_mass_kg=target,
        full_mass_kg=full,
        target_of_full_mass=target.value / full.value,
        target_of_water=1 - case.used_share,
        used_share=case.used_share,
        air_limit=centres[0].pot.air_limit,
        series=_series(centres, members),
        moments=_moments(case, centres, members),
        layer_bounds=_sides(centres),
        warnings=tuple(_warnings(case, centres, members)),
        not_modelled=(
            _("What a wall of unglazed clay or fabric loses."),
            _("An old root ball of another mix inside this one."),
        ),
        container=case.container,
        climate_name=case.climate.name,
        samples=len(members),
        failed=failed,
    )


def _target_cm3(course: Course, case: WateringCase) -> float:
    full, dry = course.pot.full_cm3, course.pot.dry_cm3
    return full - case.used_share * (full - dry)


def _at(values: "Array", hour: float) -> float:
    return float(np.interp(hour, np.arange(len(values)), values))


def _series(centres: list[Course], members: list[Course]) -> tuple[SeriesPoint, ...]:
    """Return points close together at first and further apart later, up to the next watering."""
    last = max(c.hours_to_water for c in centres)
    first = np.arange(0.0, min(last, 12.0) + 1e-9)
    hours = np.unique(np.concatenate([first, np.linspace(0.0, last, MOST_POINTS)]).round(2))
    everyone = [*centres, *members]

    def spread(figure: Callable[[Course, float], float]) -> tuple["Array", "Array", "Array"]:
        rows = np.array([[figure(c, h) for h in hours] for c in everyone])
        middle = rows[: len(centres)].mean(axis=0)
        low, high = ranges.range_of(rows)
        return middle, np.minimum(low, middle), np.maximum(high, middle)

    water = spread(lambda c, h: _at(c.in_medium, h))
    air = spread(lambda c, h: _at(c.zone, h))
    mass = spread(lambda c, h: c.dry_kg + _at(c.stored, h) / CM3_PER_L)
    return tuple(
        SeriesPoint(*(float(x) for x in row)) for row in zip(hours, *water, *air, *mass, strict=True)
    )


def _moments(case: WateringCase, centres: list[Course], members: list[Course]) -> tuple[Moment, ...]:
    """Return the pot just watered, drained, half way and when water is due, each member at its own hour."""
    due = sum(c.hours_to_water for c in centres) / len(centres)
    drained = min(DRAINED_HOURS, max(due / 3, min(1.0, due)))
    wanted: tuple[tuple[str, Callable[[Course], float], float], ...] = (
        (_("just watered"), lambda c: min(1.0, c.hours_to_water), min(1.0, due)),
        (_("drained"), lambda c: min(drained, c.hours_to_water), drained),
        (_("half way"), lambda c: c.hours_to_water / 2, due / 2),
        (_("water now") if centres[0].dries else _("at the end"), lambda c: c.hours_to_water, due),
    )
    points = np.linspace(case.container.drainage_layer_cm, case.container.fill_height_cm, PROFILE_POINTS)
    porosity = centres[0].pot.total_porosity
    moments = []
    for said, hour_of, hour in wanted:
        rows = np.array([_profile_at(c, hour_of(c), points) for c in (*centres, *members)])
        middle = rows[: len(centres)].mean(axis=0)
        low, high = ranges.range_of(rows)
        profile = tuple(
            ProfilePoint(
                float(h), float(w), float(min(lo, w)), float(max(hi, w)), max(0.0, porosity - float(w))
            )
            for h, w, lo, hi in zip(points, middle, low, high, strict=True)
        )
        moments.append(Moment(float(hour), said, profile))
    return tuple(moments)


def _profile_at(course: Course, hour: float, points_cm: "Array") -> "Array":
    """Return the water of the medium at heights above the floor, at the whole hour nearest to one."""
    column = course.pot.column
    inside = column.layer == 0
    kept = course.profiles[min(round(hour), len(course.profiles) - 1)]
    return np.asarray(np.interp(points_cm, column.height_cm[inside][::-1], kept[inside][::-1]))


def _sides(centres: list[Course]) -> tuple[LayerSide, ...] | None:
    if len(centres) == 1:
        return None
    return tuple(
        LayerSide(films, c.hours_wet, c.hours_to_water / 24, c.pot.full_cm3 / CM3_PER_L)
        for films, c in zip((BROKEN, CONTINUOUS), centres, strict=True)
    )


def _warnings(case: WateringCase, centres: list[Course], members: list[Course]) -> list[str]:
    said = []
    rewetting = mixed_rewetting(case.parts)
    if rewetting is not None and any(c.pot.repelling for c in (*centres, *members)):
        driest = max(_driest_suction(c) for c in (*centres, *members))
        if driest > rewetting.from_suction_cm.low:
            said.append(
                _(
                    "Once this dry, {material} may not take water up again: about {share:.0f} % of a "
                    "watering runs past until it is soaked. Water earlier, or stand the pot in water."
                ).format(material=rewetting.material, share=100 * rewetting.run_past.value)
            )
    if not all(c.dries for c in centres) and case.base.kind not in (stands.STANDING, stands.MAT):
        said.append(
            _("It does not use {share:.0f} % of its water within {days:.0f} days of this weather.").format(
                share=100 * case.used_share, days=max(c.hours_to_water for c in centres) / 24
            )
        )
    elif all(c.dries for c in centres) and any(not m.dries for m in members):
        said.append(
            _("At the slow end it takes longer than the {days:.0f} days that were looked at.").format(
                days=max(m.hours_to_water for m in members) / 24
            )
        )
    if case.plant is None and case.use is None:
        low, _middle, high = _use(case)
        said.append(
            _(
                "No plant is named, so its use is a wide guess ({low:g} to {high:g} times the reference): "
                "weigh it twice."
            ).format(low=low, high=high)
        )
    needed = 2 * max(c.hours_to_water for c in centres) / 24
    if case.climate.how_known not in BUILT_IN and needed > case.climate.days:
        said.append(
            _("The weather covers {days} days and was repeated to look further.").format(
                days=case.climate.days
            )
        )
    return said


def _driest_suction(course: Course) -> float:
    """Return the suction at which the medium holds as little as the root zone did at the end. [cm]"""
    medium = course.pot.media[0]
    water = course.pot.total_porosity - float(course.zone[-1])
    return float(np.interp(-water, -medium.water, medium.suction_cm))
