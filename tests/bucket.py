"""A stand-in for the flow of water, quick and plain: a pot is a bucket that empties and is filled up."""

import os
import time

import numpy as np

from friable.planning.season_pots import Daily
from friable.science.flow.pot import CALENDAR, HELD, NEED

SHARE_OF_DAY_WET_WHEN_FULL = 0.7


def bucket(pots, weathers, hours):
    """Each day loses what is wanted; by need or calendar it is filled up in the morning."""
    days = hours // 24
    shape = (len(pots), days)
    watered, through, wet, dry, times = (np.zeros(shape) for _figure in range(5))
    for p, pot in enumerate(pots):
        weather = weathers[pot.weather]
        wanted = weather.reference_cm[:hours].reshape(days, 24).sum(axis=1)
        rain = pot.rain_cm2 * weather.rain_cm[:hours].reshape(days, 24).sum(axis=1)
        room = pot.full_cm3 - pot.dry_cm3
        gone, last = 0.0, -pot.watering.every_days
        for day in range(days):
            due = (pot.watering.by == NEED and gone >= pot.watering.used_share * room) or (
                pot.watering.by == CALENDAR and day - last >= pot.watering.every_days
            )
            if due:
                watered[p, day], times[p, day], last = 1.1 * gone, 1, day
                through[p, day] = 0.1 * gone
                gone = 0.0
            loss = (pot.evaporation_cm2 + pot.uptake_cm2) * wanted[day]
            if pot.base.kind == HELD:
                watered[p, day] = loss
                wet[p, day] = 24.0
                continue
            gone = min(room, max(0.0, gone - rain[day]) + loss)
            wet[p, day] = 24 * max(0.0, 1 - gone / room) * SHARE_OF_DAY_WET_WHEN_FULL
            dry[p, day] = 24.0 if gone > pot.too_dry_share * room else 0.0
    return Daily(watered, through, wet, dry, times, 0, 0)


def slow_bucket(pots, weathers, hours):
    """The same, with a second of work in it."""
    time.sleep(float(os.environ.get("BUCKET_SECONDS", "1.0")))
    return bucket(pots, weathers, hours)


def bucket_with_a_hole(pots, weathers, hours):
    """Refuses, as the solver does for a pot that cannot be."""
    from friable.errors import BadQuantity

    raise BadQuantity("area that catches rain", -1.0, "cm2", "0 or more")


def bucket_that_kills(pots, weathers, hours):
    """Ends its process, as one that runs out of memory is ended."""
    os._exit(9)
