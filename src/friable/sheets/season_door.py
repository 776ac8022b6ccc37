"""The door sheet of a season: who must be watered on the days when somebody else looks after the pots."""

from datetime import date, timedelta

from friable.errors import Refused
from friable.planning.door_list import MUST, NOT, DoorLine, door_list
from friable.planning.season_answer import SeasonAnswer
from friable.sheets.door_cautions import watering_cautions
from friable.sheets.door_sheet import DoorDay, DoorSheet, PotsToLeave, PotsToWater
from friable.wording import gettext as _


def lines_for(
    answer: SeasonAnswer, first: date, last: date, watered_on: date | None = None
) -> dict[date, tuple[DoorLine, ...]]:
    """Return for each day, as it was asked for, the lines of `door_list`.

    Days of another year are looked up by their date in the season's.

    Raises
    ------
    FriableError
        If the season has no such days.
    """
    wanted = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    there = {day: same_day(answer, day) for day in wanted}
    lines = door_list(
        answer,
        list(there.values()),
        watered_on=there[first] - (first - watered_on) if watered_on else None,
    )
    return {day: tuple(line for line in lines if line.day == there[day]) for day in wanted}


def same_day(answer: SeasonAnswer, wanted: date) -> date:
    """Return a date of the season: the same one, else the same day of its year; 29 February is told as 28.

    Raises
    ------
    Refused
        If the season has no such day.
    """
    days = [day.date for day in answer.days]
    if days[0] <= wanted <= days[-1]:
        return wanted
    for number in (wanted.day, min(wanted.day, 28)):
        for day in days:
            if (day.month, day.day) == (wanted.month, number) and (number == wanted.day or wanted.month == 2):
                return day
    raise Refused(
        _("The season runs from {first} to {last} and has no {wanted}; ask for days within it.").format(
            first=days[0].isoformat(), last=days[-1].isoformat(), wanted=f"{wanted:%m-%d}"
        )
    )


def season_door_sheet(
    answer: SeasonAnswer, house: str, first: date, last: date, watered_on: date | None = None
) -> DoorSheet:
    """Return the sheet for some days.

    Raises
    ------
    FriableError
        If the season has no such days.
    """
    days = []
    for day, lines in lines_for(answer, first, last, watered_on).items():
        watered = [one for one in lines if one.verdict != NOT and one.litres_each > 0]
        days.append(
            DoorDay(
                day=day.isoformat(),
                water=tuple(_to_water(one) for one in watered),
                leave=tuple(_to_leave(one) for one in lines if one not in watered),
            )
        )
    return DoorSheet(
        title=_("Door sheet"),
        house=house,
        days=tuple(days),
        how_to_water=_("Slowly, over the whole top, until it just runs through. Then the next pot."),
        looks_dry=(
            _("Bark, coir and grit look dry on top while the pot is moist below: lift it before you water."),
        ),
        made_from=_("Season “{title}”: {climate}, {weathers} weathers by {draws} draws.").format(
            title=answer.name, climate=answer.climate, weathers=answer.weathers, draws=answer.draws
        ),
        cautions=watering_cautions(),
    )


def _to_water(line: DoorLine) -> PotsToWater:
    must = line.verdict == MUST
    return PotsToWater(
        group=line.group,
        mix=line.mix,
        container=line.container,
        pots=line.count if must else max(1, round(line.count * line.chance)),
        pots_in_group=line.count,
        litres_each=line.litres_each,
        how_to_tell="" if must else _("Look at each: water the light ones, leave the heavy ones."),
    )


def _to_leave(line: DoorLine) -> PotsToLeave:
    return PotsToLeave(
        group=line.group,
        where=f"{line.mix}, {line.container}",
        why=_("has enough; watered: {habit}").format(habit=line.watering),
    )
