"""Volumes of pots, worked by hand, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from friable.errors import BadQuantity
from friable.science.containers import Container
from strategies_science import pots


def round_pot(top, bottom, height, **more):
    return Container(
        shape="round",
        top_length_cm=top,
        top_width_cm=top,
        bottom_length_cm=bottom,
        bottom_width_cm=bottom,
        height_cm=height,
        **more,
    )


def tray(length, width, bottom_length, bottom_width, height, **more):
    return Container(
        shape="tray",
        top_length_cm=length,
        top_width_cm=width,
        bottom_length_cm=bottom_length,
        bottom_width_cm=bottom_width,
        height_cm=height,
        **more,
    )


def test_a_straight_pot_by_hand():
    assert round_pot(10, 10, 10).brim_volume_l == pytest.approx(math.pi * 25 * 10 / 1000)


def test_a_tapered_pot_by_hand():
    # Frustum: π h (R² + R r + r²)/3 with R 8.5, r 6, h 13: 13.614 × (72.25 + 51 + 36) = 2.1680 L.
    assert round_pot(17, 12, 13).brim_volume_l == pytest.approx(2.1680, abs=1e-4)


def test_a_headspace_cuts_the_widest_part():
    # To 11.5 cm the diameter is 12 + 5 × 11.5/13 = 16.4231 cm: π 11.5 (8.21154² + 8.21154 × 6 + 36)/3 /1000.
    by_hand = math.pi * 11.5 * (8.21154**2 + 8.21154 * 6 + 36) / 3 / 1000

    assert round_pot(17, 12, 13, headspace_cm=1.5).fill_volume_l == pytest.approx(by_hand, abs=1e-5)


def test_a_tray_with_sloping_walls_by_hand():
    # Prismoid 40 × 30 over 36 × 26, 6 cm: 6 (1200 + 4 × 38 × 28 + 936)/6 = 6.392 L; a mean of the ends gives
    # 6.408.
    assert tray(40, 30, 36, 26, 6).brim_volume_l == pytest.approx(6.392)


def test_a_measured_volume_scales_the_pot():
    pot = round_pot(17, 12, 13, headspace_cm=1.5, measured_volume_l=2.2)
    plain = round_pot(17, 12, 13, headspace_cm=1.5)

    assert pot.brim_volume_l == pytest.approx(2.2)
    assert pot.fill_volume_l / plain.fill_volume_l == pytest.approx(2.2 / plain.brim_volume_l)


@given(pots(), st.floats(min_value=0.001, max_value=1))
def test_volume_is_the_integral_of_the_area(pot, share):
    height = share * pot.height_cm
    integral, _error = quad(lambda z: float(pot.area_cm2(z)), 0, height)

    assert 1000 * pot.volume_below_l(height) == pytest.approx(integral, rel=1e-9, abs=1e-9)


@given(pots(), st.floats(min_value=0, max_value=0.4), st.floats(min_value=0, max_value=0.4))
def test_layer_and_medium_and_headspace_make_up_the_pot(pot, headspace, layer):
    filled = pot.with_headspace(headspace * pot.height_cm).with_drainage_layer(layer * pot.height_cm)
    above = filled.brim_volume_l - filled.fill_volume_l

    assert filled.layer_volume_l + filled.medium_volume_l + above == pytest.approx(pot.brim_volume_l)
    assert filled.medium_height_cm == pytest.approx((1 - headspace - layer) * pot.height_cm)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: round_pot(17, 12, -13), "height is -13 cm; it must be from 0.1 to 1000 cm inside."),
        (
            lambda: round_pot(math.nan, 12, 13),
            "top diameter is not a number cm; it must be from 0.1 to 1000 cm inside.",
        ),
        (lambda: tray(40, 30, 0, 26, 6), "bottom length is 0 cm; it must be from 0.1 to 1000 cm inside."),
        (
            lambda: round_pot(17, 12, 13, headspace_cm=13),
            "headspace is 13 cm; it must be at least 0 and less than the height of the container (13 cm).",
        ),
        (
            lambda: round_pot(17, 12, 13, headspace_cm=3, drainage_layer_cm=10),
            "drainage layer is 10 cm; it must be at least 0 and less than the filled height (10 cm).",
        ),
        (lambda: round_pot(17, 12, 13, measured_volume_l=0), "measured volume is 0 L; it must be above 0."),
        (
            lambda: round_pot(17, 12, 13).volume_below_l(14),
            "height is 14 cm; it must be from 0 to the brim (13 cm).",
        ),
    ],
    ids=["height", "diameter", "length", "headspace", "layer", "measured", "above the brim"],
)  # fmt: skip
def test_impossible_pots_are_refused(make, sentence):
    with pytest.raises(BadQuantity) as refused:
        make()

    assert str(refused.value) == sentence


def test_a_shape_nobody_knows_and_a_round_pot_with_two_diameters_are_bugs():
    with pytest.raises(ValueError, match="shape is 'oval'"):
        Container(
            shape="oval", top_length_cm=9, top_width_cm=9, bottom_length_cm=9, bottom_width_cm=9, height_cm=9
        )
    with pytest.raises(ValueError, match="one diameter at each end"):
        Container(
            shape="round", top_length_cm=9, top_width_cm=8, bottom_length_cm=9, bottom_width_cm=9, height_cm=9
        )


@pytest.mark.parametrize(
    ("pot", "text"),
    [
        (round_pot(17, 12, 13), "round 17/12/13 cm"),
        (tray(40, 30, 40, 30, 6), "tray 40x30x6 cm"),
        (tray(9, 9, 7, 7, 8), "tray 9x9/7x7/8 cm"),
        (tray(40, 30, 36, 26, 6), "tray 40x30/36x26/6 cm"),
    ],
)
def test_a_pot_describes_itself_as_it_is_typed(pot, text):
    assert pot.describe() == text
