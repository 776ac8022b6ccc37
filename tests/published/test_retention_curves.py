"""Water against suction: constants, curves of a reference library, and what a material alone must return."""

import numpy as np
import pytest
import unsatfit
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from friable.science.retention import CAPILLARY_CONSTANT_CM2, RetentionCurve, water_content
from strategies_science import KEYS, MATERIALS, Poured

SUCTIONS_CM = np.array([0.01, 1, 5, 10, 30, 50, 100, 300, 1000, 15_000])

# Parameters across what growing media and soils show.
alphas = st.floats(min_value=1e-4, max_value=5)
exponents = st.floats(min_value=1.05, max_value=6)


def test_the_capillary_constant_by_hand():
    # 2 × 72.75 mN/m / (1000 kg/m³ × 9.807 m/s²) = 1.48363e-5 m². Worked by hand.
    assert pytest.approx(0.148363, abs=5e-7) == CAPILLARY_CONSTANT_CM2
    assert pytest.approx(0.14863, abs=1e-5) == CAPILLARY_CONSTANT_CM2 * 1000 / 998.2


@pytest.mark.parametrize(
    ("suction_cm", "filled"),
    [(1, 0.93807), (5, 0.63140), (10, 0.57473), (30, 0.52869), (50, 0.49995), (100, 0.43750), (300, 0.29963)],
)
def test_two_pore_families_by_hand(suction_cm, filled):
    # 0.45 [1 + (0.6 s)^2.5]^-0.6 + 0.55 [1 + (0.01 s)^1.5]^-(1/3), Durner 1994. Worked to five digits.
    curve = RetentionCurve(
        saturated=1, residual=0, alpha_per_cm=0.6, n=2.5,
        second_share=0.55, second_alpha_per_cm=0.01, second_n=1.5,
    )  # fmt: skip

    assert float(water_content(suction_cm, curve)) == pytest.approx(filled, abs=5.1e-6)
    by_hand = 0.45 * (1 + (0.6 * suction_cm) ** 2.5) ** -0.6 + 0.55 * (1 + (0.01 * suction_cm) ** 1.5) ** (
        -1 / 3
    )
    assert float(water_content(suction_cm, curve)) == pytest.approx(by_hand, abs=1e-12)


@given(alphas, exponents)
def test_one_family_as_in_the_reference_library(alpha, n):
    reference = unsatfit.Fit()
    reference.set_model("VG", const=["q=1"])
    curve = RetentionCurve(saturated=0.85, residual=0.1, alpha_per_cm=alpha, n=n)

    theirs = reference.f_ht([0.85, 0.1, alpha, 1 - 1 / n], SUCTIONS_CM)
    assert water_content(SUCTIONS_CM, curve) == pytest.approx(theirs, abs=1e-12)


@given(alphas, exponents, alphas, exponents, st.floats(min_value=0.05, max_value=0.95))
def test_two_families_as_in_the_reference_library(alpha, n, second_alpha, second_n, second_share):
    reference = unsatfit.Fit()
    reference.set_model("vg2", const=["q=1"])
    curve = RetentionCurve(
        saturated=0.9, residual=0.05, alpha_per_cm=alpha, n=n,
        second_share=second_share, second_alpha_per_cm=second_alpha, second_n=second_n,
    )  # fmt: skip

    theirs = reference.f_ht(
        [0.9, 0.05, 1 - second_share, alpha, 1 - 1 / n, second_alpha, 1 - 1 / second_n], SUCTIONS_CM
    )
    assert water_content(SUCTIONS_CM, curve) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize("key", KEYS)
def test_a_material_alone_returns_its_own_curve(key):
    material = MATERIALS[key].physics
    e, phi = material.void_fraction, material.internal_porosity
    reference = unsatfit.Fit()
    reference.set_model("VG", const=["q=1", "qr=0"])

    alone = Poured({key: 3.7})
    outer = reference.f_ht([1, material.alpha_ext_per_cm, 1 - 1 / material.n_ext], SUCTIONS_CM)
    inner = reference.f_ht([1, material.alpha_int_per_cm, 1 - 1 / material.n_int], SUCTIONS_CM)
    found = [alone.water_at(s) for s in SUCTIONS_CM]

    assert found == pytest.approx(e * outer + (1 - e) * phi * inner, abs=1e-12)
    assert alone.water_at(0) == pytest.approx(alone.total_porosity, abs=1e-12)
    assert alone.shrinkage == 0


@pytest.mark.parametrize("key", KEYS)
def test_the_tabulated_curve_gives_the_tabulated_water(key):
    # The curve was fitted to the figures at 10, 100 and 15,000 cm; its residuals there stay below a point
    # at 10 cm, the figure that matters most.
    material = MATERIALS[key]

    assert Poured({key: 1}).water_at(10) == pytest.approx(material.water_at_10cm.value, abs=0.01)
    assert Poured({key: 1}).total_porosity == pytest.approx(material.total_porosity.value, abs=0.001)


def test_suction_is_found_back_from_water():
    # Independent root finding: the suction at which a curve is half full.
    curve = RetentionCurve(saturated=0.8, residual=0.0, alpha_per_cm=0.1, n=2)
    at = brentq(lambda s: float(water_content(s, curve)) - 0.4, 0.1, 1000)

    assert at == pytest.approx(10 * 3**0.5, rel=1e-9)  # [1 + (0.1 s)²]^-½ = ½ by hand
