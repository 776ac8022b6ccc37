"""Dates and times as loggers write them."""

import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from itertools import pairwise

MONTHS = {
    name: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), start=1
    )
}
STAMP = re.compile(
    r"""
    \s*(?:
        (?P<iso_year>\d{4})[-/.](?P<iso_month>\d{1,2})[-/.](?P<iso_day>\d{1,2})
      | (?P<first>\d{1,2})(?P<mark>[-/.\ ])(?P<second>\d{1,2})(?P=mark)(?P<year>\d{4}|\d{2})
      | (?P<day>\d{1,2})[-\ ./](?P<name>[A-Za-z]{3,9})\.?[-\ ,./]+(?P<named_year>\d{4}|\d{2})
      | (?P<name_us>[A-Za-z]{3,9})\.?\ (?P<day_us>\d{1,2}),?\ (?P<year_us>\d{4})
    )
    (?:
        [T,\ ]+(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<sec>\d{2})(?:[.,]\d+)?)?
        \s*(?P<half>[AaPp]\.?[Mm]\.?)?
    )?
    \s*(?P<zone>Z|[+-]\d{2}:?\d{2})?\s*
    """,
    re.VERBOSE,
)
PLAIN_ISO = re.compile(r"\d{4}-\d\d-\d\d[T ](?!24)\d\d:\d\d(:\d\d)?", re.ASCII)
DMY, MDY = "dmy", "mdy"
NOON = 12
LAST_HOUR = 24
CENTURY = 2000
LONGEST_STAMP = 60


class Unreadable(ValueError):
    """A text that is no date and time."""


def possible_orders(stamps: Iterable[str]) -> set[str]:
    """Return which of day/month and month/day all dates allow; empty if no date leaves it open."""
    possible, open_to_doubt = {DMY, MDY}, False
    for stamp in stamps:
        if PLAIN_ISO.fullmatch(stamp):
            continue
        match = STAMP.fullmatch(stamp[:LONGEST_STAMP])
        if match is None or match["first"] is None:
            continue
        open_to_doubt = True
        if match["mark"] == ".":
            possible.discard(MDY)  # dots are not written that way round
        if int(match["first"]) > NOON:
            possible.discard(MDY)
        if int(match["second"]) > NOON:
            possible.discard(DMY)
    return possible if open_to_doubt else set()


def likelier_order(stamps: Iterable[str]) -> str:
    """Return the order under which the dates lie closest together; only a guess to show."""
    spans = {}
    some = list(stamps)
    for order in (DMY, MDY):
        try:
            times = [read_stamp(stamp, order) for stamp in some]
        except Unreadable:
            continue
        backwards = sum(later < earlier for earlier, later in pairwise(times))
        spans[order] = (backwards, max(times) - min(times))
    return min(spans, key=lambda order: spans[order]) if spans else DMY


def read_stamp(stamp: str, order: str = DMY) -> datetime:
    """Return a date and time; a zone or offset is left out, the clock is taken as it is written.

    Raises
    ------
    Unreadable
        If it is none.
    """
    if PLAIN_ISO.fullmatch(stamp):  # most loggers; four times as fast
        try:
            return datetime.fromisoformat(stamp)
        except ValueError:
            raise Unreadable(stamp) from None
    match = STAMP.fullmatch(stamp[: LONGEST_STAMP + 1])
    if match is None or match["hour"] is None:
        raise Unreadable(stamp)
    if match["iso_year"]:
        year, month, day = int(match["iso_year"]), int(match["iso_month"]), int(match["iso_day"])
    elif match["first"]:
        day, month = int(match["first"]), int(match["second"])
        if order == MDY:
            day, month = month, day
        year = int(match["year"])
    else:
        name = (match["name"] or match["name_us"])[:3].casefold()
        if name not in MONTHS:
            raise Unreadable(stamp)
        month, day = MONTHS[name], int(match["day"] or match["day_us"])
        year = int(match["named_year"] or match["year_us"])
    hour, minute = int(match["hour"]), int(match["minute"])
    if match["half"]:
        if not 1 <= hour <= NOON:
            raise Unreadable(stamp)
        hour = hour % NOON + (NOON if match["half"][0] in "pP" else 0)
    midnight = hour == LAST_HOUR and minute == 0
    try:
        read = datetime(
            year + (CENTURY if year < 100 else 0),
            month,
            day,
            0 if midnight else hour,
            minute,
            int(match["sec"] or 0),
        )
    except ValueError:
        raise Unreadable(stamp) from None
    return read + timedelta(days=1) if midnight else read
