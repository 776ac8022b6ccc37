"""Light by the hour where only the temperature was recorded."""

from typing import TYPE_CHECKING

import numpy as np

from friable.reference.evaporation_defaults import evaporation_default
from friable.science.solar import (
    MJ_M2_PER_W_M2_HOUR,
    extraterrestrial_daily_mj_m2,
    extraterrestrial_hourly_mj_m2,
    light_from_temperatures_mj_m2,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOURS = 24
DARK_MJ_M2 = 1e-6  # a day without sun


def spread_over_the_day_w_m2(
    daily_mj_m2: "NDArray[np.float64]",
    day_of_year: "NDArray[np.float64]",
    latitude_deg: float,
    mean_noon_h: float = 12.0,
) -> "NDArray[np.float64]":
    """Return the light of days spread over their hours as the sun would above the air. [W m⁻²]

    Parameters
    ----------
    daily_mj_m2 : ndarray, shape (days,)
        Light of each day. [MJ m⁻² d⁻¹]
    day_of_year : ndarray, shape (24 * days,)
        For every hour.
    latitude_deg, mean_noon_h : float
        See `friable.science.solar`.
    """
    middle = np.tile(np.arange(HOURS) + 0.5, daily_mj_m2.size)
    hourly = extraterrestrial_hourly_mj_m2(latitude_deg, day_of_year, middle, mean_noon_h=mean_noon_h)
    whole = np.repeat(hourly.reshape(-1, HOURS).sum(axis=1), HOURS)
    share = np.zeros_like(hourly)
    np.divide(hourly, whole, out=share, where=whole > DARK_MJ_M2)
    return np.asarray(share * np.repeat(daily_mj_m2, HOURS) / MJ_M2_PER_W_M2_HOUR)


def guessed_light_w_m2(
    temperature_c: "NDArray[np.float64]",
    day_of_year: "NDArray[np.float64]",
    latitude_deg: float,
    mean_noon_h: float,
    elevation_m: float,
) -> "NDArray[np.float64]":
    """Return light guessed from how far each day's temperature swings, spread over its hours. [W m⁻²]"""
    by_day = temperature_c.reshape(-1, HOURS)
    daily = light_from_temperatures_mj_m2(
        extraterrestrial_daily_mj_m2(latitude_deg, day_of_year[::HOURS]),
        by_day.max(axis=1),
        by_day.min(axis=1),
        coefficient=evaporation_default("light_from_temperature_coefficient").value,
        elevation_m=elevation_m,
    )
    return spread_over_the_day_w_m2(daily, day_of_year, latitude_deg, mean_noon_h)
