"""The door sheet: who waters what over a weekend or a holiday, told to someone who does not do it daily."""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from friable.errors import BadQuantity, BadText
from friable.sheets.can import can_in_words, litres_in_words
from friable.sheets.cautions import Caution, follow_local_rules
from friable.sheets.printed import day_in_words, printable
from friable.sheets.typesetting import paper_name, typeset
from friable.wording import gettext as _

MOST_DAYS = 31
MOST_ROWS_A_DAY = 200
MOST_POTS = 99_999


@dataclass(frozen=True, slots=True, kw_only=True)
class PotsToWater:
    """One group of pots that wants water on a day.

    `pots` is how many are likely to need it, `pots_in_group` how many there are (0: say nothing of it).
    `lift_kg` is the weight of pot, plant and mix at or below which one is watered, `full_kg` its weight
    after watering; 0 where it is not known, then `how_to_tell` should say how to see it.
    """

    group: str
    mix: str
    container: str
    pots: int
    litres_each: float
    where: str = ""
    pots_in_group: int = 0
    lift_kg: float = 0.0
    full_kg: float = 0.0
    how_to_tell: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PotsToLeave:
    """One group of pots that must not be watered on a day, and why."""

    group: str
    where: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorDay:
    """One day, written 2026-11-28: what to water and what to leave."""

    day: str
    water: tuple[PotsToWater, ...] = ()
    leave: tuple[PotsToLeave, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSheet:
    """All that a door sheet says. `can_l` is the can that stands by the door; None says litres only."""

    title: str
    house: str
    days: tuple[DoorDay, ...]
    can_l: float | None = 5.0
    how_to_water: str = ""
    looks_dry: tuple[str, ...] = ()
    ask: tuple[str, ...] = ()
    made_from: str = ""
    cautions: tuple[Caution, ...] = ()


def door_sheet_pdf(sheet: DoorSheet, paper: str = "a4") -> bytes:
    """Return the door sheet as PDF, in the largest type (22 to 14 pt) that keeps it on one page.

    A sheet that does not fit at 14 pt runs on to further pages, with the house and the dates on each.

    Parameters
    ----------
    sheet : DoorSheet
        What it says.
    paper : str
        "a4" or "letter".

    Raises
    ------
    BadText, BadQuantity
        If the paper or a date cannot be printed, the days do not follow one another, or an amount, a
        weight or a number of pots is impossible.
    """
    if not 1 <= len(sheet.days) <= MOST_DAYS:
        raise BadQuantity(_("days on a door sheet"), len(sheet.days), "", _("from 1 to 31"))
    dates = [_date(one.day) for one in sheet.days]
    for before, after in pairwise(dates):
        if not after > before:
            raise BadText(_("date"), after.isoformat(), _("does not come after the day before it"))
    values = {
        "paper": paper_name(paper),
        "language": "en",
        "title": printable(sheet.title, 120),
        "house": printable(sheet.house, 120),
        "short": printable(sheet.house or sheet.title, 36),
        "dates": _dates(dates),
        "how": printable(sheet.how_to_water),
        "days": [_day(one, date, sheet.can_l) for one, date in zip(sheet.days, dates, strict=True)],
        "looks_dry": [printable(x) for x in sheet.looks_dry if x],
        "ask": [printable(x, 120) for x in sheet.ask if x],
        "made_from": printable(sheet.made_from),
        "cautions": [{"text": printable(c.text), "source": printable(c.source)} for c in sheet.cautions],
        "words": _words(),
    }
    return typeset("door_sheet", values)


def weekday_in_words(day: datetime.date) -> str:
    """Return the day of the week by name."""
    return (
        _("Monday"), _("Tuesday"), _("Wednesday"), _("Thursday"), _("Friday"), _("Saturday"), _("Sunday"),
    )[day.weekday()]  # fmt: skip


def _date(iso_day: str) -> datetime.date:
    if not day_in_words(iso_day):
        raise BadText(_("date"), iso_day, _("is empty"), _("Write year, month and day, like 2026-11-28."))
    return datetime.date.fromisoformat(iso_day)


def _dates(dates: Sequence[datetime.date]) -> str:
    """Return the first and the last day, the month and the year only once where they are the same."""
    first, last = dates[0], dates[-1]
    words = day_in_words(last.isoformat())
    if first == last:
        return words
    if first.year != last.year:
        return _("{first} to {last}").format(first=day_in_words(first.isoformat()), last=words)
    if first.month != last.month:
        begins = day_in_words(first.isoformat()).removesuffix(f" {first.year}")
        return _("{first} to {last}").format(first=begins, last=words)
    return _("{first} to {last}").format(first=first.day, last=words)


def _day(one: DoorDay, date: datetime.date, can_l: float | None) -> dict[str, Any]:
    if len(one.water) + len(one.leave) > MOST_ROWS_A_DAY:
        raise BadQuantity(_("groups of pots on a day"), len(one.water) + len(one.leave), "", _("at most 200"))
    return {
        "name": _("{weekday} {date}").format(
            weekday=weekday_in_words(date), date=day_in_words(date.isoformat())
        ),
        "note": printable(one.note),
        "water": [_to_water(pots, can_l) for pots in one.water],
        "leave": _to_leave(one.leave),
    }


def _to_leave(leave: Sequence[PotsToLeave]) -> list[dict[str, Any]]:
    """Gather the pots that are left for the same reason, so that it stands once."""
    reasons = list(dict.fromkeys(printable(pots.why, 160) for pots in leave))
    return [
        {
            "why": why,
            "pots": [
                {"group": printable(pots.group, 80), "where": printable(pots.where, 140)}
                for pots in leave
                if printable(pots.why, 160) == why
            ],
        }
        for why in reasons
    ]


def _to_water(pots: PotsToWater, can_l: float | None) -> dict[str, Any]:
    return {
        "who": _place(pots.group, pots.where),
        "pots": _count(pots),
        "mix": printable(pots.mix, 80),
        "container": printable(pots.container, 60),
        "much": _much(pots.litres_each, can_l),
        "tell": " ".join(x for x in (_lift(pots), printable(pots.how_to_tell, 200)) if x),
        "note": printable(pots.note, 200),
    }


def _place(group: str, where: str) -> str:
    return ", ".join(x for x in (printable(group, 80), printable(where, 80)) if x)


def _count(pots: PotsToWater) -> tuple[str, str, str]:
    if not 1 <= pots.pots <= MOST_POTS:
        raise BadQuantity(_("pots to water"), pots.pots, "", _("from 1 to 99,999"))
    if pots.pots_in_group and not pots.pots <= pots.pots_in_group <= MOST_POTS:
        raise BadQuantity(
            _("pots in the group"),
            pots.pots_in_group,
            "",
            _("at least the pots to water ({count})").format(count=pots.pots),
        )
    if pots.pots_in_group > pots.pots:
        return _("about"), str(pots.pots), _("of {all}").format(all=pots.pots_in_group)
    return _("all") if pots.pots_in_group else "", str(pots.pots), ""


def _much(litres_each: float, can_l: float | None) -> list[str]:
    exact = _("{litres} each").format(litres=litres_in_words(litres_each))
    return [exact] if can_l is None else [can_in_words(litres_each, can_l), f"({exact})"]


def _lift(pots: PotsToWater) -> str:
    for name, kg in ((_("weight at which to water"), pots.lift_kg), (_("weight when full"), pots.full_kg)):
        if not (0 <= kg < 1000 and math.isfinite(kg)):
            raise BadQuantity(name, kg, "kg", _("from 0 to 1000"))
    if not pots.lift_kg:
        return ""
    if pots.full_kg and not pots.full_kg > pots.lift_kg:
        raise BadQuantity(
            _("weight when full"), pots.full_kg, "kg",
            _("above the weight at which to water ({kg} kg)").format(kg=_kg(pots.lift_kg)),
        )  # fmt: skip
    if pots.full_kg:
        return _("Lift: {low} kg or less wants water; {full} kg is full.").format(
            low=_kg(pots.lift_kg), full=_kg(pots.full_kg)
        )
    return _("Lift: {low} kg or less wants water.").format(low=_kg(pots.lift_kg))


def _kg(mass_kg: float) -> str:
    decimals = 2 if mass_kg < 1 else 1 if mass_kg < 100 else 0
    return f"{mass_kg:.{decimals}f}"


def _words() -> dict[str, str]:
    return {
        "page": _("page"),
        "of": _("of"),
        "pots": _("pots"),
        "water": _("Water these"),
        "nothing": _("Nothing wants water."),
        "leave": _("Do NOT water"),
        "initials": _("initials"),
        "time": _("time done"),
        "looks_dry": _("Looks dry but is not"),
        "ask": _("Ask"),
        "cautions": _("Take care"),
        "rules": follow_local_rules(),
        "source": _("Source"),
    }
