"""The door sheet of a season: who must be watered on the days when somebody else looks after the pots."""

from calendar import isleap
from datetime import date, timedelta
from typing import TYPE_CHECKING

from django.utils.translation import gettext as _

from friable.errors import Refused
from friable.records.models import Season

if TYPE_CHECKING:
    from friable.planning.door_list import DoorLine
    from friable.planning.season_answer import SeasonAnswer
    from friable.sheets.door_sheet import DoorSheet, PotsToLeave, PotsToWater


def door_sheet(
    season: Season, answer: "SeasonAnswer", first: date, last: date, watered_on: date | None
) -> "DoorSheet":
    """Return the sheet for some days. Days of another year are looked up by their date in the season's.

    Raises
    ------
    FriableError
        If the season has no such days.
    """
    from friable.planning.door_list import NOT, door_list
    from friable.sheets.door_cautions import watering_cautions
    from friable.sheets.door_sheet import DoorDay, DoorSheet

    wanted = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    in_season = {day: _same_day(answer, day) for day in wanted}
    begins = in_season[first]
    lines = door_list(
        answer,
        list(in_season.values()),
        watered_on=begins - (first - watered_on) if watered_on else None,
    )
    days = []
    for day, there in in_season.items():
        todays = [line for line in lines if line.day == there]
        water = [one for one in todays if one.verdict != NOT and one.litres_each > 0]
        days.append(
            DoorDay(
                day=day.isoformat(),
                water=tuple(_to_water(one) for one in water),
                leave=tuple(_to_leave(one) for one in todays if one not in water),
            )
        )
    return DoorSheet(
        title=_("Door sheet"),
        house=season.title,
        days=tuple(days),
        how_to_water=_("Slowly, over the whole top, until it just runs through. Then the next pot."),
        looks_dry=(
            _("Bark, coir and grit look dry on top while the pot is moist below: lift it before you water."),
        ),
        made_from=_("Season “{title}”: {climate}, {weathers} weathers by {draws} draws.").format(
            title=season.title, climate=season.climate_name, weathers=answer.weathers, draws=answer.draws
        ),
        cautions=watering_cautions(),
    )


def _same_day(answer: "SeasonAnswer", wanted: date) -> date:
    """Return a date of the season: the same one, else the same day of its year."""
    days = [day.date for day in answer.days]
    if wanted in (days[0], days[-1]) or days[0] < wanted < days[-1]:
        return wanted
    leaps = wanted.month == 2 and wanted.day == 29 and not isleap(days[0].year)
    looked_for = (wanted.month, 28 if leaps else wanted.day)
    same = [day for day in days if (day.month, day.day) == looked_for]
    if not same:
        raise Refused(
            _("The season runs from {first} to {last} and has no {wanted}; ask for days within it.").format(
                first=days[0].isoformat(), last=days[-1].isoformat(), wanted=f"{wanted.day} {wanted:%B}"
            )
        )
    return same[0]


def _to_water(line: "DoorLine") -> "PotsToWater":
    from friable.planning.door_list import MUST
    from friable.sheets.door_sheet import PotsToWater

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


def _to_leave(line: "DoorLine") -> "PotsToLeave":
    from friable.sheets.door_sheet import PotsToLeave

    return PotsToLeave(
        group=line.group,
        where=f"{line.mix}, {line.container}",
        why=_("has enough; otherwise: {habit}").format(habit=line.watering),
    )
