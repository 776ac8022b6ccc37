"""Readings at any times made into whole hours of whole days, with short gaps filled and told."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadFile
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

LONGEST_GAP_H = 3
HOURS = 24
SECONDS = 3600
LONGEST_DAYS = 11 * 366
STAMP = "%Y-%m-%d %H:%M"


def whole_days(times: list[datetime]) -> tuple[datetime, int]:
    """Return the first midnight from which the readings run, and how many whole days they cover.

    Raises
    ------
    BadFile
        If they cover no whole day, or more than eleven years.
    """
    first, last = min(times), max(times)
    start = first.replace(hour=0, minute=0, second=0, microsecond=0)
    if first.hour > 0:
        start += timedelta(days=1)
    end = last.replace(hour=0, minute=0, second=0, microsecond=0)
    if last.hour == HOURS - 1:
        end += timedelta(days=1)
    days = (end - start).days
    if days < 1:
        raise BadFile(
            _(
                "The weather file runs from {first} to {last}, which holds no whole day; give at least one."
            ).format(first=first.strftime(STAMP), last=last.strftime(STAMP))
        )
    if days > LONGEST_DAYS:
        raise BadFile(
            _(
                "The weather file runs from {first} to {last}, longer than eleven years; look at its dates."
            ).format(first=first.strftime(STAMP), last=last.strftime(STAMP))
        )
    return start, days


def hour_numbers(times: list[datetime], start: datetime) -> "NDArray[np.int_]":
    """Return the hour after `start` into which each reading falls; negative before it."""
    return np.array([(time - start) // timedelta(hours=1) for time in times], dtype=int)


def hourly_means(
    numbers: "NDArray[np.int_]", values: "NDArray[np.float64]", hours: int
) -> "NDArray[np.float64]":
    """Return the mean of the readings in each hour; not a number where there is none."""
    good = (numbers >= 0) & (numbers < hours) & np.isfinite(values)
    count = np.bincount(numbers[good], minlength=hours)
    total = np.bincount(numbers[good], weights=values[good], minlength=hours)
    means = np.full(hours, np.nan)
    np.divide(total, count, out=means, where=count > 0)
    return means


def gaps_filled(
    values: "NDArray[np.float64]", start: datetime, said: str
) -> "tuple[NDArray[np.float64], tuple[str, ...]]":
    """Return hours with gaps of up to three filled in straight lines, and a note that tells so.

    Raises
    ------
    BadFile
        If a gap is longer, with its place.
    """
    missing = np.isnan(values)
    if not missing.any():
        return values, ()
    edges = np.flatnonzero(np.diff(np.concatenate(([False], missing, [False])).astype(int)))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if end - begin > LONGEST_GAP_H:
            raise BadFile(
                _(
                    "From {begin} to {end} ({hours} hours) the weather file has no {what}; only gaps of up to"
                    " {longest} hours are filled. Give a file without the gap, or the part before or after."
                ).format(
                    begin=(start + timedelta(hours=int(begin))).strftime(STAMP),
                    end=(start + timedelta(hours=int(end))).strftime(STAMP),
                    hours=int(end - begin),
                    what=said,
                    longest=LONGEST_GAP_H,
                )
            )
    there = np.flatnonzero(~missing)
    filled = np.interp(np.arange(values.size), there, values[there])
    note = _("{count} hours without {what} were filled in from the hours around them.").format(
        count=int(missing.sum()), what=said
    )
    return filled, (note,)
