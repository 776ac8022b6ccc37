"""A season as a calendar: months of weeks, Monday first, each day with its number and what stands wrong.

The calendar is a real table: `season_calendar` gives its months, rows and cells as text, with a small bar and
small swatches to stand beside the words. Nothing is told by a bar or a swatch alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby, pairwise
from typing import Protocol

from friable.drawing.calendar_marks import DRY, WET, bar_svg, swatch_svg
from friable.drawing.ink import BLACK_AND_WHITE, COLOURED, Ink
from friable.errors import BadQuantity
from friable.wording import gettext as _

DAYS_A_WEEK = 7
MOST_DAYS = 1100  # three years
TOLD_FROM = 0.005  # share of the pots; below it a day is not marked


class Figure(Protocol):
    """A number with its range."""

    @property
    def value(self) -> float: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...


class Day(Protocol):
    """One day of the collection: litres, pots to water, and the shares of pots too wet and too dry."""

    @property
    def date(self) -> date: ...
    @property
    def litres(self) -> Figure: ...
    @property
    def pots_to_water(self) -> Figure: ...
    @property
    def too_wet(self) -> Figure: ...
    @property
    def too_dry(self) -> Figure: ...


@dataclass(frozen=True, slots=True)
class WrongMark:
    """What stands wrong on a day: "too wet" or "too dry", short words such as "wet 12 %", and a swatch."""

    kind: str
    words: str
    svg: str


@dataclass(frozen=True, slots=True)
class CalendarCell:
    """One day as it stands in the table.

    `figure` is the number, `range` its low and high, `bar_svg` a bar of it against the largest of the season,
    `spoken` the whole day in one sentence. The drawings are hidden from screen readers, who have the words.
    """

    date: date
    day: str
    figure: str
    range: str
    bar_svg: str
    marks: tuple[WrongMark, ...]
    spoken: str
    is_today: bool


@dataclass(frozen=True, slots=True)
class CalendarWeek:
    """One row: its number after ISO 8601, and seven cells; None where the month has no such day."""

    number: int
    cells: tuple[CalendarCell | None, ...]


@dataclass(frozen=True, slots=True)
class CalendarMonth:
    """One table: the name of the month with its year, its rows, and its sum in words."""

    name: str
    begins: date
    weeks: tuple[CalendarWeek, ...]
    summed: str


@dataclass(frozen=True, slots=True)
class SeasonCalendar:
    """All months; `weekdays` are short headings with their full names; `key` explains bar and swatches."""

    weekdays: tuple[tuple[str, str], ...]
    months: tuple[CalendarMonth, ...]
    counted: str
    key: tuple[tuple[str, str], ...]


def season_calendar(
    days: Sequence[Day],
    *,
    counts: str = "pots",
    today: date | None = None,
    told_from: float = TOLD_FROM,
    black_and_white: bool = False,
) -> SeasonCalendar:
    """Return a season as months of weeks.

    Parameters
    ----------
    days : sequence of Day
        Days in their order without a gap, from 1 to 1,100. [L; pots; shares of pots from 0 to 1]
    counts : str
        "pots" for pots to water, "litres" for litres.
    today : date, optional
        The day that bears a ring.
    told_from : float
        Share of pots from which too wet or too dry is marked on a day.
    black_and_white : bool
        Draw bars and swatches in black only.

    Raises
    ------
    BadQuantity
        If there is no day or too many, they do not follow one another, or a value is impossible.
    """
    if counts not in ("pots", "litres"):
        raise ValueError(f"counts is {counts!r}; it must be pots or litres")
    _check(days, told_from)
    ink = BLACK_AND_WHITE if black_and_white else COLOURED
    most = max(max(_counted(one, counts).high, _counted(one, counts).value) for one in days)
    months = []
    for __, of_month in groupby(days, key=lambda one: (one.date.year, one.date.month)):
        mine = list(of_month)
        cells = [_cell(one, counts, most, today, told_from, ink) for one in mine]
        months.append(
            CalendarMonth(
                month_in_words(mine[0].date),
                mine[0].date,
                _weeks(cells),
                _summed(mine, counts),
            )
        )
    return SeasonCalendar(
        tuple(zip(_short_weekdays(), weekdays_in_words(), strict=True)),
        tuple(months),
        _("pots to water") if counts == "pots" else _("litres"),
        (
            (
                bar_svg(0.6, 0.4, 0.8, ink),
                _("bar: the number against the largest of the season; line: its range"),
            ),
            (swatch_svg(WET, ink), _("hatched: share of pots too wet")),
            (swatch_svg(DRY, ink), _("dotted: share of pots too dry")),
        ),
    )


def month_in_words(day: date) -> str:
    """Return the month with its year: "November 2026"."""
    names = (
        _("January"), _("February"), _("March"), _("April"), _("May"), _("June"),
        _("July"), _("August"), _("September"), _("October"), _("November"), _("December"),
    )  # fmt: skip
    return _("{month} {year}").format(month=names[day.month - 1], year=day.year)


def weekdays_in_words() -> tuple[str, ...]:
    """Return the days of the week, Monday first."""
    return (
        _("Monday"), _("Tuesday"), _("Wednesday"), _("Thursday"), _("Friday"), _("Saturday"), _("Sunday"),
    )  # fmt: skip


def _short_weekdays() -> tuple[str, ...]:
    return (_("Mon"), _("Tue"), _("Wed"), _("Thu"), _("Fri"), _("Sat"), _("Sun"))


def _counted(one: Day, counts: str) -> Figure:
    return one.pots_to_water if counts == "pots" else one.litres


def _cell(one: Day, counts: str, most: float, today: date | None, told_from: float, ink: Ink) -> CalendarCell:
    number = _counted(one, counts)
    value, lowest, highest = (x / most if most > 0 else 0.0 for x in (number.value, number.low, number.high))
    wrong = [
        (kind, words, told.value)
        for kind, words, told in ((WET, _("wet {share}"), one.too_wet), (DRY, _("dry {share}"), one.too_dry))
        if told.value >= told_from
    ]
    figure, low, high = (_number(x, counts) for x in (number.value, number.low, number.high))
    return CalendarCell(
        one.date,
        str(one.date.day),
        figure,
        "" if low == high else _("{low} to {high}").format(low=low, high=high),
        bar_svg(value, lowest, highest, ink),
        tuple(
            WrongMark(kind, words.format(share=_share(x)), swatch_svg(kind, ink)) for kind, words, x in wrong
        ),
        _spoken(one, counts, (figure, low, high), wrong, one.date == today),
        one.date == today,
    )


def _spoken(
    one: Day,
    counts: str,
    figures: tuple[str, str, str],
    wrong: Sequence[tuple[str, str, float]],
    is_today: bool,
) -> str:
    figure, low, high = figures
    words = _("{number} pots to water") if counts == "pots" else _("{number} litres")
    told = [words.format(number=figure)]
    if low != high:
        told.append(_("{low} to {high}").format(low=low, high=high))
    names = {WET: _("{share} of the pots too wet"), DRY: _("{share} of the pots too dry")}
    told += [names[kind].format(share=_share(x)) for kind, __, x in wrong]
    day = _("{weekday} {day} {month}").format(
        weekday=weekdays_in_words()[one.date.weekday()], day=one.date.day, month=month_in_words(one.date)
    )
    if is_today:
        day = _("today, {day}").format(day=day)
    return _("{day}: {told}.").format(day=day, told=", ".join(told))


def _weeks(cells: Sequence[CalendarCell]) -> tuple[CalendarWeek, ...]:
    padded: list[CalendarCell | None] = [None] * cells[0].date.weekday() + list(cells)
    padded += [None] * (-len(padded) % DAYS_A_WEEK)
    rows = [padded[place : place + DAYS_A_WEEK] for place in range(0, len(padded), DAYS_A_WEEK)]
    return tuple(
        CalendarWeek(next(c for c in row if c is not None).date.isocalendar().week, tuple(row))
        for row in rows
    )


def _summed(days: Sequence[Day], counts: str) -> str:
    total = _number(sum(_counted(one, counts).value for one in days), counts)
    if counts == "pots":
        return _("{total} waterings of a pot in the month").format(total=total)
    return _("{total} litres in the month").format(total=total)


def _number(value: float, counts: str) -> str:
    """Return pots or litres to three figures at most; less than one pot or a tenth of a litre as that."""
    if value >= 1000:
        digits = 3 - len(str(int(value)))
        return f"{int(round(value, digits)):,}"
    if counts == "pots":
        return _("<1") if 0 < value < 0.5 else f"{value:.0f}"
    if 0 < value < 0.05:
        return _("<0.1")
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}".removesuffix(".0")


def _share(value: float) -> str:
    return _("{number} %").format(number=f"{100 * value:.0f}" if value >= 0.0095 else "<1")


def _check(days: Sequence[Day], told_from: float) -> None:
    if not 1 <= len(days) <= MOST_DAYS:
        raise BadQuantity(_("days of a calendar"), len(days), "", _("from 1 to 1,100"))
    if not 0 < told_from <= 1:
        raise BadQuantity(
            _("share of pots from which a day is marked"), told_from, "", _("above 0, at most 1")
        )
    for before, after in pairwise(days):
        if (after.date - before.date).days != 1:
            raise BadQuantity(
                _("days between two days of a calendar"), (after.date - before.date).days, "", _("1")
            )
    for one in days:
        for name, number in ((_("litres of a day"), one.litres), (_("pots to water"), one.pots_to_water)):
            for x in (number.value, number.low, number.high):
                if not 0 <= x < 1e9:
                    raise BadQuantity(name, x, "", _("0 or more"))
        for name, share in ((_("pots too wet"), one.too_wet), (_("pots too dry"), one.too_dry)):
            if not 0 <= share.value <= 1 + 1e-9:
                raise BadQuantity(name, share.value, "", _("from 0 to 1"))
