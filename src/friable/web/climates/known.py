"""Climates that can be chosen: stored ones by their number, built-in seasons by their name."""

from functools import lru_cache
from typing import TYPE_CHECKING

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from friable.errors import Refused, UnknownName
from friable.records import weather
from friable.records.models import ClimateFile
from friable.records.queries.water import climates_in_use

if TYPE_CHECKING:
    from datetime import date, datetime

    from friable.planning.climate import Climate

KEPT = 8
STORED = "stored-"
BUILT_IN_DAYS = 60  # enough for bark in winter
USUAL = "temperate glasshouse summer"


def climate_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return groups of choices: ours first, then the built-in seasons."""
    from friable.reference.seasons import all_seasons

    ours = [(f"{STORED}{row.pk}", row.name) for row in climates_in_use()]
    built_in = [(season.name, season.name) for season in all_seasons()]
    groups = [(str(_("Recorded here, and weather files")), ours)] if ours else []
    return [*groups, (str(_("Built in, from memory")), built_in)]


def year_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return groups of choices for a season: ours, then built-in years by house."""
    from friable.reference.seasons import houses

    ours = [(f"{STORED}{row.pk}", row.name) for row in climates_in_use()]
    groups = [(str(_("Recorded here, and weather files")), ours)] if ours else []
    return [*groups, (str(_("Built-in years, from memory")), [(house, house) for house in houses()])]


def stored_row(choice: str) -> ClimateFile | None:
    """Return the stored climate that was chosen; None for a built-in one."""
    if not choice.startswith(STORED):
        return None
    number = choice.removeprefix(STORED)
    row = (
        ClimateFile.objects.filter(pk=int(number)).first()
        if number.isdecimal() and len(number) < 18
        else None
    )
    if row is None:
        raise UnknownName(_("climate"), choice, [])
    return row


def pot_climate(choice: str, first_day: "date | None" = None) -> "Climate":
    """Return the weather in which one pot is followed: a stored climate from a day on, or a built-in season.

    Raises
    ------
    FriableError
        If there is no such climate, or it has no such day.
    """
    from friable.planning.plain_season import plain_season

    row = stored_row(choice)
    if row is None:
        if first_day is not None:
            raise Refused(
                _("A built-in season is the same every day; leave the day out, or choose a record.")
            )
        return plain_season(choice, BUILT_IN_DAYS)
    climate = climate_of(row)
    if first_day is None:
        return climate
    number = _day_number(climate, first_day)
    return climate.between(number, climate.days - number)


def _day_number(climate: "Climate", wanted: "date") -> int:
    """Return where a day stands in a record; its year is left aside where the record has another."""
    days = [climate.day(number) for number in range(climate.days)]
    for same in (lambda day: day == wanted, lambda day: (day.month, day.day) == (wanted.month, wanted.day)):
        if found := [number for number, day in enumerate(days) if same(day)]:
            return found[0]
    raise Refused(
        _("{name} runs from {first} to {last} and has no such day; choose one of them.").format(
            name=climate.name, first=days[0].isoformat(), last=days[-1].isoformat()
        )
    )


def version_of(choice: str) -> "tuple[int, datetime] | None":
    """Return what changes when a stored climate does; None for a built-in one."""
    row = stored_row(choice)
    return None if row is None else _newest_change(row)


def climate_of(row: ClimateFile) -> "Climate":
    """Return a stored climate, read once for as long as nothing is changed in it."""
    return _read(row.pk, _newest_change(row), get_language())


@lru_cache(maxsize=KEPT)
def _read(pk: int, _version: "tuple[int, datetime] | None", _language: str) -> "Climate":
    return weather.climate(ClimateFile.objects.get(pk=pk))


def _newest_change(row: ClimateFile) -> "tuple[int, datetime] | None":
    """Return what no other state of a climate has, in this database or in one that was restored over it."""
    newest = row.history.order_by("-history_id").values_list("history_id", "history_date").first()
    return tuple(newest) if newest else None
