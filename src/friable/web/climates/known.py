"""Climates that can be chosen: stored ones by their number, built-in seasons by their name."""

from functools import lru_cache
from typing import TYPE_CHECKING

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from friable.errors import UnknownName
from friable.records import weather
from friable.records.models import ClimateFile
from friable.records.queries.water import climates_in_use

if TYPE_CHECKING:
    from friable.planning.climate import Climate

KEPT = 8
STORED = "stored-"
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


def climate_of(row: ClimateFile) -> "Climate":
    """Return a stored climate, read once for as long as nothing is changed in it."""
    return _read(
        row.pk,
        row.history.order_by("-history_id").values_list("history_id", flat=True).first(),
        get_language(),
    )


@lru_cache(maxsize=KEPT)
def _read(pk: int, _version: int | None, _language: str) -> "Climate":
    return weather.climate(ClimateFile.objects.get(pk=pk))
