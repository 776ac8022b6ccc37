"""Water to add to a heap."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.moisture import WATER_TO_DRY, WET_MASS, water_to_add


def test_per_cent_of_the_wet_mass():
    # 14 kg at 30 % hold 4.2 kg water and 9.8 kg dry; at 50 % they weigh 19.6 kg: 5.6 L. By hand.
    assert water_to_add(14, 0.3, 0.5).water_to_add_l == pytest.approx(5.6)


def test_per_cent_of_the_dry_mass_is_another_answer():
    # 14/1.3 = 10.77 kg dry; 0.2 × 10.77 = 2.15 L. By hand.
    assert water_to_add(14, 0.3, 0.5, WATER_TO_DRY).water_to_add_l == pytest.approx(2.154, abs=5e-4)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            (14, 0.5, 0.3),
            "The heap is at 50 % already and 30 % is drier; spread it out to dry, add no water.",
        ),
        ((0, 0.3, 0.5), "the mass is 0 kg; it must be above 0 and at most 1,000,000 kg."),
        ((math.nan, 0.3, 0.5), "the mass is not a number kg; it must be above 0 and at most 1,000,000 kg."),
        ((14, -0.1, 0.5), "the moisture now is -10 %; it must be from 0 to less than 100 % of the wet mass."),
        ((14, 0.3, 1), "the moisture wanted is 100 %; it must be from 0 to less than 100 % of the wet mass."),
        (
            (14, 0.3, 21, WATER_TO_DRY),
            "the moisture wanted is 2100 %; it must be from 0 to 2000 % of the dry mass.",
        ),
        ((14, 0.3, 0.5, "odd"), "meaning “odd” is unknown. Use wet-mass or water-to-dry."),
    ],
)
def test_an_impossible_heap_gets_one_sentence(arguments, sentence):
    with pytest.raises(FriableError) as refused:
        water_to_add(*arguments)

    assert str(refused.value) == sentence


@given(
    st.floats(min_value=0.1, max_value=1e4),
    st.floats(min_value=0, max_value=0.9),
    st.floats(min_value=0, max_value=0.9),
)
def test_the_two_meanings_agree_on_the_same_heap(mass, one, other):
    now, then = sorted((one, other))
    wet = water_to_add(mass, now, then, WET_MASS)
    dry = water_to_add(mass, now / (1 - now), then / (1 - then), WATER_TO_DRY)

    assert wet.water_to_add_l == pytest.approx(dry.water_to_add_l, rel=1e-6, abs=1e-9 * mass)
    assert wet.dry_mass_kg + wet.water_now_kg == pytest.approx(mass)
    assert wet.mass_after_kg * (1 - then) == pytest.approx(wet.dry_mass_kg)
