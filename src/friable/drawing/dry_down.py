"""How pots dry after a watering: chart descriptions and plain tables of mass, water and air against time."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Protocol

from friable.drawing.legible import plain_text
from friable.drawing.moment_panel import litres, since_watering
from friable.drawing.time_chart import Line, Mark, Rule, time_chart
from friable.errors import BadQuantity
from friable.wording import gettext as _

MOST_CHOICES = 4
LETTERS = "ABCD"
SLACK = 1e-6
AS_GOOD_AS_REACHED = 0.01
FIRST_HOURS = (0.0, 1.0, 2.0, 6.0, 12.0)


class SeriesPoint(Protocol):
    """One hour of a pot: mean water of its medium and air in its root zone, and its mass.

    [h; shares of bulk volume; kg of mix and water, without pot and plant]
    """

    @property
    def hour(self) -> float: ...
    @property
    def water(self) -> float: ...
    @property
    def water_low(self) -> float: ...
    @property
    def water_high(self) -> float: ...
    @property
    def air_root_zone(self) -> float: ...
    @property
    def air_low(self) -> float: ...
    @property
    def air_high(self) -> float: ...
    @property
    def mass_kg(self) -> float: ...
    @property
    def mass_low_kg(self) -> float: ...
    @property
    def mass_high_kg(self) -> float: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class DryDown:
    """One choice: its name, its hours, its volume of medium, and the weights between which it is kept."""

    name: str
    series: tuple[SeriesPoint, ...]
    medium_volume_l: float
    target_mass_kg: float
    full_mass_kg: float
    air_limit: float = 0.10  # air below which the root zone is too wet; share of bulk volume


@dataclass(frozen=True, slots=True)
class DryDownTable:
    """The values of a dry-down at round times: headings, and one row a time, all as text."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def mass_spec(choices: Sequence[DryDown]) -> dict[str, Any]:
    """Return mass against time for one to four choices, each with its "water now" marked.

    With one choice its full weight and its target stand as lines; with several, each line bears a letter
    and a mark where it reaches its own target.

    Raises
    ------
    BadQuantity
        If there are no choices or more than four, or a value is impossible.
    """
    names = _names(choices)
    lines, marks = [], []
    for letter, name, one in zip(LETTERS, names, choices, strict=False):
        points = tuple((p.hour, p.mass_kg, p.mass_low_kg, p.mass_high_kg) for p in one.series)
        reached = hour_of_falling_to([(p.hour, p.mass_kg) for p in one.series], one.target_mass_kg)
        if reached is not None:
            marks.append(Mark(reached, one.target_mass_kg))
        words = _("{letter}: {name}; water now at {mass} kg, {when}").format(
            letter=letter,
            name=name,
            mass=kilograms(one.target_mass_kg),
            when=_("not reached in this time") if reached is None else since_watering(reached),
        )
        lines.append(Line(letter, words, points))
    rules = []
    if len(choices) == 1:
        full, target = choices[0].full_mass_kg, choices[0].target_mass_kg
        rules = [
            Rule(full, _("full: {mass} kg").format(mass=kilograms(full)), "right", above=True),
            Rule(target, _("water now: {mass} kg").format(mass=kilograms(target)), "left", above=False),
        ]
    return time_chart(
        lines,
        title=_("mass of mix and water, kg"),
        description=_("Mass of mix and water against time after watering, with its range. {lines}.").format(
            lines=". ".join(line.words for line in lines)
        ),
        rules=rules,
        marks=marks,
        from_zero=False,
    )


def air_spec(choices: Sequence[DryDown]) -> dict[str, Any]:
    """Return air in the root zone against time for one to four choices, with the limit as a line.

    The line of the limit stands where all choices have the same one.
    """
    lines = [
        Line(letter, _("{letter}: {name}").format(letter=letter, name=name), _air(one))
        for letter, name, one in zip(LETTERS, _names(choices), choices, strict=False)
    ]
    return time_chart(
        lines,
        title=_("air in the root zone, % of volume"),
        description=_("Air in the root zone against time after watering, with its range. {lines}.").format(
            lines=". ".join(line.words for line in lines)
        ),
        rules=_limit(choices),
        from_zero=True,
    )


def water_and_air_spec(choice: DryDown) -> dict[str, Any]:
    """Return water of the medium and air of the root zone against time for one choice, with the limit."""
    (name,) = _names([choice])
    water = tuple((p.hour, 100 * p.water, 100 * p.water_low, 100 * p.water_high) for p in choice.series)
    lines = [
        Line(_("water in the mix"), _("water in the mix"), water),
        Line(_("air in the root zone"), _("air in the root zone"), _air(choice)),
    ]
    return time_chart(
        lines,
        title=_("% of volume"),
        description=_(
            "Water in the mix and air in the root zone against time after watering, with ranges, for {name}."
        ).format(name=name),
        rules=_limit([choice]),
        from_zero=True,
        has_legend=False,
    )


def dry_down_table(choice: DryDown, most_rows: int = 16) -> DryDownTable:
    """Return a dry-down as a table: at watering, at 1, 2, 6 and 12 hours, then by days as room allows.

    Values are those of the nearest hour of the series.
    """
    _names([choice])
    if not 6 <= most_rows <= 400:
        raise BadQuantity(_("rows of a table"), most_rows, "", _("from 6 to 400"))
    last = choice.series[-1].hour
    days = int(last // 24)
    every = max(1, -(-days // (most_rows - 5)))
    wanted = [*FIRST_HOURS, *(24.0 * day for day in range(every, days + 1, every))]
    places = range(len(choice.series))
    picked = [min(places, key=lambda i: abs(choice.series[i].hour - h)) for h in wanted if h <= last]
    return DryDownTable(
        (
            _("after watering"),
            _("mass of mix and water, kg"),
            _("water in the mix"),
            _("water, % of volume"),
            _("air in the root zone, % of volume"),
        ),
        tuple(
            (
                since_watering(p.hour),
                _ranged(*(kilograms(x) for x in (p.mass_kg, p.mass_low_kg, p.mass_high_kg))),
                litres(p.water * choice.medium_volume_l),
                _ranged(*(_whole(x) for x in (p.water, p.water_low, p.water_high))),
                _ranged(*(_whole(x) for x in (p.air_root_zone, p.air_low, p.air_high))),
            )
            for p in (choice.series[i] for i in dict.fromkeys(picked))
        ),
    )


def hour_of_falling_to(curve: Sequence[tuple[float, float]], target: float) -> float | None:
    """Return the hour at which a curve, once above a target, first falls to it; None if it does not.

    Between hours it is taken as linear. A curve that is never above the target is at it from the start; one
    that ends less than a hundredth of its height above the target has reached it.
    """
    highest = max(value for __, value in curve)
    if highest <= target:
        return curve[0][0]
    for (hour, before), (later, after) in pairwise(curve):
        if after <= target < before:
            return hour + (later - hour) * (before - target) / (before - after)
    last, value = curve[-1]
    return last if value - target < AS_GOOD_AS_REACHED * (highest - target) else None


def kilograms(mass_kg: float) -> str:
    """Return a mass for a chart or table: to 1 g below 1 kg, to 10 g below 10 kg, to 0.1 kg above."""
    return f"{mass_kg:.{3 if mass_kg < 0.9995 else 2 if mass_kg < 9.995 else 1}f}"


def _ranged(value: str, low: str, high: str) -> str:
    return value if low == high else _("{value} ({low} to {high})").format(value=value, low=low, high=high)


def _whole(share: float) -> str:
    return f"{100 * share:.0f}"


def _air(one: DryDown) -> tuple[tuple[float, float, float, float], ...]:
    return tuple((p.hour, 100 * p.air_root_zone, 100 * p.air_low, 100 * p.air_high) for p in one.series)


def _limit(choices: Sequence[DryDown]) -> list[Rule]:
    limits = {one.air_limit for one in choices}
    if len(limits) > 1:
        return []
    limit = 100 * limits.pop()
    words = _("too wet below {number} % air").format(number=f"{limit:g}")
    return [Rule(limit, words, "right", above=False)]


def _names(choices: Sequence[DryDown]) -> list[str]:
    """Check all values and return the names, made distinct."""
    if not 1 <= len(choices) <= MOST_CHOICES:
        raise BadQuantity(_("the number of choices"), len(choices), "", _("from 1 to 4"))
    names: list[str] = []
    for number, one in enumerate(choices, start=1):
        _check(one)
        name = plain_text(one.name, 90)
        names.append(f"{name} ({number})" if name in names else name)
    return names


def _check(one: DryDown) -> None:
    if len(one.series) < 2:
        raise BadQuantity(_("the number of hours of a dry-down"), len(one.series), "", _("2 or more"))
    if not 0 < one.medium_volume_l < 1e6:
        raise BadQuantity(_("volume of the medium"), one.medium_volume_l, "L", _("above 0"))
    if not 0 <= one.air_limit <= 1:
        raise BadQuantity(_("air limit"), one.air_limit, "", _("from 0 to 1"))
    for name, mass in (
        (_("weight at which to water"), one.target_mass_kg),
        (_("full weight"), one.full_mass_kg),
    ):
        if not 0 < mass < 1e6:
            raise BadQuantity(name, mass, "kg", _("above 0"))
    last = -1.0
    for p in one.series:
        if not last < p.hour < 1e6:
            raise BadQuantity(_("hours since watering"), p.hour, "h", _("0 or more, and rising"))
        last = p.hour
        for mass in (p.mass_kg, p.mass_low_kg, p.mass_high_kg):
            if not 0 <= mass < 1e6:
                raise BadQuantity(_("mass"), mass, "kg", _("0 or more"))
        for share in (p.water, p.water_low, p.water_high, p.air_root_zone, p.air_low, p.air_high):
            if not -SLACK <= share <= 1 + SLACK:
                raise BadQuantity(_("a share on a chart"), share, "", _("from 0 to 1"))
