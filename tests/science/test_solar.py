"""Light from the sun against the worked examples of FAO Irrigation and Drainage Paper 56."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.solar import (
    clear_sky_mj_m2,
    daylight_hours,
    extraterrestrial_daily_mj_m2,
    extraterrestrial_hourly_mj_m2,
    light_from_sunshine_mj_m2,
    light_from_temperatures_mj_m2,
    sine_of_sun_height,
)

MID_APRIL, SIXTH_OF_JULY, MID_JULY = 105, 187, 196
latitudes = st.floats(-85, 85)
days = st.integers(1, 366)


def test_light_at_bangkok_in_april():
    # FAO-56 example 17: Ra 38.06, N 12.31 h, Rs 22.65 from 8.5 h of sun, Rso 28.54 (printed to 0.01).
    above = extraterrestrial_daily_mj_m2(13.73, MID_APRIL)
    length = daylight_hours(13.73, MID_APRIL)

    assert above == pytest.approx(38.06, abs=0.005)
    assert length == pytest.approx(12.31, abs=0.005)
    assert light_from_sunshine_mj_m2(above, 8.5 / length) == pytest.approx(22.65, abs=0.005)
    assert clear_sky_mj_m2(above, 2) == pytest.approx(28.54, abs=0.006)


def test_light_at_uccle_on_6_july():
    # FAO-56 example 18: Ra 41.09, Rs 22.07 from 9.25 h of sun, Rso 30.90.
    above = extraterrestrial_daily_mj_m2(50.80, SIXTH_OF_JULY)

    assert above == pytest.approx(41.09, abs=0.006)
    share = 9.25 / daylight_hours(50.80, SIXTH_OF_JULY)
    assert light_from_sunshine_mj_m2(above, share) == pytest.approx(22.07, abs=0.006)
    assert clear_sky_mj_m2(above, 100) == pytest.approx(30.90, abs=0.005)


def test_light_at_lyon_in_july_from_temperatures_alone():
    # FAO-56 example 20 (figures from memory): 26.6 and 14.8 °C, 45.72 °N -> Ra 40.55, Rs 22.29.
    above = extraterrestrial_daily_mj_m2(45.72, MID_JULY)

    assert above == pytest.approx(40.55, abs=0.006)
    assert light_from_temperatures_mj_m2(above, 26.6, 14.8, coefficient=0.16) == pytest.approx(
        22.29, abs=0.006
    )


@given(latitudes, days, st.floats(10, 14))
def test_hours_add_up_to_their_day_wherever_noon_falls(latitude, day, noon):
    hours = extraterrestrial_hourly_mj_m2(latitude, day, np.arange(24) + 0.5, mean_noon_h=noon)

    assert (hours >= 0).all()
    assert hours.sum() == pytest.approx(float(extraterrestrial_daily_mj_m2(latitude, day)), abs=1e-9)


def test_the_sun_stands_highest_at_noon_and_below_the_horizon_at_midnight():
    # On day 81 the declination of eq. 24 is 0 to 0.002 rad: height at noon is 90° less the latitude.
    assert sine_of_sun_height(51, 81, 12 + 0.1255) == pytest.approx(np.cos(np.radians(51)), abs=2e-3)
    assert sine_of_sun_height(51, 81, 0) < 0


def test_day_and_night_at_the_equinox_and_beyond_the_circle():
    assert daylight_hours(51, 81) == pytest.approx(12, abs=0.02)
    assert daylight_hours(75, 172) == 24
    assert daylight_hours(75, 355) == 0
    assert extraterrestrial_daily_mj_m2(75, 355) == 0


def test_light_guessed_from_temperatures_never_exceeds_a_clear_sky():
    assert light_from_temperatures_mj_m2(40, 40, 0, coefficient=0.19) == pytest.approx(30)


def test_impossible_places_days_and_shares_are_refused():
    for latitude in (90, -90, float("nan")):
        with pytest.raises(BadQuantity, match=r"^latitude is .*; it must be above -90 and below 90"):
            extraterrestrial_daily_mj_m2(latitude, 1)
    for day in (0, 367, float("nan")):
        with pytest.raises(BadQuantity, match=r"^day of the year is .*; it must be from 1 to 366"):
            daylight_hours(51, day)
    with pytest.raises(BadQuantity, match=r"^share of sunshine is 1\.1; it must be from 0 to 1\.$"):
        light_from_sunshine_mj_m2(40, 1.1)
    with pytest.raises(BadQuantity, match=r"^daily range of temperature is -1 °C; it must be 0 or more\.$"):
        light_from_temperatures_mj_m2(40, 10, 11, coefficient=0.16)
