"""Water against suction: what must hold for any curve, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.retention import RetentionCurve, water_content
from strategies_science import ROUNDING, Poured, mixes, suctions_cm

alphas = st.floats(min_value=1e-4, max_value=10)
exponents = st.floats(min_value=1.01, max_value=8)


@st.composite
def curves(draw):
    """Any curve of one or two pore families; residual and saturated in their order."""
    residual = draw(st.floats(min_value=0, max_value=0.5))
    return RetentionCurve(
        saturated=draw(st.floats(min_value=residual + 0.01, max_value=1)),
        residual=residual,
        alpha_per_cm=draw(alphas),
        n=draw(exponents),
        second_share=draw(st.floats(min_value=0, max_value=1)),
        second_alpha_per_cm=draw(alphas),
        second_n=draw(exponents),
    )


@given(curves(), suctions_cm, suctions_cm)
def test_more_suction_never_holds_more_water(curve, a, b):
    wetter, drier = water_content(sorted([a, b]), curve)

    assert curve.residual - ROUNDING <= drier <= wetter + ROUNDING
    assert wetter <= curve.saturated + ROUNDING


@given(mixes, suctions_cm, suctions_cm)
def test_more_suction_never_leaves_more_water_in_a_mix(parts, a, b):
    mix = Poured(parts)
    wetter, drier = (mix.water_at(s) for s in sorted([a, b]))

    assert -ROUNDING <= drier <= wetter + ROUNDING


@given(mixes)
def test_a_mix_without_suction_is_full(parts):
    mix = Poured(parts)

    assert mix.water_at(0.0) == pytest.approx(mix.total_porosity, abs=1e-9)
    assert 0 < mix.total_porosity < 1


@given(curves())
def test_a_curve_without_suction_is_full(curve):
    assert float(water_content(0.0, curve)) == pytest.approx(curve.saturated)


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_an_impossible_suction_is_refused(bad):
    curve = RetentionCurve(saturated=0.9, residual=0.1, alpha_per_cm=0.1, n=2)
    with pytest.raises(BadQuantity, match=r"suction is (-1|not a number) cm; it must be 0 or more\."):
        water_content(np.array([3.0, bad]), curve)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            {"residual": 0.9},
            "residual water content is 0.9 m³/m³; it must be at least 0 and below the saturated "
            "water content (0.8 m³/m³, at most 1).",
        ),
        (
            {"saturated": 1.2},
            "residual water content is 0.1 m³/m³; it must be at least 0 and below the saturated "
            "water content (1.2 m³/m³, at most 1).",
        ),
        ({"alpha_per_cm": 0.0}, "alpha is 0 1/cm; it must be above 0."),
        ({"alpha_per_cm": math.nan}, "alpha is not a number 1/cm; it must be above 0."),
        ({"n": 1.0}, "n is 1; it must be above 1."),
        ({"second_share": 1.5}, "share of the second pore family is 1.5; it must be from 0 to 1."),
    ],
    ids=lambda value: "" if isinstance(value, str) else next(iter(value)),
)
def test_impossible_curves_are_refused(change, sentence):
    usual = {"saturated": 0.8, "residual": 0.1, "alpha_per_cm": 0.1, "n": 2.0}
    with pytest.raises(BadQuantity) as refused:
        RetentionCurve(**(usual | change))

    assert str(refused.value) == sentence
