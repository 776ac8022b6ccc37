"""The bench porosity test, and what it says of another depth."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.notation import parse_container
from friable.planning.pot_test import elsewhere, plausible_shapes, read_pot_test
from friable.reference.materials import all_materials
from friable.science.drainage import drained_mean
from friable.science.retention import RetentionCurve

POT = parse_container("round 15/11/12.5 cm").with_headspace(1)
TRAY = parse_container("tray 50x30x4 cm")


def test_a_test_is_read_for_its_own_depth():
    # Frustum to 11.5 cm: 1.499 L; 1.110/1.499 = 74 %, 0.270/1.499 = 18 %, the rest 56 %. By hand, to 1 %.
    test = read_pot_test(POT, 1.110, 0.270)

    assert test.volume_l == pytest.approx(1.499, abs=5e-4)
    assert test.total_porosity == pytest.approx(0.74, abs=0.005)
    assert test.air_space == pytest.approx(0.18, abs=0.005)
    assert test.container_capacity == pytest.approx(0.56, abs=0.005)
    assert test.column_height_cm == 11.5
    assert "Valid for a column of 11.5 cm only" in test.advice


def test_a_shallow_tray_holds_less_air_within_a_band():
    air = read_pot_test(POT, 1.110, 0.270, TRAY).also_in.air_space

    assert air.low < air.value < air.high < 0.18


def test_the_fall_is_like_that_of_a_published_pair():
    # Bilderback and Fonteno 1987, J. Environ. Hort. 5:180 (abstract): one medium with 28 % air in a #1
    # container and 12 % in a bedding cell. Their sizes are not printed there; a #1 is about 15 to 17 cm deep,
    # a cell 5 to 6 cm (from memory), so the pair is held against those depths at their widest.
    deep = parse_container("round 16/14/17 cm").with_headspace(1.5)
    cell = parse_container("cell 5/4/5.5 cm")
    air = read_pot_test(deep, 0.71 * deep.fill_volume_l, 0.28 * deep.fill_volume_l, cell).also_in.air_space

    assert air.low < 0.12 < air.high


@pytest.mark.parametrize("n", [1.5, 2, 2.8])
def test_a_medium_whose_curve_is_known_is_found_again(n):
    # An invented curve is drained in the pot, read back as a test, and must lie in the band for the tray.
    medium = RetentionCurve(saturated=0.8, residual=0.25, alpha_per_cm=0.12, n=n)
    held = drained_mean(medium, POT)
    test = read_pot_test(POT, 0.8 * POT.fill_volume_l, (0.8 - held) * POT.fill_volume_l)
    there = elsewhere(test, TRAY).container_capacity

    assert there.low - 0.02 < drained_mean(medium, TRAY) < there.high + 0.02


def test_every_material_lends_its_shape():
    assert len(plausible_shapes()) == len(all_materials())
    assert all(n > 1 and 0 <= inside < 1 for n, inside in plausible_shapes())


@given(st.floats(min_value=0.3, max_value=0.95), st.floats(min_value=0.05, max_value=0.95))
def test_the_shallower_the_wetter(porosity, drained):
    air = porosity * drained
    assume(air > 0.01)
    test = read_pot_test(POT, porosity * POT.fill_volume_l, air * POT.fill_volume_l)
    tray, same, deep = (
        elsewhere(test, pot).air_space
        for pot in (TRAY, POT, parse_container("round 15/11/25 cm").with_headspace(1))
    )

    assert tray.value <= same.value + 1e-6 <= deep.value + 2e-6
    assert same.value == pytest.approx(test.air_space, abs=1e-6)
    assert tray.low >= 0
    assert deep.high <= porosity


@pytest.mark.parametrize(
    ("water", "drained", "sentence"),
    [
        (
            1.6,
            0.2,
            "1.6 L went into a pot that holds 1.499 L to its fill line with the mix in it; "
            "measure the pot or the water again.",
        ),
        (
            1.1,
            1.2,
            "1.2 L drained out of 1.1 L poured in; more cannot come out than went in, "
            "so start with dry mix and measure both again.",
        ),
        (0, 0, "the water poured in is 0 L; it must be above 0."),
        (math.nan, 0, "the water poured in is not a number L; it must be above 0."),
        (1.1, -0.1, "the water drained is -0.1 L; it must be 0 or more."),
        (1.1, math.nan, "the water drained is not a number L; it must be 0 or more."),
        (
            1.1,
            0,
            "The test drained nothing or everything, which says nothing about another depth; "
            "make the test in that container.",
        ),
    ],
)
def test_an_impossible_test_gets_one_sentence(water, drained, sentence):
    with pytest.raises(FriableError) as refused:
        read_pot_test(POT, water, drained, TRAY)

    assert str(refused.value) == sentence
