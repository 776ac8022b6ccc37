"""The season as a calendar: for every day how many pots are to be watered, and how many stand wrong."""

from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from friable.planning.season_answer import DaySeason, SeasonAnswer

DAYS_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class Month:
    """One month as rows of weeks, Monday first; None where the month has no such day."""

    begins: date
    weeks: list[list["DaySeason | None"]]


def calendar(answer: "SeasonAnswer") -> list[Month]:
    """Return the months of a season."""
    months = []
    for _month, days in groupby(answer.days, key=lambda day: (day.date.year, day.date.month)):
        every = list(days)
        cells: list[DaySeason | None] = [None] * every[0].date.weekday() + every
        cells += [None] * (-len(cells) % DAYS_A_WEEK)
        weeks = [cells[place : place + DAYS_A_WEEK] for place in range(0, len(cells), DAYS_A_WEEK)]
        months.append(Month(every[0].date, weeks))
    return months
