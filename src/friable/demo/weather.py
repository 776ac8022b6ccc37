"""A year of house 2 at Quillmoor as its logger might have written it; every reading invented.

Temperature and humidity follow the curves of `readings`: a wave over the year, one over the day, and three
slow waves that stand for passing weather. They come from no place and no record.
"""

import math
from collections.abc import Iterator
from datetime import datetime, timedelta

from friable.demo.people import KEEPER
from friable.records import actions
from friable.records.models import ClimateFile

HOUSE = "Quillmoor house 2"
FIRST = datetime(2025, 1, 1)
HOURS = 365 * 24
HEADER = "Time,Temp °C,RH %"
PASSING_DAYS = (3.7, 8.3, 19.0)  # periods of the slow waves; none divides another


def readings() -> Iterator[tuple[datetime, float, float]]:
    """Yield time, temperature [°C] and relative humidity [%] hour by hour."""
    for hour in range(HOURS):
        day = hour / 24
        year = math.cos(2 * math.pi * (day - 200) / 365)  # warmest on 20 July
        sun = math.cos(2 * math.pi * (hour % 24 - 14) / 24)  # warmest at 14:00
        passing = sum(math.sin(2 * math.pi * day / period + period) for period in PASSING_DAYS) / 3
        temperature = max(7.5, 16 + 6 * year + (3.5 + 2 * year) * sun + 2.5 * passing)
        humidity = 72 - 6 * year - (9 + 4 * year) * sun - 8 * passing
        yield FIRST + timedelta(hours=hour), temperature, min(97.0, max(32.0, humidity))


def logger_text() -> str:
    """Return the file as a logger would have written it."""
    lines = (f"{when:%Y-%m-%d %H:%M},{celsius:.1f},{humid:.0f}" for when, celsius, humid in readings())
    return "\n".join((HEADER, *lines)) + "\n"


def store_climate() -> ClimateFile:
    """Keep the year of house 2."""
    return actions.add_climate(
        HOUSE,
        by=KEEPER,
        kind="logger",
        text=logger_text(),
        starts_on=FIRST.date(),
        hours=HOURS,
        under_glass=True,
        light_transmission=0.55,
        latitude_deg=53.0,
        elevation_m=90.0,
        note="Invented: made from curves, not recorded. The logger hangs over the middle bench, shaded.",
    )
