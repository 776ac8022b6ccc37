"""The closed answers that test the flow solvers, themselves tested by digits worked out elsewhere."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from .exact_flow import (
    Exponential,
    drained_water_cm3,
    filled,
    frustum_cm3,
    most_evaporation_cm_h,
    rewetted_water,
    roots,
    steady_head_cm,
    transient_conductivity,
    transient_head_cm,
    transient_outflow_cm_h,
)

HEIGHTS = (5, 10, 20, 40, 60, 80, 90, 95)
# Srivastava and Yeh 1991, their example: 100 cm, a = 0.1 per cm, Ks = 1 cm/h, θs = 0.40, θr = 0.06 (set from
# memory), flux from 0.1 to 0.9 cm/h and back. Digits: an independent evaluation of the series.
MEDIUM = Exponential(alpha_per_cm=0.1, saturated_conductivity_cm_h=1, saturated=0.40, residual=0.06)
WETTING = {
    1: ((-4.371, -8.414, -15.060, -21.500, -22.805, -22.602, -17.430, -12.174), 0.10000),
    5: ((-4.371, -8.414, -15.058, -21.335, -19.544, -10.301, -6.000, -4.354), 0.10000),
    10: ((-4.347, -8.335, -14.580, -16.920, -10.770, -4.973, -3.106, -2.432), 0.10360),
    20: ((-3.384, -6.046, -8.705, -7.048, -4.019, -2.130, -1.604, -1.423), 0.26643),
    30: ((-1.923, -3.210, -4.200, -3.316, -2.102, -1.413, -1.234, -1.174), 0.55183),
}
DRAINING = {
    10: ((-0.418, -0.690, -1.024, -1.813, -4.127, -9.361, -13.200, -15.325), 0.89640),
    30: ((-2.466, -4.425, -7.375, -12.021, -16.499, -20.243, -21.523, -21.995), 0.44817),
}


@pytest.mark.parametrize(
    ("hours", "before", "after", "heads", "outflow"),
    [(t, 0.1, 0.9, *found) for t, found in WETTING.items()]
    + [(t, 0.9, 0.1, *found) for t, found in DRAINING.items()],
)
def test_heads_and_outflow_in_time(hours, before, after, heads, outflow):
    assert transient_head_cm(MEDIUM, 100, before, after, hours, HEIGHTS) == pytest.approx(heads, abs=5.1e-4)
    assert transient_outflow_cm_h(MEDIUM, 100, before, after, hours) == pytest.approx(outflow, abs=5.1e-6)


def test_the_roots_are_roots():
    lam = roots(10.0, 50)

    assert np.tan(10 * lam) + 2 * lam == pytest.approx(0, abs=1e-9)
    assert np.all(np.diff(lam) > 0)
    assert np.all((10 * lam > (np.arange(50) + 0.5) * math.pi) & (10 * lam < (np.arange(50) + 1) * math.pi))


def test_water_is_kept_by_the_series():
    # What entered less what left is what is stored: the integral of the profile, by quadrature.
    def stored(hours):
        water = (
            0.34
            * quad(
                lambda z: float(transient_conductivity(MEDIUM, 100, 0.1, 0.9, hours, [z])[0]),
                0,
                100,
                limit=200,
            )[0]
        )
        return water

    out = quad(lambda t: transient_outflow_cm_h(MEDIUM, 100, 0.1, 0.9, t), 5, 20, epsabs=1e-10)[0]

    assert stored(20) - stored(5) == pytest.approx(0.9 * 15 - out, abs=1e-7)


def test_long_after_the_column_is_steady():
    assert transient_head_cm(MEDIUM, 100, 0.1, 0.9, 2000, HEIGHTS) == pytest.approx(
        steady_head_cm([(MEDIUM, 100)], 0.9, HEIGHTS), abs=1e-9
    )


# Gardner profiles layer on layer, worked by hand: 100 cm on 100 cm, a = 0.1 in both.
@pytest.mark.parametrize(
    ("flux", "lower", "upper", "heads"),
    [
        (0.1, 1, 10, (-22.437, -23.022, -31.437, -45.463, -46.048)),
        (0.1, 10, 1, (-40.941, -46.007, -27.044, -23.087, -23.026)),
        (0.9, 1, 10, (-1.046, -1.054, -9.468, -23.491, -24.075)),
        (0.9, 10, 1, (-23.420, -24.075, -5.074, -1.114, -1.054)),
    ],
)
def test_steady_flow_through_two_layers(flux, lower, upper, heads):
    layers = [(Exponential(0.1, lower, 0.4, 0.06), 100), (Exponential(0.1, upper, 0.4, 0.06), 100)]

    assert steady_head_cm(layers, flux, (50, 100, 110, 150, 200)) == pytest.approx(heads, abs=5.1e-4)


@pytest.mark.parametrize(("length", "flux"), [(20, 0.156518), (30, 0.052396), (50, 0.006784)])
def test_most_evaporation_above_a_water_table(length, flux):
    assert most_evaporation_cm_h(MEDIUM, length) == pytest.approx(flux, abs=5.1e-7)


def test_at_that_flux_the_surface_is_as_dry_as_can_be():
    flux = most_evaporation_cm_h(MEDIUM, 30)

    assert steady_head_cm([(MEDIUM, 30)], -(1 - 1e-9) * flux, [30.0])[0] < -200
    assert steady_head_cm([(MEDIUM, 30)], -0.5 * flux, [30.0])[0] > -40


def test_water_of_a_drained_pot():
    # θs 0.85, θr 0.15, α 0.15 per cm, n 2; 15 cm high, radius 5 below and 7.5 above: worked by hand.
    water = drained_water_cm3(0.85, 0.15, 0.15, 15, 5, 7.5)

    assert frustum_cm3(15, 5, 7.5) == pytest.approx(1865.321, abs=5.1e-4)
    assert water == pytest.approx(1122.259, abs=5.1e-4)
    assert 0.85 * frustum_cm3(15, 5, 7.5) - water == pytest.approx(463.264, abs=5.1e-4)


def test_water_on_the_way_up_from_a_turn():
    # θs 0.8, θr 0.1, drying alpha 0.1, wetting alpha 0.2 per cm, n 2, turned at 20 cm: worked by hand.
    found = rewetted_water(0.8, 0.1, 0.1, 0.2, 2, 20.0, (20, 10, 5, 2, 0))

    assert found == pytest.approx((0.41305, 0.51761, 0.65038, 0.76346, 0.80000), abs=5.1e-6)
    assert 0.1 + 0.7 * float(filled(20, 0.2, 2)) == pytest.approx(0.26977, abs=5.1e-6)
