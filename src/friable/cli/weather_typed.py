"""The weather of a command: a built-in season or year by its name, or a file."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

from friable.cli.ask import optional_share
from friable.cli.typed_files import STANDARD_INPUT, read_bytes
from friable.errors import BadFile, BadText, shown
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from friable.planning.climate import Climate

YES, NO = frozenset({"yes", "y"}), frozenset({"no", "n"})
MOST_TEXT = 2000


def read_climate(
    text: str,
    built_in: "Callable[[str], Climate]",
    *,
    columns: str = "",
    glass: str = "",
    light: str = "",
    latitude: str = "",
) -> "Climate":
    """Return the weather that was named.

    Parameters
    ----------
    text : str
        A file, “-” for standard input, or a name that `built_in` knows.
    built_in : callable
        From a name to weather.
    columns, glass, light, latitude : str
        What the options of the same names say of a file: which column is which, whether the pots stand under
        glass, the share of light that reaches them, where it was recorded.

    Raises
    ------
    FriableError
        If there is no such file or name, or the file cannot be read.
    """
    from friable.planning.typed_text import plain

    name = plain(text, "--climate", MOST_TEXT)
    if not _is_file(name):
        _refuse_for_built_in(
            {"--columns": columns, "--glass": glass, "--light": light, "--latitude": latitude}
        )
        return built_in(name)
    from friable.planning.weather_file import MOST_BYTES, ColumnsWanted, read_weather

    given = read_bytes(name, _("weather file"), MOST_BYTES)
    try:
        return read_weather(
            given,
            read_columns(columns),
            name=_("standard input") if name == STANDARD_INPUT else shown(Path(name).name),
            under_glass=_yes_or_no(glass),
            light_transmission=optional_share(light, "--light"),
            latitude_deg=_degrees(latitude),
        )
    except ColumnsWanted as problem:
        asked = ", ".join(f"{key}={problem.guess.get(key, '…')}" for key in problem.asked)
        raise BadFile(
            _("{problem} Answer once with --columns “{asked}”.").format(problem=problem, asked=shown(asked))
        ) from None


def read_columns(text: str) -> dict[str, str] | None:
    """Return what “time=Date Time, temperature=Temp °C, humidity=RH” says of a file; None if nothing.

    Raises
    ------
    BadText
        If it does not begin with a key and “=”.
    """
    from friable.planning.logger_columns import KEYS
    from friable.planning.typed_text import plain

    if not text:
        return None
    said = plain(text, "--columns", MOST_TEXT)
    # A header may hold commas: only a comma before a key ends the one before.
    before, *parts = re.split(rf"(?:^|[,;])\s*({'|'.join(KEYS)})\s*=", said)
    if before.strip() or not parts:
        raise BadText(
            "--columns",
            text,
            _("does not say which column is which"),
            _("Write it as “time=Date Time, temperature=Temp, humidity=RH”; known are: {keys}.").format(
                keys=", ".join(KEYS)
            ),
        )
    return {key: name.strip() for key, name in zip(parts[::2], parts[1::2], strict=True)}


def read_date(text: str, option: str) -> "date":
    """Return a date written as 2026-07-01.

    Raises
    ------
    BadText
        If it is none.
    """
    from datetime import date

    from friable.planning.typed_text import one_cell

    cell = one_cell(text, option)
    try:
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", cell):
            raise ValueError
        return date.fromisoformat(cell)
    except ValueError:
        raise BadText(option, text, _("is no date"), _("Write it as 2026-07-01.")) from None


def starting_on(climate: "Climate", first: "date", option: str) -> "Climate":
    """Return the weather from a date on; its year is left aside where the weather has another.

    Raises
    ------
    BadText
        If the weather holds no such day.
    """
    from datetime import timedelta

    for number in range(climate.days):
        day = climate.starts_on + timedelta(days=number)
        if day == first:
            return climate.between(number, climate.days - number)
    for number in range(climate.days):
        day = climate.starts_on + timedelta(days=number)
        if (day.month, day.day) == (first.month, first.day):
            return climate.between(number, climate.days - number)
    last = climate.starts_on + timedelta(days=climate.days - 1)
    raise BadText(
        option,
        first.isoformat(),
        _("lies outside the weather"),
        _("It runs from {first} to {last}.").format(
            first=climate.starts_on.isoformat(), last=last.isoformat()
        ),
    )


def _is_file(name: str) -> bool:
    """Say whether a text means a file: one that exists, or is written as only files are."""
    try:
        exists = Path(name).exists()
    except (OSError, ValueError):
        exists = False
    written = re.search(r"[/\\]|\.[A-Za-z0-9]{2,4}$", name) is not None
    return name == STANDARD_INPUT or exists or written


def _refuse_for_built_in(options: dict[str, str]) -> None:
    for option, text in options.items():
        if text:
            raise BadText(option, text, _("belongs to a weather file"), _("Name one, or leave it out."))


def _yes_or_no(text: str) -> bool | None:
    if not text:
        return None
    said = text.strip().casefold()
    if said not in YES | NO:
        raise BadText(
            "--glass", text, _("is neither yes nor no"), _("Write yes for a house, no for the open.")
        )
    return said in YES


def _degrees(text: str) -> float | None:
    """Return a latitude, north positive. [°]"""
    from friable.planning.typed_text import leading_number, one_cell

    if not text:
        return None
    number, rest = leading_number(one_cell(text, "--latitude"), "--latitude", "51.5")
    side = rest.replace("°", "").replace("deg", "").strip().casefold()
    if side not in {"", "n", "s", "north", "south"} or not -90 < number < 90:
        raise BadText(
            "--latitude", text, _("is no latitude"), _("Write it as 51.5, or 33.9 S, within 90 degrees.")
        )
    return float(-number if side in {"s", "south"} else number)
