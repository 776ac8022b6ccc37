"""A logger's CSV, whatever its columns are called, read into a climate."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadFile, shown
from friable.planning.climate import COLDEST_C, WARMEST_C, Climate
from friable.planning.logger_columns import (
    ColumnsWanted,
    check_answers,
    guessed_columns,
    says_per_cent,
    unit_of_light,
    unit_of_temperature,
)
from friable.planning.logger_hours import HOURS, gaps_filled, hour_numbers, hourly_means, whole_days
from friable.planning.logger_times import Unreadable, likelier_order, possible_orders, read_stamp
from friable.planning.weather_table import Rows, number_in, table_of
from friable.reference.evaporation_defaults import evaporation_default
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_PER_CENT, SENSOR_SLACK = 100.0, 105.0
BACK_AN_HOUR = timedelta(hours=1, minutes=1)
SAMPLE_ROWS = 3


def read_logger_csv(
    text: str,
    columns: Mapping[str, str] | None = None,
    *,
    name: str = "",
    under_glass: bool = True,
    light_transmission: float | None = None,
    latitude_deg: float | None = None,
    elevation_m: float = 0.0,
) -> Climate:
    """Read the record of a logger.

    Parameters
    ----------
    text : str
        Rows under a header, columns in any order and of any names, set apart by commas, semicolons or tabs.
    columns : mapping, optional
        Answers given once: “time” (or “date” and “clock”), “temperature”, “humidity” and “light” name
        headers; “date_order” is dmy or mdy, “temperature_unit” C or F, “humidity_unit” % or share,
        “light_unit” W/m2, lux or umol. What is left out is read from the headers where they say it.
    name : str
        What to call it.
    under_glass : bool
        Whether the logger hung in a house.
    light_transmission : float, optional
        Share of the light outside that reaches the plants. With light from the logger: by default 1, it hung
        with them. Without: by default that of clean glass in a house, 1 outdoors.
    latitude_deg, elevation_m : float, optional
        Where. [°, m]

    Raises
    ------
    ColumnsWanted
        If the headers do not say which is which, with the best guess.
    BadFile
        If it cannot be read, with the line or the time.

    Notes
    -----
    Readings are averaged over the hours into which they fall. Part days at both ends are left out; gaps of up
    to three hours are filled in straight lines; `Climate.notes` tells all of it. An hour counted twice when
    summer time ends is averaged; clocks are not otherwise changed.
    """
    header, rows = table_of(text)
    answers = _answers(columns, header, rows)
    times = _times(rows, header, answers)
    start, days = whole_days(times)
    numbers, hours = hour_numbers(times, start), days * HOURS
    notes = [_said(answers)]
    if min(times) < start or hour_numbers([max(times)], start)[0] >= hours:
        notes.append(
            _("Part days at the ends were left out: {days} whole days from {first} are used.").format(
                days=days, first=start.date().isoformat()
            )
        )
    if any(later <= earlier for earlier, later in pairwise(times)):
        notes.append(_("Where a time stands twice or the clock went back, the readings were averaged."))

    def hourly(key: str) -> "NDArray[np.float64]":
        values, told = _values(rows, header.index(answers[key]), key, answers)
        filled, gaps = gaps_filled(hourly_means(numbers, values, hours), start, _said_of(key))
        notes.extend((*told, *gaps))
        return filled

    temperature, humidity = hourly("temperature"), hourly("humidity")
    light = hourly("light") if "light" in answers else None
    if light_transmission is None:
        light_transmission = 1.0
        if under_glass and light is None:
            light_transmission = evaporation_default("glass_light_transmission").value
    return Climate(
        name=name or _("record of a logger"),
        source=_("measured here"),
        how_known="measured",
        starts_on=start.date(),
        temperature_c=temperature,
        relative_humidity=humidity,
        radiation_w_m2=light,
        latitude_deg=latitude_deg,
        elevation_m=elevation_m,
        under_glass=under_glass,
        light_transmission=light_transmission,
        notes=tuple(notes),
    )


def _said_of(key: str) -> str:
    return {"temperature": _("temperature"), "humidity": _("humidity"), "light": _("light")}[key]


def _answers(columns: Mapping[str, str] | None, header: list[str], rows: Rows) -> dict[str, str]:
    """Return a header for each quantity and a choice for each unit; ask where that is not certain."""
    given = check_answers(columns or {}, header)
    guess, unsure = guessed_columns(header)
    if "time" in given:
        guess = {key: value for key, value in guess.items() if key not in ("date", "clock")}
    elif "date" in given or "clock" in given:
        guess.pop("time", None)
    if {"time", "date", "temperature", "humidity"} & set(given) and "light" not in given:
        guess.pop("light", None)  # who named the columns named them all
    answers = {**guess, **given}
    asked = [key for key in unsure if key not in given and not (key == "light" and key not in answers)]
    if "date" in answers or "clock" in answers:
        asked = [key for key in asked if key != "time"] + [k for k in ("date", "clock") if k not in answers]
    _settle_units(answers, asked, header, rows)
    stamps = _stamps(rows, header, answers) if not {"time", "date", "clock"} & set(asked) else []
    if "date_order" not in given and len(possible := possible_orders(stamps)) > 1:
        answers["date_order"] = likelier_order(stamps)
        asked.append("date_order")
    elif "date_order" not in given:
        answers["date_order"] = next(iter(possible), "dmy") if stamps else "dmy"
    if asked:
        raise ColumnsWanted(header, answers, asked, [cells for _line, cells in rows[:SAMPLE_ROWS]])
    return answers


def _settle_units(answers: dict[str, str], asked: list[str], header: list[str], rows: Rows) -> None:
    if "temperature" in answers and "temperature_unit" not in answers:
        unit = unit_of_temperature(answers["temperature"])
        answers["temperature_unit"] = unit or "C"
        if not unit:
            asked.append("temperature_unit")
    if "humidity" in answers and "humidity_unit" not in answers:
        place = header.index(answers["humidity"])
        readings = (number_in(cells[place]) for _line, cells in rows if place < len(cells))
        certain = says_per_cent(answers["humidity"]) or any(
            value > 1 for value in readings if value is not None
        )
        answers["humidity_unit"] = "%" if certain else "share"
        if not certain:
            asked.append("humidity_unit")
    if "light" in answers and "light_unit" not in answers:
        unit = unit_of_light(answers["light"])
        answers["light_unit"] = unit or "W/m2"
        if not unit:
            asked.append("light_unit")


def _said(answers: Mapping[str, str]) -> str:
    when = f"“{shown(answers['time'])}”" if "time" in answers else ""
    when = when or f"“{shown(answers['date'])}” + “{shown(answers['clock'])}”"
    said = _(
        "Read: time from {time}, temperature from “{temperature}” ({unit}), humidity from “{humidity}”."
    ).format(
        time=when,
        temperature=shown(answers["temperature"]),
        unit=f"°{answers['temperature_unit']}",
        humidity=shown(answers["humidity"]),
    )
    if "light" in answers:
        said += " " + _("Light from “{light}” ({unit}).").format(
            light=shown(answers["light"]), unit=answers["light_unit"]
        )
    return said


def _stamps(rows: Rows, header: list[str], answers: Mapping[str, str]) -> list[str]:
    names = ("time",) if "time" in answers else ("date", "clock")
    places = [header.index(answers[key]) for key in names]
    return [" ".join(cells[place] for place in places if place < len(cells)) for _line, cells in rows]


def _times(rows: Rows, header: list[str], answers: Mapping[str, str]) -> list[datetime]:
    times: list[datetime] = []
    latest: datetime | None = None
    for (line, _cells), stamp in zip(rows, _stamps(rows, header, answers), strict=True):
        try:
            time = read_stamp(stamp, answers["date_order"])
        except Unreadable:
            raise BadFile(
                _(
                    "Line {line} of the weather file: “{stamp}” is no date with a time;"
                    " write it as 2026-07-01 13:05."
                ).format(line=line, stamp=shown(stamp))
            ) from None
        if latest is not None and time < latest - BACK_AN_HOUR:
            raise BadFile(
                _(
                    "Line {line} of the weather file: the time goes back from {before} to {now};"
                    " sort it by time."
                ).format(
                    line=line, before=latest.isoformat(" ", "minutes"), now=time.isoformat(" ", "minutes")
                )
            )
        latest = time if latest is None or time > latest else latest
        times.append(time)
    return times


def _values(
    rows: Rows, place: int, key: str, answers: Mapping[str, str]
) -> "tuple[NDArray[np.float64], list[str]]":
    """Return the readings of a column in our units, and what was done to them."""
    values = np.full(len(rows), np.nan)
    for number, (line, cells) in enumerate(rows):
        cell = cells[place] if place < len(cells) else ""
        reading = number_in(cell)
        if reading is None:
            raise BadFile(
                _("Line {line} of the weather file: the {what} “{cell}” is no number.").format(
                    line=line, what=_said_of(key), cell=shown(cell)
                )
            )
        values[number] = reading
    if key == "temperature":
        values = (values - 32) / 1.8 if answers["temperature_unit"] == "F" else values
        _refuse_outside(values, COLDEST_C, WARMEST_C, "°C", rows, key)
        return values, []
    if key == "light":
        unit = {"lux": "lux_per_w_m2", "umol": "umol_per_w_m2"}.get(answers["light_unit"])
        values = values / evaporation_default(unit).value if unit else values
        _refuse_outside(values, 0.0, 1600.0, "W/m²", rows, key)
        return values, []
    values = values * 100 if answers["humidity_unit"] == "share" else values
    _refuse_outside(values, 0.0, SENSOR_SLACK, "%", rows, key)
    over = int(np.sum(values > MOST_PER_CENT))
    told = (
        [_("{count} readings of humidity above 100 % were taken as 100 %.").format(count=over)]
        if over
        else []
    )
    return np.where(values > MOST_PER_CENT, MOST_PER_CENT, values) / 100, told


def _refuse_outside(
    values: "NDArray[np.float64]", low: float, high: float, unit: str, rows: Rows, key: str
) -> None:
    outside = np.flatnonzero((values < low) | (values > high))
    if outside.size:
        raise BadFile(
            _(
                "Line {line} of the weather file: a {what} of {value:.6g} {unit};"
                " it must be from {low:g} to {high:g}."
            ).format(
                line=rows[int(outside[0])][0],
                what=_said_of(key),
                value=float(values[outside[0]]),
                unit=unit,
                low=low,
                high=high,
            )
        )
