"""EnergyPlus weather files: eight header lines and an hour in each line, fields by their number.

Fields and codes for what is missing are those of the format's data dictionary.   [epw2024]_
"""

import csv
import io
import math
from datetime import date, datetime
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadFile, shown
from friable.planning.climate import BRIGHTEST_W_M2, COLDEST_C, FASTEST_M_S, WARMEST_C, WETTEST_MM, Climate
from friable.planning.logger_hours import gaps_filled
from friable.science.evaporation import saturation_vapour_pressure_kpa, wind_at_2_m
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_CHARACTERS = 9_000_000
HEADERS = (
    "LOCATION", "DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS", "GROUND TEMPERATURES",
    "HOLIDAYS/DAYLIGHT SAVING", "COMMENTS 1", "COMMENTS 2", "DATA PERIODS",
)  # fmt: skip
LONGER_HEADER = "HOLIDAYS/DAYLIGHT SAVINGS"  # as many files write it
HOURS_OF_YEAR, HOURS_OF_LEAP_YEAR = 8760, 8784
PLAIN_YEAR, LEAP_YEAR = 2001, 2000  # for files put together from months of several years
WIND_MEASURED_AT_M = 10.0  # height of the wind in such files, from memory
YEAR, MONTH, DAY, HOUR = range(4)
CITY, LATITUDE, LONGITUDE, TIME_ZONE, ELEVATION = 1, 6, 7, 8, 9
# Place of a field in the line, from 0; least value that means missing; range; unit.
FIELDS = {
    "temperature": (6, 99.9, COLDEST_C, WARMEST_C, "°C"),
    "dew point": (7, 99.9, -70.0, WARMEST_C, "°C"),
    "humidity": (8, 999.0, 0.0, 110.0, "%"),
    "light": (13, 9999.0, 0.0, BRIGHTEST_W_M2, "W/m²"),
    "wind": (21, 999.0, 0.0, FASTEST_M_S, "m/s"),
    "rain": (33, 999.0, 0.0, WETTEST_MM, "mm"),
}
FEWEST_FIELDS = 22  # through the wind


def looks_like_epw(text: str) -> bool:
    """Say whether a text begins as a weather file of this format does."""
    return text.lstrip("\ufeff \r\n")[:9].upper() == "LOCATION,"


def read_epw(text: str, *, name: str = "") -> Climate:
    """Read a weather file for building simulation: a year outdoors, by the hour.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        What to call it; the place its first line names by default.

    Raises
    ------
    BadFile
        If it is not such a file, is not one whole year by the hour, or lacks more than three hours on end of
        temperature, humidity or light.

    Notes
    -----
    Humidity that is missing is worked out from the dew point. Rain that is missing counts as none, and the
    notes say so. Hour 1 of the file is 00:00 to 01:00. Files put together from months of several years are
    read as one year: that of the first line where the number of days fits it, else 2001 (2000 with a 29
    February).
    """
    if len(text) > MOST_CHARACTERS:
        raise BadFile(
            _("The weather file has {count} characters; the most is {most}. Give one year.").format(
                count=f"{len(text):,}", most=f"{MOST_CHARACTERS:,}"
            )
        )
    if "\0" in text:
        raise BadFile(_("The weather file is not text; give the .epw file as it was downloaded."))
    lines = text.removeprefix("\ufeff").splitlines()
    place = _place(lines)
    data = [
        (number, line)
        for number, line in enumerate(lines[len(HEADERS) :], start=len(HEADERS) + 1)
        if line.strip()
    ]
    if len(data) not in (HOURS_OF_YEAR, HOURS_OF_LEAP_YEAR):
        raise BadFile(
            _(
                "The weather file has {count} hours; a year has {plain} or {leap}. Give the whole file."
            ).format(count=f"{len(data):,}", plain=f"{HOURS_OF_YEAR:,}", leap=f"{HOURS_OF_LEAP_YEAR:,}")
        )
    cells = [_cells(number, line) for number, line in data]
    starts_on = _checked_dates(data, cells)
    start = datetime.combine(starts_on, datetime.min.time())
    notes: list[str] = []
    got = {key: _field(key, data, cells) for key in FIELDS}

    def whole(key: str, said: str) -> "NDArray[np.float64]":
        filled, told = gaps_filled(got[key], start, said)
        notes.extend(told)
        return filled

    temperature = whole("temperature", _("temperature"))
    humidity = _humidity(got, temperature, notes)
    got["humidity"] = humidity
    humidity = whole("humidity", _("humidity"))
    light = None if np.isnan(got["light"]).all() else whole("light", _("light"))
    wind = None if np.isnan(got["wind"]).all() else wind_at_2_m(whole("wind", _("wind")), WIND_MEASURED_AT_M)
    dry = np.isnan(got["rain"])
    if dry.any():
        notes.append(
            _("{count} hours without a figure for rain were taken as dry.").format(count=int(dry.sum()))
        )
    elif not got["rain"].any():
        notes.append(_("The file says that it never rains; many such files leave rain out."))
    latitude, longitude, zone, elevation = (place[key] for key in (LATITUDE, LONGITUDE, TIME_ZONE, ELEVATION))
    return Climate(
        name=name or shown(_city(lines[0])) or _("weather file"),
        source=_("weather file"),
        how_known="published",
        starts_on=starts_on,
        temperature_c=temperature,
        relative_humidity=humidity,
        radiation_w_m2=light,
        wind_m_s=wind,
        rain_mm=np.where(dry, 0.0, got["rain"]),
        latitude_deg=latitude,
        elevation_m=elevation,
        mean_noon_h=12 + zone - longitude / 15,
        notes=tuple(notes),
    )


def _humidity(
    got: "dict[str, NDArray[np.float64]]", temperature: "NDArray[np.float64]", notes: list[str]
) -> "NDArray[np.float64]":
    """Humidity as a share, from the dew point where it is missing; above 100 % as 100 %."""
    humidity = got["humidity"] / 100
    from_dew = np.isnan(humidity) & ~np.isnan(got["dew point"])
    if from_dew.any():
        vapour = saturation_vapour_pressure_kpa(got["dew point"][from_dew])
        humidity[from_dew] = vapour / saturation_vapour_pressure_kpa(temperature[from_dew])
        notes.append(
            _("{count} hours of humidity were worked out from the dew point.").format(
                count=int(from_dew.sum())
            )
        )
    over = humidity > 1
    if over.any():
        notes.append(
            _("{count} hours of humidity above 100 % were taken as 100 %.").format(count=int(over.sum()))
        )
    return np.where(over, 1.0, humidity)


def _city(line: str) -> str:
    cells = line.split(",")
    return cells[CITY].strip() if len(cells) > CITY else ""


def _place(lines: list[str]) -> dict[int, float]:
    """Check the eight headers; return latitude, longitude, hours from UTC and height by their places."""
    for number, wanted in enumerate(HEADERS):
        line = lines[number] if number < len(lines) else ""
        keyword = line.split(",", 1)[0].strip().upper()
        if keyword not in (
            wanted,
            LONGER_HEADER if number == HEADERS.index("HOLIDAYS/DAYLIGHT SAVING") else wanted,
        ):
            raise BadFile(
                _(
                    "Line {line} of the weather file begins with “{word}”; it must begin with {wanted}."
                ).format(line=number + 1, word=shown(keyword), wanted=wanted)
            )
    periods = [cell.strip() for cell in lines[len(HEADERS) - 1].split(",")]
    if periods[1:3] != ["1", "1"]:
        raise BadFile(
            _("Line 8 of the weather file must announce one period with one line an hour (DATA PERIODS,1,1).")
        )
    cells = [cell.strip() for cell in lines[0].split(",")]
    place = {}
    for key, said, low, high in (
        (LATITUDE, _("latitude"), -89.9, 89.9),
        (LONGITUDE, _("longitude"), -180.0, 180.0),
        (TIME_ZONE, _("hours from UTC"), -12.0, 14.0),
        (ELEVATION, _("height above the sea"), -500.0, 9000.0),
    ):
        text = cells[key] if key < len(cells) else ""
        value = _plain_number(text)
        if value is None or not low <= value <= high:
            raise BadFile(
                _(
                    "Line 1 of the weather file: the {what} is “{text}”; it must be from {low:g} to {high:g}."
                ).format(what=said, text=shown(text), low=low, high=high)
            )
        place[key] = value
    return place


def _plain_number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _cells(number: int, line: str) -> list[str]:
    cells = [cell.strip() for cell in next(csv.reader(io.StringIO(line)), [])]
    if len(cells) < FEWEST_FIELDS:
        raise BadFile(
            _("Line {line} of the weather file has {count} fields; at least {least} are needed.").format(
                line=number, count=len(cells), least=FEWEST_FIELDS
            )
        )
    return cells


def _checked_dates(data: list[tuple[int, str]], cells: list[list[str]]) -> date:
    """Return 1 January of the year to read it as, once every line is the hour it should be."""
    leap = len(data) == HOURS_OF_LEAP_YEAR
    first = cells[0][YEAR]
    year = int(first) if first.isdigit() and 1900 <= int(first) <= 2200 else 0
    if not year or (date(year + 1, 1, 1) - date(year, 1, 1)).days * 24 != len(data):
        year = LEAP_YEAR if leap else PLAIN_YEAR
    ordinal = date(year, 1, 1).toordinal()
    for place, ((number, _line), row) in enumerate(zip(data, cells, strict=True)):
        day = date.fromordinal(ordinal + place // 24)
        wanted = (day.month, day.day, place % 24 + 1)
        got = tuple(int(cell) if cell.isdigit() else -1 for cell in row[MONTH : HOUR + 1])
        if got != wanted:
            raise BadFile(
                _(
                    "Line {line} of the weather file is month {month}, day {day}, hour {hour}; it must be"
                    " month {wanted_month}, day {wanted_day}, hour {wanted_hour}."
                ).format(
                    line=number,
                    month=shown(row[MONTH]),
                    day=shown(row[DAY]),
                    hour=shown(row[HOUR]),
                    wanted_month=wanted[0],
                    wanted_day=wanted[1],
                    wanted_hour=wanted[2],
                )
            )
    return date(year, 1, 1)


def _field(key: str, data: list[tuple[int, str]], cells: list[list[str]]) -> "NDArray[np.float64]":
    """Return a field of every hour; not a number where the file says that it is missing."""
    place, missing_from, low, high, unit = FIELDS[key]
    values = np.full(len(cells), np.nan)
    for hour, row in enumerate(cells):
        text = row[place] if place < len(row) else ""
        if not text:
            continue
        value = _plain_number(text)
        if value is None or (value < missing_from and not low <= value <= high):
            raise BadFile(
                _(
                    "Line {line} of the weather file: field {field} is “{text}”; it must be from {low:g} to"
                    " {high:g} {unit}."
                ).format(line=data[hour][0], field=place + 1, text=shown(text), low=low, high=high, unit=unit)
            )
        if value < missing_from:
            values[hour] = value
    return values
