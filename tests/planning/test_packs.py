"""Bales, blocks and bags to order."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.packs import packs_needed, yields_of
from friable.planning.units_in import litres

BALE_L = litres("3.8 cu ft").exact  # 107.6 L


@pytest.mark.parametrize(("bale_yield", "loose", "bales"), [(2.0, 215, 1), (1.34, 144, 2)])
def test_a_measured_bale(bale_yield, loose, bales):
    # 107.6 × 2.0 = 215 L and × 1.34 = 144 L against 168 L. By hand; printed to the litre.
    order = packs_needed("sphagnum peat", 168, BALE_L, bale_yield, bale_yield, measured=True)

    assert order.packs == bales
    assert order.loose_l_per_pack.value == pytest.approx(loose, abs=0.5)
    assert order.to_json()["loose_l_per_pack"] == order.loose_l_per_pack.value


def test_an_unmeasured_bale_is_ordered_for_the_low_end():
    # Published yields of a bale run from 1.34 (a grower, 30 US gallons from 3 cubic feet) to 2:1.
    known = yields_of("sphagnum peat")
    order = packs_needed("sphagnum peat", 168, BALE_L, known.low, known.high, known.measured)

    assert (known.low, known.high) == (1.34, 2)
    assert order.packs == 2
    assert "Order 2, for the lowest yield; 1 would do at the highest." in order.advice
    assert "break one pack up, measure it loose" in order.advice


def test_coir_blocks():
    # 5 kg blocks at 60 to 75 L: 124.9/75 = 1.7 to 124.9/60 = 2.1; at 62.5 L two are just enough. By hand.
    known = yields_of("coir pith", "kg", 5)
    unmeasured = packs_needed("coir", 124.9, 5, known.low, known.high, known.measured, size_unit="kg")
    measured = packs_needed("coir", 124.9, 5, 12.5, 12.5, measured=True, size_unit="kg")

    assert (5 * known.low, 5 * known.high) == (60, 75)
    assert (unmeasured.packs_low, unmeasured.packs_high) == pytest.approx((1.7, 2.1), abs=0.05)
    assert unmeasured.packs == 3
    assert measured.packs == 2


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((0, 100, 2, 2), "the need is 0 L; it must be above 0 and at most 1000000 L."),
        ((math.nan, 100, 2, 2), "the need is not a number L; it must be above 0 and at most 1000000 L."),
        ((10, -1, 2, 2), "the pack is -1 L; it must be above 0."),
        ((10, 100, 0, 2), "the yield is 0 L/L; it must be above 0 and at most 20 L/L."),
        ((10, 100, 2, 1), "the high yield is 1 L/L; it must be from the low yield (2) to 20 L/L."),
    ],
)
def test_impossible_packs_get_one_sentence(arguments, sentence):
    need, pack, low, high = arguments
    with pytest.raises(FriableError) as refused:
        packs_needed("peat", need, pack, low, high, measured=True)

    assert str(refused.value) == sentence


def test_a_pack_nobody_has_a_yield_of_must_be_measured():
    with pytest.raises(FriableError, match="No yield is known for stardust sold by the L; break one pack up"):
        yields_of("stardust")


@given(
    st.floats(min_value=0.1, max_value=1e5),
    st.floats(min_value=1, max_value=500),
    st.floats(min_value=0.2, max_value=9),
    st.floats(min_value=0, max_value=9),
)
def test_an_order_covers_the_need_at_the_lowest_yield_and_no_pack_is_spare(need, pack, low, more):
    order = packs_needed("peat", need, pack, low, low + more, measured=False)

    assert order.packs * pack * low >= need * (1 - 1e-9)
    assert (order.packs - 1) * pack * low < need * (1 + 1e-9)
