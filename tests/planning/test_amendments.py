"""Grams of amendments for a batch."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import FriableError, Refused
from friable.planning.amendments import all_grams, grams_for, mass_words
from friable.planning.job_amendments import job_amendments
from friable.planning.published_recipe import conflicts_within, published_book
from friable.planning.quantities import job_amounts
from friable.planning.recipe import Amendment
from friable.planning.recipe_file import amendment
from friable.reference.recipes import find_recipe, published_recipes


def test_a_loam_based_batch_with_its_conflict_on_chalk():
    # 84 L: 2.4 kg/m3 -> 201.6 g twice, 1.2 -> 100.8 g, 0.6 -> 50.4 g; doubled by another source: 100.8 g.
    book = published_book(find_recipe("john-innes-2"))
    amounts = job_amounts([], book, litres=84)
    weighed = job_amendments(book, amounts.stages, 1, conflicts_within(book))

    assert [p.volume_l for p in amounts.parts] == pytest.approx([49, 21, 14])
    assert {one.name: round(one.grams) for _mix, one in weighed.grams} == {
        "hoof and horn": 202,
        "superphosphate": 202,
        "potassium sulphate": 101,
        "ground limestone": 50,
    }
    assert any(
        "about 101 g" in said and "Sources differ on ground limestone" in said for said in weighed.cautions
    )


def test_an_amendment_of_an_inner_mix_is_weighed_for_what_that_mix_gives():
    book = published_book(find_recipe("trough-halves"))
    amounts = job_amounts([], book, litres=100)
    weighed = job_amendments(book, amounts.stages)

    # Half of 100 L is the loam-based mix; 2.4 g/L of 50 L. By hand.
    assert next(one.grams for _mix, one in weighed.grams if one.name == "superphosphate") == pytest.approx(
        120
    )


def test_less_than_the_scale_weighs_is_refused_with_what_to_do():
    # 0.1 g/L × 5 L = 0.5 g; 1 g needs 10 L; 20 g in 1 L of sand: 0.5 g is 25 mL. By hand.
    with pytest.raises(Refused) as refused:
        grams_for(Amendment("trace elements", 0.1), 5, scale_min_g=1)

    assert str(refused.value) == (
        "0.5 g of trace elements is less than the 1 g that the scale weighs; make at least 10 L, "
        "or mix 20 g of it evenly into 1 L of dry sand and take 25 mL of that."
    )


def test_what_cannot_be_weighed_does_not_hide_the_rest():
    weighed, refused = all_grams([Amendment("trace", 0.1), Amendment("lime", 3)], 5, 1)

    assert [one.name for one in weighed] == ["lime"]
    assert len(refused) == 1


def test_a_range_stays_a_range():
    grams = grams_for(amendment("lime", "2 to 3 kg/m3"), 50)

    assert grams.words == "100 g (100 g to 150 g)"


def test_masses_are_said_in_three_figures():
    assert [mass_words(x) for x in (0.0512, 201.6, 5678, 12_345)] == [
        "0.0512 g",
        "202 g",
        "5680 g",
        "12.3 kg",
    ]


@pytest.mark.parametrize("litres", [0, -1, math.nan, math.inf])
def test_an_impossible_batch_is_refused(litres):
    with pytest.raises(FriableError, match="the batch is"):
        grams_for(Amendment("lime", 3), litres)


def test_an_impossible_scale_is_refused():
    with pytest.raises(FriableError, match="the least the scale weighs is 0 g; it must be above 0"):
        grams_for(Amendment("lime", 3), 10, 0)


@pytest.mark.parametrize("recipe", published_recipes(), ids=lambda recipe: recipe.key)
def test_every_published_recipe_can_be_turned_into_amounts(recipe):
    book = published_book(recipe)
    amounts = job_amounts([], book, litres=100)

    assert amounts.sum_of_parts_l >= 100 - 1e-9
    assert all(one.grams > 0 for _mix, one in job_amendments(book, amounts.stages).grams)


@given(st.floats(min_value=0.01, max_value=50), st.floats(min_value=1, max_value=1000))
def test_twice_the_batch_takes_twice_the_grams(rate, litres):
    one, two = (grams_for(Amendment("lime", rate), volume).grams for volume in (litres, 2 * litres))

    assert two == pytest.approx(2 * one)
