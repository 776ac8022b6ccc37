"""Weather built in for those who have no record: the same plain day over, or a year of invented days."""

import math
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning.climate import DAMPEST, HOURS, Climate
from friable.planning.hourly_light import spread_over_the_day_w_m2
from friable.reference.seasons import (
    FIRST_MONTH,
    LATITUDE_DEG,
    SEASONS,
    Season,
    all_seasons,
    find_house,
    find_season,
)
from friable.science.evaporation import saturation_vapour_pressure_kpa
from friable.science.solar import clear_sky_mj_m2, extraterrestrial_daily_mj_m2
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

WARMEST_HOUR = 15.0
RAIN_FROM, RAIN_UNTIL = 3, 6  # hours in which it rains on a wet day
DAYS_A_MONTH = 30.4
PLAIN_YEAR = 2025  # of dates nobody asked for
MOST_DAYS = 366
CARRIED_OVER = 0.7  # of a day's departure from the season that the next day keeps
LIGHT_SPREAD = 0.5  # of the logarithm of a day's light
DAMPER_WHEN_DULL = 0.05  # humidity gained for a day one standard deviation duller than usual
MOST_HUMID, LEAST_HUMID = 0.97, 0.25


def plain_season(name: str, days: int = 14, starts_on: date | None = None) -> Climate:
    """Return a built-in season: the same plain day over and over.

    Parameters
    ----------
    name : str
        Such as “cold glasshouse winter” or “outdoors summer”; see `friable.reference.seasons`.
    days : int
        From 1 to 366.
    starts_on : date, optional
        By default the 15th of the middle month of the season.

    Raises
    ------
    UnknownName, AmbiguousName
        If no season, or more than one, has that name.
    BadQuantity
        If the number of days is out of range.

    Notes
    -----
    Temperature follows a cosine that is highest at 15:00. The vapour in the air is the same all day. Light
    follows the sun above the air at 51° north. Rain falls from 3 to 6 in the morning on evenly spaced days.
    """
    season = find_season(name)
    _check_days(days)
    first = starts_on or date(PLAIN_YEAR, FIRST_MONTH[season.season], 15)
    shape = np.ones(days)
    wet = np.floor(np.arange(1, days + 1) * season.wet_days_a_month / DAYS_A_MONTH)
    rainy = np.diff(wet, prepend=0.0) > 0
    fall = season.rain_mm_a_month / season.wet_days_a_month if season.wet_days_a_month else 0.0
    return _built(
        season.name,
        season,
        first,
        mean_c=season.mean_c * shape,
        range_c=season.daily_range_c * shape,
        humidity=season.relative_humidity * shape,
        light_mj_m2=season.outside_light_mj_m2 * shape,
        transmission=season.light_transmission,
        wind_m_s=None if season.wind_m_s is None else season.wind_m_s * shape,
        rain_mm=None if season.under_glass else np.where(rainy, fall, 0.0),
        notes=(_("A built-in season from memory, of no real place: {remark}.").format(remark=season.remark),),
    )


def plain_year(house: str = "temperate glasshouse", year: int = PLAIN_YEAR, seed: int = 1) -> Climate:
    """Return a built-in year: the four seasons joined smoothly, with invented days around them.

    Parameters
    ----------
    house : str
        Kind of house, such as “cold glasshouse” or “outdoors”.
    year : int
        Of its dates.
    seed : int
        The same seed always gives the same days.

    Raises
    ------
    UnknownName, AmbiguousName
        If no house, or more than one, has that name.

    Notes
    -----
    Figures of the day run through those of the four mid-season months as a yearly and a half-yearly wave.
    Departures of temperature and light from it carry over from day to day (first-order autoregression);
    light never exceeds the clear sky; dull days are damper; wet days are drawn by their frequency and bring
    exponentially spread amounts. Shapes and constants are common practice, no source.
    """
    kind = find_house(house)
    seasons = {season.season: season for season in all_seasons() if season.house == kind}
    ordered = [seasons[name] for name in SEASONS]
    days = (date(year + 1, 1, 1) - date(year, 1, 1)).days
    turn = 2 * math.pi * (np.arange(days) - 14) / days  # 0 in the middle of January

    def through(*figures: float) -> "NDArray[np.float64]":
        winter, spring, summer, autumn = figures
        return np.asarray(
            (winter + spring + summer + autumn) / 4
            + (winter - summer) / 2 * np.cos(turn)
            + (spring - autumn) / 2 * np.sin(turn)
            + (winter - spring + summer - autumn) / 4 * np.cos(2 * turn)
        )

    draws = np.random.Generator(np.random.PCG64(seed))
    warm, bright = _carried(draws, days), _carried(draws, days)
    usual = through(*(season.outside_light_mj_m2 for season in ordered))
    above = extraterrestrial_daily_mj_m2(LATITUDE_DEG, np.arange(1, days + 1))
    light = np.minimum(
        np.maximum(usual, 0.0) * np.exp(LIGHT_SPREAD * bright - LIGHT_SPREAD**2 / 2),
        clear_sky_mj_m2(above, 0.0),
    )
    transmission = through(*(season.light_transmission for season in ordered))
    most = float(transmission.max())
    rain = None
    if not ordered[0].under_glass:
        chance = through(*(season.wet_days_a_month for season in ordered)) / DAYS_A_MONTH
        fall = through(*(season.rain_mm_a_month / season.wet_days_a_month for season in ordered))
        rain = np.where(draws.random(days) < chance, fall * draws.exponential(size=days), 0.0)
    wind = None
    if ordered[0].wind_m_s is not None:
        wind = through(*(season.wind_m_s or 0.0 for season in ordered))
    return _built(
        _("{house}, built-in year").format(house=kind),
        ordered[0],
        date(year, 1, 1),
        mean_c=through(*(season.mean_c for season in ordered))
        + through(*(season.day_to_day_c for season in ordered)) * warm,
        range_c=through(*(season.daily_range_c for season in ordered)),
        humidity=np.clip(
            through(*(season.relative_humidity for season in ordered)) - DAMPER_WHEN_DULL * bright,
            LEAST_HUMID,
            MOST_HUMID,
        ),
        light_mj_m2=light * transmission / most,
        transmission=most,
        wind_m_s=wind,
        rain_mm=rain,
        notes=(
            _("A built-in year of invented days, of no real place: {remark}.").format(
                remark=ordered[0].remark
            ),
        ),
    )


def _check_days(days: int) -> None:
    if not 1 <= days <= MOST_DAYS:
        raise BadQuantity(_("days of a season"), days, "", _("from 1 to {most}").format(most=MOST_DAYS))


def _carried(draws: np.random.Generator, days: int) -> "NDArray[np.float64]":
    """Departures of mean 0 and standard deviation 1, each keeping part of the one before."""
    fresh = draws.standard_normal(days)
    departures = np.empty(days)
    departures[0] = fresh[0]
    for day in range(1, days):
        departures[day] = CARRIED_OVER * departures[day - 1] + math.sqrt(1 - CARRIED_OVER**2) * fresh[day]
    return departures


def _built(
    name: str,
    season: Season,
    first: date,
    *,
    mean_c: "NDArray[np.float64]",
    range_c: "NDArray[np.float64]",
    humidity: "NDArray[np.float64]",
    light_mj_m2: "NDArray[np.float64]",
    transmission: float,
    wind_m_s: "NDArray[np.float64] | None",
    rain_mm: "NDArray[np.float64] | None",
    notes: tuple[str, ...],
) -> Climate:
    """Turn figures of each day into hours."""
    days = mean_c.size
    middle = np.tile(np.arange(HOURS) + 0.5, days)

    def hourly(values: "NDArray[np.float64]") -> "NDArray[np.float64]":
        return np.repeat(values, HOURS)

    swing = np.cos((middle - WARMEST_HOUR) * 2 * math.pi / HOURS)
    temperature = hourly(mean_c) + hourly(range_c) / 2 * swing
    saturated = saturation_vapour_pressure_kpa(temperature)
    vapour = hourly(humidity * saturated.reshape(-1, HOURS).mean(axis=1))
    dates = (date.fromordinal(first.toordinal() + day) for day in range(days))
    day_of_year = np.array([day.timetuple().tm_yday for day in dates], dtype=float)
    raining = (middle > RAIN_FROM) & (middle < RAIN_UNTIL)
    return Climate(
        name=name,
        source=season.source,
        how_known=season.how_known,
        starts_on=first,
        temperature_c=temperature,
        relative_humidity=np.minimum(vapour / saturated, DAMPEST),
        radiation_w_m2=spread_over_the_day_w_m2(light_mj_m2, hourly(day_of_year), LATITUDE_DEG),
        wind_m_s=None if wind_m_s is None else hourly(wind_m_s),
        rain_mm=None
        if rain_mm is None
        else np.where(raining, hourly(rain_mm) / (RAIN_UNTIL - RAIN_FROM), 0.0),
        latitude_deg=LATITUDE_DEG,
        under_glass=season.under_glass,
        light_transmission=transmission,
        notes=notes,
    )
