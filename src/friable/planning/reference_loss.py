"""What a well-watered surface of reference loses in the hours of a climate."""

from typing import TYPE_CHECKING

import numpy as np

from friable.reference.evaporation_defaults import evaporation_default
from friable.science.evaporation import (
    ALBEDO,
    net_longwave_mj_m2,
    reference_hourly_mm,
    saturation_vapour_pressure_kpa,
    soil_heat_hourly_mj_m2,
    under_glass_hourly_mm,
    vapour_pressure_deficit_kpa,
)
from friable.science.solar import (
    MJ_M2_PER_W_M2_HOUR,
    clear_sky_mj_m2,
    extraterrestrial_hourly_mj_m2,
    sine_of_sun_height,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.climate import Climate

HOURS = 24
LOW_SUN_SINE = 0.2955  # sine of 0.3 rad: with the sun below, light over clear-sky light says little
OVERCAST = 0.5  # light over clear-sky light where no day tells it: midwinter beyond the polar circle


def lost_under_glass_mm(climate: "Climate") -> "NDArray[np.float64]":
    """Return the loss of the reference surface in the still air of a house; negative where dew forms. [mm]"""
    lost = evaporation_default("longwave_loss_under_glass_w_m2").value
    net = ((1 - ALBEDO) * climate.light_w_m2 - lost) * MJ_M2_PER_W_M2_HOUR
    return under_glass_hourly_mm(
        temperature_c=climate.temperature_c,
        deficit_kpa=vapour_pressure_deficit_kpa(climate.temperature_c, climate.relative_humidity),
        available_mj_m2=net - soil_heat_hourly_mj_m2(net),
        aerodynamic_resistance_s_m=evaporation_default("aerodynamic_resistance_s_m").value,
        surface_resistance_s_m=evaporation_default("surface_resistance_s_m").value,
        elevation_m=climate.elevation_m,
    )


def lost_outdoors_mm(climate: "Climate") -> "NDArray[np.float64]":
    """Return the hourly reference evapotranspiration of FAO-56; negative where dew forms. [mm]"""
    wind = climate.wind_m_s
    if wind is None:
        wind = np.full(climate.hours, evaporation_default("wind_outdoors_m_s").value)
    vapour = saturation_vapour_pressure_kpa(climate.temperature_c) * climate.relative_humidity
    longwave = net_longwave_mj_m2((climate.temperature_c,), vapour, share_of_clear_sky(climate), hours=1)
    net = (1 - ALBEDO) * climate.light_w_m2 * MJ_M2_PER_W_M2_HOUR - longwave
    return reference_hourly_mm(
        temperature_c=climate.temperature_c,
        deficit_kpa=vapour_pressure_deficit_kpa(climate.temperature_c, climate.relative_humidity),
        wind_m_s=wind,
        net_radiation_mj_m2=net,
        soil_heat_mj_m2=soil_heat_hourly_mj_m2(net),
        elevation_m=climate.elevation_m,
    )


def share_of_clear_sky(climate: "Climate") -> "NDArray[np.float64]":
    """Return light over clear-sky light; with the sun low or down, that of the whole day."""
    middle = climate.hour_of_day + 0.5
    latitude, day, noon = climate.latitude_taken_deg, climate.day_of_year, climate.mean_noon_h
    above = extraterrestrial_hourly_mj_m2(latitude, day, middle, mean_noon_h=noon)
    clear = clear_sky_mj_m2(above, climate.elevation_m) / MJ_M2_PER_W_M2_HOUR
    light = climate.outside_light_w_m2
    by_day, clear_by_day = (values.reshape(-1, HOURS).sum(axis=1) for values in (light, clear))
    whole = np.full(climate.days, OVERCAST)
    np.divide(by_day, clear_by_day, out=whole, where=clear_by_day > 1.0)
    share = np.repeat(whole, HOURS)
    high = sine_of_sun_height(latitude, day, middle, mean_noon_h=noon) > LOW_SUN_SINE
    np.divide(light, clear, out=share, where=high)
    return share
