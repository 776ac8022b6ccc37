"""Who must be watered on the days when somebody else looks after the pots, out of a season that was run."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from friable.errors import BadQuantity, Refused
from friable.planning.season_answer import GAPS, KindSeason, SeasonAnswer
from friable.wording import gettext as _

MUST, MAY, NOT = "must", "may", "not"
MUST_FROM, MAY_FROM = 0.8, 0.2  # chances; common practice, no source
AROUND_DAYS = 10  # waterings so near a date tell how fast pots dry at that time of the year
LONGEST_DAYS = 31


@dataclass(frozen=True, slots=True)
class DoorLine:
    """One line for the door: pots of one kind in one group, on one day.

    `chance` is that of needing water that day, `litres_each` what one pot then takes.
    """

    day: date
    group: str
    mix: str
    container: str
    plant: str
    watering: str
    count: int
    litres_each: float
    chance: float
    verdict: str  # must, may (look first) or not

    def to_json(self) -> dict[str, Any]:
        """Return the line as plain values."""
        plain = {name: getattr(self, name) for name in DoorLine.__slots__}
        return {**plain, "day": self.day.isoformat()}


def door_list(
    answer: SeasonAnswer, days: Sequence[date], *, watered_on: date | None = None
) -> tuple[DoorLine, ...]:
    """Return for each day which pots must be watered, which may need it and which must not be.

    Parameters
    ----------
    answer : SeasonAnswer
    days : sequence of date
        Such as a Saturday and a Sunday.
    watered_on : date, optional
        Day, up to a week before the first, on which every pot that needed it was looked at and all were
        watered through. Without it nobody knows when a pot was last watered, and the chance is how often
        pots of its kind are watered on that date over all weathers and draws.

    Raises
    ------
    Refused
        If a day is not in the season, or none is given.
    BadQuantity
        If there are more than 31 days, or the watering is not 1 to 7 days before the days asked for.

    Notes
    -----
    After a watering on a known day the chance is read from all waterings of the kind within ten days of it:
    in how many of them the next one came by then, and for a second day of the list not before. Where none
    fell within those days, pots of the kind dry too slowly to need any. Pots that stand in water always
    must be seen to: their trays are filled up.
    """
    if not days:
        raise Refused(_("No day is given; say for which days the list is."))
    if len(days) > LONGEST_DAYS:
        raise BadQuantity(_("days of the list"), len(days), "", _("at most {most}").format(most=LONGEST_DAYS))
    if watered_on is not None:
        for day in days:
            gap = (day - watered_on).days
            if not 1 <= gap <= GAPS:
                raise BadQuantity(
                    _("days since the watering"), gap, "d", _("from 1 to {most}").format(most=GAPS)
                )
    order = {MUST: 0, MAY: 1, NOT: 2}
    lines = [
        _line(answer, kind, day, _chance(answer, kind, day, sorted(days), watered_on))
        for day in sorted(set(days))
        for kind in answer.kinds
    ]
    return tuple(
        sorted(lines, key=lambda line: (line.day, order[line.verdict], -round(line.chance, 2), line.group))
    )


def _line(answer: SeasonAnswer, kind: KindSeason, day: date, chance: float) -> DoorLine:
    verdict = MUST if chance >= MUST_FROM else MAY if chance >= MAY_FROM else NOT
    return DoorLine(
        day=day,
        group=kind.group,
        mix=kind.mix,
        container=kind.container,
        plant=kind.plant,
        watering=kind.watering,
        count=kind.count,
        litres_each=_litres_each(answer, kind, answer.day_number(day)),
        chance=chance,
        verdict=verdict,
    )


def _chance(
    answer: SeasonAnswer, kind: KindSeason, day: date, days: Sequence[date], watered_on: date | None
) -> float:
    number = answer.day_number(day)
    if kind.topped_up:
        return 1.0
    if watered_on is None or not kind.by_hand:
        return float(answer.watered[kind.kind, number])
    near = _near(answer, answer.day_number(watered_on) if watered_on >= answer.starts_on else number)
    begun = int(answer.watered_in[kind.kind, near].sum())
    if not begun:
        return 0.0
    within = answer.next_within[kind.kind, near].sum(axis=0, dtype=int)
    gap = (day - watered_on).days
    earlier = [(other - watered_on).days for other in days if other < day]
    before = int(within[max(earlier) - 1]) if earlier else 0
    return float((int(within[gap - 1]) - before) / begun)


def _near(answer: SeasonAnswer, number: int) -> slice:
    """Return the days around one whose next week is in the season as well, if there are such."""
    last = len(answer.days) - GAPS
    middle = min(number, max(0, last - 1))
    return slice(max(0, middle - AROUND_DAYS), max(1, min(last, middle + AROUND_DAYS + 1)))


def _litres_each(answer: SeasonAnswer, kind: KindSeason, number: int) -> float:
    """Return what a pot takes when it is watered about that day, 0 if it never is. [L]"""
    near = slice(max(0, number - AROUND_DAYS), number + AROUND_DAYS + 1)
    if not kind.by_hand:
        return float(answer.litres_each[kind.kind, near].mean())
    times = answer.watered_in[kind.kind, near].astype(float)
    litres = answer.litres_each[kind.kind, near].astype(float)
    return float(np.sum(litres * times) / times.sum()) if times.any() else 0.0
