"""Ranges: percentiles of the inputs come back, nothing impossible is drawn, the same seed gives the same."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science import ranges
from friable.science.mixture import blend, grades, water_held
from strategies_science import KEYS, MATERIALS, Poured, real_mixes

SAMPLES = 4096
PERCENTILES = [5, 50, 95]
# Scrambled Sobol points place the 5th percentile of 4,096 draws within about 1/4096 of probability.
DRAWN_TO = 0.001
# A draw of water fills at most 98 % of the drawn pores, which bends the percentiles of the wettest materials.
OFTEN_FULL = {"GWC": 0.02, "SAND_F": 0.01}


def drawn(keys, samples=SAMPLES):
    ingredients = [MATERIALS[key].physics for key in keys]
    middle = grades(ingredients)
    z = ranges.draws(2 * len(ingredients), samples)
    return middle, ranges.sampled_grades(middle, ingredients, z), z


@pytest.mark.parametrize("key", KEYS)
def test_the_three_percentiles_of_each_input_come_back(key):
    material = MATERIALS[key]
    _middle, members, _z = drawn([key])
    pores = (members.void + (1 - members.void) * members.internal)[:, 0]
    mass = members.density_g_cm3[:, 0]
    water = water_held(blend(np.ones((SAMPLES, 1)), members), members, members.filling(10.0))[:, 0]
    curve = Poured({key: 1}).water_at(10.0)

    def percentiles(estimate, middle):
        return [min(estimate.low, middle), middle, max(estimate.high, middle)]

    wanted = percentiles(material.total_porosity, material.physics.total_porosity)
    assert np.percentile(pores, PERCENTILES) == pytest.approx(wanted, abs=DRAWN_TO)
    wanted = percentiles(material.dry_bulk_density_g_cm3, material.physics.dry_bulk_density_g_cm3)
    assert np.percentile(mass, PERCENTILES) == pytest.approx(wanted, rel=DRAWN_TO)
    wanted = percentiles(material.water_at_10cm, curve)
    within = OFTEN_FULL.get(key, 0.005)
    assert np.percentile(water, PERCENTILES) == pytest.approx(wanted, abs=within)


@given(real_mixes)
def test_nothing_impossible_is_drawn(parts):
    keys = list(parts)
    _middle, members, _z = drawn(keys, 256)
    mix = blend(list(parts.values()), members)
    water = water_held(mix, members, members.filling([0.0, 1.0, 10.0, 100.0, 15_000.0]))

    assert np.all((members.void > 0) & (members.void < 1))
    assert np.all((members.internal >= 0) & (members.internal < 1))
    assert np.all((mix.total_porosity > 0) & (mix.total_porosity < 1))
    assert np.all((mix.shrinkage >= 0) & (mix.shrinkage < 0.5))
    assert np.all(np.diff(water, axis=-1) <= 1e-9)
    assert np.all(water >= -1e-12)
    assert np.all(water[:, 0] <= mix.total_porosity + 1e-9)


@pytest.mark.parametrize("key", KEYS)
def test_the_middle_of_the_draws_is_the_material_as_tabulated(key):
    ingredients = [MATERIALS[key].physics]
    middle = grades(ingredients)
    member = ranges.sampled_grades(middle, ingredients, np.zeros((1, 2)))

    assert float(member.void[0, 0]) == pytest.approx(ingredients[0].void_fraction, abs=1e-12)
    assert float(member.internal[0, 0]) == pytest.approx(ingredients[0].internal_porosity, abs=1e-12)
    assert float(member.density_g_cm3[0, 0]) == pytest.approx(ingredients[0].dry_bulk_density_g_cm3)
    assert float(member.beta[0, 0]) == pytest.approx(float(middle.beta[0]), rel=1e-9)
    # The factor on the alphas is read from a table; 0.2 % of it is below 0.001 of water.
    assert float(member.scale[0, 0]) == pytest.approx(1.0, abs=0.01 if key in OFTEN_FULL else 0.005)


@given(st.integers(min_value=1, max_value=10), st.integers(min_value=64, max_value=512))
def test_the_same_question_draws_the_same(inputs, samples):
    first = ranges.draws(inputs, samples).copy()
    ranges.draws.cache_clear()

    assert np.array_equal(first, ranges.draws(inputs, samples))
    assert first.shape == (samples, inputs)


def test_draws_are_standard_normal():
    z = ranges.draws(6, 4096)

    assert z.mean(axis=0) == pytest.approx(np.zeros(6), abs=0.01)
    assert z.std(axis=0) == pytest.approx(np.ones(6), abs=0.01)
    assert np.corrcoef(z.T) == pytest.approx(np.eye(6), abs=0.06)


@given(st.lists(st.floats(min_value=-5, max_value=5), min_size=3, max_size=3).map(sorted))
def test_the_two_piece_normal_meets_its_percentiles(three):
    z = np.array([-ranges.NINETY_FIVE, 0.0, ranges.NINETY_FIVE])

    assert ranges.split_normal(z, *three) == pytest.approx(three, abs=1e-9)


@given(
    st.integers(min_value=1, max_value=300),
    st.sampled_from([(), (3,), (2, 2)]),
    st.integers(min_value=0, max_value=2**32),
)
def test_the_range_is_the_percentiles_of_numpy(count, shape, seed):
    samples = np.random.default_rng(seed).normal(size=(count, *shape))

    assert np.array_equal(ranges.range_of(samples), np.percentile(samples, [5, 95], axis=0))


def test_the_range_of_what_is_no_number_is_none():
    low, high = ranges.range_of(np.array([[1.0, 2.0], [np.nan, 3.0], [3.0, 4.0]]))

    assert np.isnan([low[0], high[0]]).all()
    assert (low[1], high[1]) == pytest.approx((2.1, 3.9))


def test_a_material_without_ranges_is_never_varied():
    from dataclasses import replace

    plain = replace(
        MATERIALS["BKP_M"].physics,
        total_porosity_low=None,
        dry_bulk_density_low_g_cm3=None,
        water_at_10cm_low=None,
    )
    middle = grades([plain])
    members = ranges.sampled_grades(middle, [plain], ranges.draws(2, 64))

    assert np.ptp(members.void) < 1e-12
    assert np.ptp(members.density_g_cm3) == 0
    assert np.all(members.scale == 1)


def test_the_widest_input_is_the_one_that_drives_the_result():
    z = ranges.draws(4, 512)

    assert ranges.widest_input(0.1 * z[:, 0] - 2.0 * z[:, 2] + 0.3 * z[:, 3], z) == 2
    assert ranges.widest_input(np.full(512, 0.3), z) is None


@pytest.mark.parametrize("samples", [0, 63, 65_537])
def test_too_few_and_too_many_draws_are_refused(samples):
    with pytest.raises(BadQuantity) as refused:
        ranges.draws(2, samples)

    assert str(refused.value) == f"number of samples is {samples}; it must be from 64 to 65536."
