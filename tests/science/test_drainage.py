"""A drained pot: what must hold for any medium and pot, and what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.drainage import drained_column, drained_many, drained_mean, water_entry_suction_cm
from friable.science.mixture import blend, grades, water_held
from friable.science.retention import RetentionCurve
from strategies_science import KEYS, MATERIALS, Poured, core, mixes, pots


@given(mixes, pots(), st.floats(min_value=1.05, max_value=3))
def test_of_one_shape_scaled_in_height_only_the_taller_never_holds_more(parts, pot, by):
    # Per litre of medium: the same cross-sections, each further above the drainage face.
    low = Poured(parts, pot).container_capacity
    tall = Poured(parts, replace(pot, height_cm=by * pot.height_cm)).container_capacity

    assert tall <= low + 1e-9


@given(mixes, pots())
def test_water_lies_between_that_at_the_bottom_and_at_the_top(parts, pot):
    mix = Poured(parts, pot)

    top, bottom = mix.water_at(pot.height_cm), mix.water_at(0.0)
    assert top - 1e-9 <= mix.container_capacity <= bottom + 1e-9


@given(mixes)
def test_water_below_holes_a_layer_sucks_never_more(parts):
    mix = Poured(parts)
    held = [
        float(water_held(mix.blend, mix.grades, mix.grades.filling(column.suctions_cm)) @ column.weights)
        for column in (drained_column(core(), s) for s in (0.0, 1.0, 5.0, 30.0))
    ]

    assert held == sorted(held, reverse=True)


@given(pots(), st.floats(min_value=0, max_value=0.5))
def test_the_column_covers_the_medium_and_weighs_it(pot, layer):
    filled = pot.with_drainage_layer(layer * pot.height_cm)
    column = drained_column(filled, 2.0)

    assert column.weights.sum() == pytest.approx(1)
    assert np.all(np.diff(column.heights_cm) > 0)
    assert column.heights_cm[0] >= filled.drainage_layer_cm
    assert column.heights_cm[-1] <= filled.fill_height_cm
    assert column.suctions_cm == pytest.approx(2.0 + column.heights_cm - filled.drainage_layer_cm)


@settings(max_examples=8)
@given(
    st.lists(st.sampled_from(KEYS), min_size=1, max_size=4, unique=True),
    st.integers(min_value=0, max_value=1000),
    pots(),
)
def test_many_mixes_at_once_are_the_mixes_one_by_one(keys, seed, pot):
    # 1e-6 from the table of 2,049 points; 3e-5 from the kink in the slower of the two.
    ingredients = [MATERIALS[key].physics for key in keys]
    g = grades(ingredients)
    volumes = np.random.default_rng(seed).dirichlet(np.ones(len(keys)), 20)
    together = blend(volumes, g)
    column = drained_column(pot)
    slowly = water_held(together, g, g.filling(column.suctions_cm)) @ column.weights

    assert drained_many(together, g, pot) == pytest.approx(slowly, abs=5e-5)


@given(st.floats(min_value=0.01, max_value=2), st.floats(min_value=3, max_value=60))
def test_the_closed_form_is_the_limit_of_the_quadrature(alpha, height):
    # n = 2 is worked in closed form, n = 2.000001 by quadrature.
    pot = core(height)
    closed, numeric = (
        drained_mean(RetentionCurve(saturated=0.9, residual=0.1, alpha_per_cm=alpha, n=n), pot)
        for n in (2.0, 2.000001)
    )

    assert closed == pytest.approx(numeric, abs=1e-5)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_impossible_suctions_and_grains_are_refused(bad):
    with pytest.raises(BadQuantity, match=r"suction at the base is .* cm; it must be 0 or more\."):
        drained_column(core(), bad)
    with pytest.raises(BadQuantity, match=r"grain size of the drainage layer is .* mm; it must be above 0\."):
        water_entry_suction_cm(bad)
