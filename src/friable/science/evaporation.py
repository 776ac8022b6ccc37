"""Reference evapotranspiration outdoors and under glass.

Equation numbers are those of FAO Irrigation and Drainage Paper 56, chapters 2 to 4.   [allen1998]_
"""

from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

STEFAN_BOLTZMANN_MJ_K4_M2_DAY = 4.903e-9
KELVIN = 273.16  # as FAO-56 takes it for radiation
ALBEDO = 0.23  # of the reference crop
MJ_PER_MM = 2.45  # heat that evaporates one litre from a square metre
AIR_DENSITY_KG_M3 = 1.2  # at 20 °C
AIR_HEAT_MJ_KG_K = 1.013e-3
VAPOUR_OVER_AIR = 0.622  # molar masses
SECONDS_PER_HOUR = 3600.0
REFERENCE_WIND_COEFFICIENT = 0.34  # surface resistance 70 s/m over 208 s/m
DULL, CLEAR = 0.3, 1.0  # ends of light over clear-sky light


def saturation_vapour_pressure_kpa(temperature_c: "ArrayLike") -> "NDArray[np.float64]":
    """Return the vapour pressure of saturated air, eq. 11. [kPa]

    Examples
    --------
    >>> float(saturation_vapour_pressure_kpa(20.0).round(3))
    2.338
    """
    t = np.asarray(temperature_c, dtype=float)
    if not np.all((t > -90) & (t < 100)):
        raise BadQuantity(
            _("air temperature"),
            float(t[~((t > -90) & (t < 100))].flat[0]),
            "°C",
            _("above -90 and below 100"),
        )
    return np.asarray(0.6108 * np.exp(17.27 * t / (t + 237.3)))


def vapour_pressure_slope_kpa_k(temperature_c: "ArrayLike") -> "NDArray[np.float64]":
    """Return how fast saturation rises with temperature, eq. 13. [kPa K⁻¹]"""
    t = np.asarray(temperature_c, dtype=float)
    return np.asarray(4098 * saturation_vapour_pressure_kpa(t) / (t + 237.3) ** 2)


def vapour_pressure_deficit_kpa(
    temperature_c: "ArrayLike", relative_humidity: "ArrayLike"
) -> "NDArray[np.float64]":
    """Return what the air lacks to saturation, from one temperature and one humidity (0 to 1). [kPa]

    Examples
    --------
    >>> float(vapour_pressure_deficit_kpa(20.0, 0.5).round(4))
    1.1691
    """
    humidity = np.asarray(relative_humidity, dtype=float)
    if not np.all((humidity >= 0) & (humidity <= 1)):
        raise BadQuantity(
            _("relative humidity"),
            float(humidity[~((humidity >= 0) & (humidity <= 1))].flat[0]),
            "",
            _("from 0 to 1"),
        )
    return np.asarray(saturation_vapour_pressure_kpa(temperature_c) * (1 - humidity))


def air_pressure_kpa(elevation_m: float) -> float:
    """Return the mean pressure of the air at this height above the sea, eq. 7. [kPa]"""
    if not -500 <= elevation_m <= 9000:
        raise BadQuantity(_("height above the sea"), elevation_m, "m", _("from -500 to 9000"))
    return float(101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26)


def psychrometric_constant_kpa_k(elevation_m: float) -> float:
    """Return gamma, eq. 8, its 0.665e-3 unrounded. [kPa K⁻¹]"""
    return AIR_HEAT_MJ_KG_K / (VAPOUR_OVER_AIR * MJ_PER_MM) * air_pressure_kpa(elevation_m)


def wind_at_2_m(wind_m_s: "ArrayLike", measured_at_m: float) -> "NDArray[np.float64]":
    """Return the wind at 2 m from wind measured over grass at another height, eq. 47. [m s⁻¹]"""
    if not measured_at_m >= 0.5:
        raise BadQuantity(_("height of the wind measurement"), measured_at_m, "m", _("0.5 or more"))
    return np.asarray(np.asarray(wind_m_s, dtype=float) * 4.87 / np.log(67.8 * measured_at_m - 5.42))


def net_longwave_mj_m2(
    temperatures_c: "tuple[ArrayLike, ...]",
    vapour_pressure_kpa: "ArrayLike",
    share_of_clear_sky: "ArrayLike",
    *,
    hours: float = 24.0,
) -> "NDArray[np.float64]":
    """Return the heat that a surface radiates to the sky, net, eq. 39. [MJ m⁻² in `hours`]

    Parameters
    ----------
    temperatures_c : tuple of array_like
        Highest and lowest of a day, or the one of an hour; their fourth powers are averaged. [°C]
    vapour_pressure_kpa : array_like
        Of the air. [kPa]
    share_of_clear_sky : array_like
        Light over clear-sky light; taken as 0.3 below that and as 1 above, as the equation asks.
    """
    fourth = sum((np.asarray(t, dtype=float) + KELVIN) ** 4 for t in temperatures_c) / len(temperatures_c)
    moist = 0.34 - 0.14 * np.sqrt(np.asarray(vapour_pressure_kpa, dtype=float))
    sky = 1.35 * np.clip(np.asarray(share_of_clear_sky, dtype=float), DULL, CLEAR) - 0.35
    return np.asarray(STEFAN_BOLTZMANN_MJ_K4_M2_DAY * hours / 24 * fourth * moist * sky)


def reference_daily_mm(
    *,
    highest_c: "ArrayLike",
    lowest_c: "ArrayLike",
    vapour_pressure_kpa: "ArrayLike",
    wind_m_s: "ArrayLike",
    net_radiation_mj_m2: "ArrayLike",
    soil_heat_mj_m2: "ArrayLike" = 0.0,
    elevation_m: float = 0.0,
) -> "NDArray[np.float64]":
    """Return the reference evapotranspiration of a day, eq. 6. [mm d⁻¹]

    Parameters
    ----------
    highest_c, lowest_c : array_like
        Of the day. [°C]
    vapour_pressure_kpa, wind_m_s : array_like
        Means, the wind at 2 m. [kPa, m s⁻¹]
    net_radiation_mj_m2, soil_heat_mj_m2 : array_like
        Net radiation and heat into the ground. [MJ m⁻² d⁻¹]
    elevation_m : float
        Above the sea. [m]
    """
    mean_c = (np.asarray(highest_c, dtype=float) + np.asarray(lowest_c, dtype=float)) / 2
    saturated = (saturation_vapour_pressure_kpa(highest_c) + saturation_vapour_pressure_kpa(lowest_c)) / 2
    return _combined(
        mean_c,
        saturated - np.asarray(vapour_pressure_kpa, dtype=float),
        wind_m_s,
        np.asarray(net_radiation_mj_m2, dtype=float) - np.asarray(soil_heat_mj_m2, dtype=float),
        elevation_m,
        900.0,
        REFERENCE_WIND_COEFFICIENT,
    )


def reference_hourly_mm(
    *,
    temperature_c: "ArrayLike",
    deficit_kpa: "ArrayLike",
    wind_m_s: "ArrayLike",
    net_radiation_mj_m2: "ArrayLike",
    soil_heat_mj_m2: "ArrayLike",
    elevation_m: float = 0.0,
    wind_coefficient: "ArrayLike" = REFERENCE_WIND_COEFFICIENT,
) -> "NDArray[np.float64]":
    """Return the reference evapotranspiration of an hour, eq. 53; negative where dew would form. [mm h⁻¹]

    Parameters
    ----------
    temperature_c, deficit_kpa, wind_m_s : array_like
        Means of the hour, the wind at 2 m. [°C, kPa, m s⁻¹]
    net_radiation_mj_m2, soil_heat_mj_m2 : array_like
        Of the hour; see `soil_heat_hourly_mj_m2`. [MJ m⁻² h⁻¹]
    elevation_m : float
        Above the sea. [m]
    wind_coefficient : array_like
        0.34 in FAO-56; the American standard of 2005 takes 0.24 by day and 0.96 by night. [s m⁻¹]
    """
    available = np.asarray(net_radiation_mj_m2, dtype=float) - np.asarray(soil_heat_mj_m2, dtype=float)
    return _combined(temperature_c, deficit_kpa, wind_m_s, available, elevation_m, 37.0, wind_coefficient)


def _combined(
    temperature_c: "ArrayLike",
    deficit_kpa: "ArrayLike",
    wind_m_s: "ArrayLike",
    available_mj_m2: "NDArray[np.float64]",
    elevation_m: float,
    drying: float,
    wind_coefficient: "ArrayLike",
) -> "NDArray[np.float64]":
    t = np.asarray(temperature_c, dtype=float)
    u = np.asarray(wind_m_s, dtype=float)
    if not np.all(u >= 0):
        raise BadQuantity(_("wind"), float(u[~(u >= 0)].flat[0]), "m/s", _("0 or more"))
    slope, gamma = vapour_pressure_slope_kpa_k(t), psychrometric_constant_kpa_k(elevation_m)
    lit = 0.408 * slope * available_mj_m2
    dried = gamma * drying / (t + 273) * u * np.asarray(deficit_kpa, dtype=float)
    return np.asarray((lit + dried) / (slope + gamma * (1 + np.asarray(wind_coefficient) * u)))


def soil_heat_hourly_mj_m2(net_radiation_mj_m2: "ArrayLike") -> "NDArray[np.float64]":
    """Return the heat that goes into the ground: a tenth of net radiation by day, half by night, eq. 45 f."""
    net = np.asarray(net_radiation_mj_m2, dtype=float)
    return np.asarray(np.where(net > 0, 0.1, 0.5) * net)


def under_glass_hourly_mm(
    *,
    temperature_c: "ArrayLike",
    deficit_kpa: "ArrayLike",
    available_mj_m2: "ArrayLike",
    aerodynamic_resistance_s_m: float,
    surface_resistance_s_m: "ArrayLike",
    leaf_sides: float = 1.0,
    elevation_m: float = 0.0,
) -> "NDArray[np.float64]":
    """Return what one big leaf in still air loses in an hour. [mm h⁻¹]

    Parameters
    ----------
    temperature_c, deficit_kpa : array_like
        Of the air in the house. [°C, kPa]
    available_mj_m2 : array_like
        Net radiation less what goes into the ground. [MJ m⁻² h⁻¹]
    aerodynamic_resistance_s_m, surface_resistance_s_m : number
        To heat and vapour through the air over the leaf, and to vapour through the leaf. [s m⁻¹]
    leaf_sides : float
        1 where the resistances are those of the whole canopy; twice the leaf area over an area of ground
        where they are those of one side of one leaf.
    elevation_m : float
        Above the sea. [m]

    Raises
    ------
    BadQuantity
        If a resistance is not above 0 (air) or 0 or more (leaf).

    Notes
    -----
    λE = [Δ A + n ρ c D / ra] / [Δ + γ (1 + rs/ra)], with n leaf sides and A the heat available.
    Form of Penman and Monteith as used in greenhouses (reviewed by [katsoulas2019]_).
    """
    air = aerodynamic_resistance_s_m
    leaf = np.asarray(surface_resistance_s_m, dtype=float)
    if not 0 < air < np.inf:
        raise BadQuantity(_("aerodynamic resistance"), air, "s/m", _("above 0"))
    if not np.all(leaf >= 0):
        raise BadQuantity(_("surface resistance"), float(np.min(leaf)), "s/m", _("0 or more"))
    slope, gamma = vapour_pressure_slope_kpa_k(temperature_c), psychrometric_constant_kpa_k(elevation_m)
    lit = slope * np.asarray(available_mj_m2, dtype=float)
    carried = leaf_sides * AIR_DENSITY_KG_M3 * AIR_HEAT_MJ_KG_K / air * SECONDS_PER_HOUR
    heat = (lit + carried * np.asarray(deficit_kpa, dtype=float)) / (slope + gamma * (1 + leaf / air))
    return np.asarray(heat / MJ_PER_MM)
