"""Light from the sun: above the air, through a clear sky, and what is guessed where it was not measured.

Equation numbers are those of FAO Irrigation and Drainage Paper 56, chapter 3.   [allen1998]_
"""

import math
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

SOLAR_CONSTANT_MJ_M2_MIN = 0.0820
DAYS = 365.0
MJ_M2_PER_W_M2_HOUR = 0.0036  # one watt for an hour
ANGSTROM_CLOUDY, ANGSTROM_CLEAR = 0.25, 0.50  # where the place has none of its own


def _declination(day_of_year: "NDArray[np.float64]") -> "NDArray[np.float64]":
    return np.asarray(0.409 * np.sin(2 * math.pi / DAYS * day_of_year - 1.39))  # eq. 24


def _nearness(day_of_year: "NDArray[np.float64]") -> "NDArray[np.float64]":
    return np.asarray(1 + 0.033 * np.cos(2 * math.pi / DAYS * day_of_year))  # eq. 23


def _sunset(latitude: float, declination: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """Hour angle at sunset, eq. 25; pi where the sun does not set, 0 where it does not rise. [rad]"""
    return np.asarray(np.arccos(np.clip(-math.tan(latitude) * np.tan(declination), -1.0, 1.0)))


def _place_and_day(latitude_deg: float, day_of_year: "ArrayLike") -> "tuple[float, NDArray[np.float64]]":
    if not -90 < latitude_deg < 90:
        raise BadQuantity(_("latitude"), latitude_deg, "°", _("above -90 and below 90, south negative"))
    day = np.asarray(day_of_year, dtype=float)
    if not np.all((day >= 1) & (day <= 366)):
        raise BadQuantity(
            _("day of the year"), float(day[~((day >= 1) & (day <= 366))].flat[0]), "", _("from 1 to 366")
        )
    return math.radians(latitude_deg), day


def extraterrestrial_daily_mj_m2(latitude_deg: float, day_of_year: "ArrayLike") -> "NDArray[np.float64]":
    """Return the sunlight of a day on a level surface above the air, eq. 21. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    latitude_deg : float
        South negative. [°]
    day_of_year : array_like
        1 on 1 January.

    Raises
    ------
    BadQuantity
        If there is no such latitude or day.
    """
    latitude, day = _place_and_day(latitude_deg, day_of_year)
    tilt = _declination(day)
    sunset = _sunset(latitude, tilt)
    lit = sunset * math.sin(latitude) * np.sin(tilt) + math.cos(latitude) * np.cos(tilt) * np.sin(sunset)
    return np.asarray(24 * 60 / math.pi * SOLAR_CONSTANT_MJ_M2_MIN * _nearness(day) * lit)


def daylight_hours(latitude_deg: float, day_of_year: "ArrayLike") -> "NDArray[np.float64]":
    """Return the time from sunrise to sunset, eq. 34. [h]"""
    latitude, day = _place_and_day(latitude_deg, day_of_year)
    return np.asarray(24 / math.pi * _sunset(latitude, _declination(day)))


def _hour_angle(day: "NDArray[np.float64]", hour: "ArrayLike", mean_noon_h: float) -> "NDArray[np.float64]":
    b = 2 * math.pi * (day - 81) / 364  # eq. 33
    equation_of_time = 0.1645 * np.sin(2 * b) - 0.1255 * np.cos(b) - 0.025 * np.sin(b)  # eq. 32
    turn = math.pi / 12 * (np.asarray(hour, dtype=float) - mean_noon_h + equation_of_time)  # eq. 31
    return np.asarray((turn + math.pi) % (2 * math.pi) - math.pi)


def extraterrestrial_hourly_mj_m2(
    latitude_deg: float,
    day_of_year: "ArrayLike",
    middle_of_hour: "ArrayLike",
    *,
    mean_noon_h: float = 12.0,
) -> "NDArray[np.float64]":
    """Return the sunlight of an hour on a level surface above the air, eq. 28. [MJ m⁻² h⁻¹]

    Parameters
    ----------
    latitude_deg : float
        South negative. [°]
    day_of_year, middle_of_hour : array_like
        Day, and clock time (winter time) at the middle of the hour: 14.5 for 14:00 to 15:00. [h]
    mean_noon_h : float
        Clock time of the sun's highest stand, mean of the year; 12 in the middle of a time zone. [h]

    Notes
    -----
    Hours in which the sun rises or sets count only from or to then, so that 24 hours add up to the day.
    """
    latitude, day = _place_and_day(latitude_deg, day_of_year)
    tilt = _declination(day)
    sunset = _sunset(latitude, tilt)
    middle = _hour_angle(day, middle_of_hour, mean_noon_h)
    half = math.pi / 24
    steady, swinging = math.sin(latitude) * np.sin(tilt), math.cos(latitude) * np.cos(tilt)
    lit = np.zeros(np.broadcast_shapes(middle.shape, sunset.shape))
    for turn in (-2 * math.pi, 0.0, 2 * math.pi):  # an hour over midnight may hold light at high latitudes
        start = np.clip(middle - half + turn, -sunset, sunset)
        end = np.clip(middle + half + turn, -sunset, sunset)
        lit = lit + (end - start) * steady + swinging * (np.sin(end) - np.sin(start))
    hour = 12 * 60 / math.pi * SOLAR_CONSTANT_MJ_M2_MIN * _nearness(day) * lit
    return np.asarray(np.maximum(hour, 0.0))


def sine_of_sun_height(
    latitude_deg: float,
    day_of_year: "ArrayLike",
    middle_of_hour: "ArrayLike",
    *,
    mean_noon_h: float = 12.0,
) -> "NDArray[np.float64]":
    """Return the sine of the height of the sun above the horizon; negative at night.

    Parameters are those of `extraterrestrial_hourly_mj_m2`.
    """
    latitude, day = _place_and_day(latitude_deg, day_of_year)
    tilt = _declination(day)
    turn = _hour_angle(day, middle_of_hour, mean_noon_h)
    return np.asarray(math.sin(latitude) * np.sin(tilt) + math.cos(latitude) * np.cos(tilt) * np.cos(turn))


def clear_sky_mj_m2(extraterrestrial_mj_m2: "ArrayLike", elevation_m: float) -> "NDArray[np.float64]":
    """Return what a clear sky lets through, eq. 37. [as given]"""
    return np.asarray((0.75 + 2e-5 * elevation_m) * np.asarray(extraterrestrial_mj_m2, dtype=float))


def light_from_sunshine_mj_m2(
    extraterrestrial_mj_m2: "ArrayLike", sunshine_share: "ArrayLike"
) -> "NDArray[np.float64]":
    """Return the light of days with this share of the possible sunshine, eq. 35. [MJ m⁻² d⁻¹]

    Raises
    ------
    BadQuantity
        If a share is not from 0 to 1.
    """
    share = np.asarray(sunshine_share, dtype=float)
    if not np.all((share >= 0) & (share <= 1)):
        raise BadQuantity(_("share of sunshine"), float(np.max(share)), "", _("from 0 to 1"))
    return np.asarray(
        (ANGSTROM_CLOUDY + ANGSTROM_CLEAR * share) * np.asarray(extraterrestrial_mj_m2, dtype=float)
    )


def light_from_temperatures_mj_m2(
    extraterrestrial_mj_m2: "ArrayLike",
    highest_c: "ArrayLike",
    lowest_c: "ArrayLike",
    *,
    coefficient: float,
    elevation_m: float = 0.0,
) -> "NDArray[np.float64]":
    """Return the light of days guessed from how far the temperature swings, eq. 50. [MJ m⁻² d⁻¹]

    Parameters
    ----------
    extraterrestrial_mj_m2, highest_c, lowest_c : array_like
        Of each day. [MJ m⁻² d⁻¹, °C]
    coefficient : float
        0.16 inland, 0.19 near a coast. [°C^-0.5]
    elevation_m : float
        Sets the clear sky, which is never exceeded. [m]

    Raises
    ------
    BadQuantity
        If a day is coldest above its warmest.
    """
    swing = np.asarray(highest_c, dtype=float) - np.asarray(lowest_c, dtype=float)
    if not np.all(swing >= 0):
        raise BadQuantity(
            _("daily range of temperature"), float(swing[~(swing >= 0)].flat[0]), "°C", _("0 or more")
        )
    sky = np.asarray(extraterrestrial_mj_m2, dtype=float)
    return np.asarray(np.minimum(coefficient * np.sqrt(swing) * sky, clear_sky_mj_m2(sky, elevation_m)))
