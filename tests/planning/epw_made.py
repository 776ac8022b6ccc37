"""An EnergyPlus weather file of an invented place, built line by line for tests."""

import math
from datetime import date, timedelta

HEADERS = (
    "LOCATION,Quillmoor,-,-,invented,000000,51.00,-3.00,0.0,80.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,invented for tests",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
)
YEAR = 2023
FIELDS = 35


def hour_line(day, hour, **changes):
    """One hour (1 to 24) of a mild sine of a year; fields by their place from 0."""
    yearly = -math.cos(2 * math.pi * (day.timetuple().tm_yday - 15) / 365)
    daily = math.cos(2 * math.pi * (hour - 0.5 - 15) / 24)
    light = max(0.0, math.sin(math.pi * (hour - 0.5 - 6) / 12)) * (350 + 250 * yearly)
    cells = ["0"] * FIELDS
    cells[0:6] = [str(day.year), str(day.month), str(day.day), str(hour), "0", "?9"]
    cells[6] = f"{10 + 7 * yearly + 4 * daily:.1f}"
    cells[7] = f"{5 + 6 * yearly:.1f}"
    cells[8] = f"{75 - 15 * daily:.0f}"
    cells[9] = "100500"
    cells[13] = f"{light:.0f}"
    cells[20], cells[21] = "230", "4.0"
    cells[33] = "1.5" if hour == 4 and day.day % 3 == 0 else "0"
    for place, text in changes.items():
        cells[int(place.removeprefix("f"))] = text
    return ",".join(cells)


def epw_lines(year=YEAR, leave_out=(), change=None):
    """Headers and hours; `change` maps (date, hour) to changed fields such as {"f6": "99.9"}."""
    change = change or {}
    lines = list(HEADERS)
    day = date(year, 1, 1)
    while day.year == year:
        if day not in leave_out:
            lines += [hour_line(day, hour, **change.get((day, hour), {})) for hour in range(1, 25)]
        day += timedelta(days=1)
    return lines


def epw(**how):
    """The same as one text."""
    return "\n".join(epw_lines(**how)) + "\n"
