"""Batches for the mixer, the order of loading, and lifting."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.batch import loading_order, split_batches
from friable.planning.lifting import wet_mass_note
from friable.planning.recipe import Amendment
from friable.reference.materials import find_material


def test_batches_are_equal_rather_than_full_with_a_small_rest():
    # 108.8 L in a mixer of 60 L: 54.4 twice, not 60 and 48.8; 121 L: three of 40.3. By hand.
    assert split_batches(108.8, 60).volumes_l == (54.4, 54.4)
    assert split_batches(121, 60).volumes_l == pytest.approx((40.4, 40.3, 40.3))
    assert split_batches(60, 60).volumes_l == (60,)
    assert split_batches(90, None).volumes_l == (90,)


@given(st.floats(min_value=0.1, max_value=5000), st.floats(min_value=10, max_value=500))
def test_batches_add_up_and_none_overfills(total, mixer):
    split = split_batches(total, mixer)

    assert sum(split.volumes_l) == pytest.approx(total, abs=0.051)  # printed to 0.1 L
    assert max(split.volumes_l) <= mixer * (1 + 1e-12)
    assert max(split.volumes_l) - min(split.volumes_l) <= 0.1 + 1e-9
    assert (split.count - 1) * mixer < total


@pytest.mark.parametrize(
    ("total", "mixer", "sentence"),
    [
        (math.nan, 60, "the volume to mix is not a number L; it must be above 0 and at most 1000000 L."),
        (0, 60, "the volume to mix is 0 L; it must be above 0 and at most 1000000 L."),
        (10, 0, "the mixer's working volume is 0 L; it must be above 0."),
        (10, math.nan, "the mixer's working volume is not a number L; it must be above 0."),
        (5000, 1, "the number of batches is 5000; it must be at most 1000. Use a larger mixer."),
    ],
)
def test_impossible_batches_get_one_sentence(total, mixer, sentence):
    with pytest.raises(FriableError) as refused:
        split_batches(total, mixer)

    assert str(refused.value) == sentence


def named(*names):
    return [find_material(name) for name in names]


def test_what_sheds_water_is_wetted_and_what_is_dusty_is_damped_before_pouring():
    plan = loading_order(named("pine bark nursery", "sphagnum peat medium", "perlite coarse", "gravel"))

    wet, damp = plan.dampen_first
    assert "pine bark nursery" in wet
    assert "overnight is best" in wet
    assert "perlite coarse" in damp
    assert "gravel" not in wet + damp


def test_the_order_of_loading_is_told_by_the_keys_of_the_materials():
    listed = named("vermiculite medium", "horticultural sand medium", "pine bark coarse")
    vermiculite, sand, bark = [material.key for material in listed]

    plan = loading_order([*listed, listed[0]])

    assert plan.order == (bark, sand, vermiculite)
    assert plan.to_json()["order"] == [bark, sand, vermiculite]


def test_the_coarse_goes_in_first_and_what_crushes_last():
    first, then, last = loading_order(
        named("pine bark coarse", "horticultural sand medium", "vermiculite medium")
    ).load

    assert first.startswith("Load pine bark coarse")
    assert then.startswith("Then horticultural sand medium")
    assert last.startswith("Add vermiculite medium")
    assert "last" in last


def test_amendments_go_in_with_a_carrier_and_heat_is_kept_from_them():
    plan = loading_order(
        [], [Amendment("coated feed", 3), Amendment("hoof and horn", 2), Amendment("lime", 3)]
    )

    assert plan.amendments[0].startswith(
        "Stir coated feed, hoof and horn, lime into a bucket of the damp mix"
    )
    assert plan.never_heat[0].startswith("coated feed must not be heated")
    assert "hoof and horn" in plan.never_heat[1]
    assert "lime" not in " ".join(plan.never_heat)


def test_the_handful_wanted_is_told():
    # The squeeze test: holds its shape and crumbles at a touch, no water runs (growers' guidance).
    assert "crumbles at a touch" in loading_order([]).squeeze


@pytest.mark.parametrize(
    ("kg", "words"),
    [
        (5, "5 kg when wet; less with reach"),
        (20, "near the 23 kg that the lifting equation allows under ideal conditions"),
        (50, "split it into 3 loads or more"),
    ],
)
def test_a_load_is_held_against_the_lifting_equation(kg, words):
    # Load constant 23 kg: Applications manual for the revised NIOSH lifting equation, publication 94-110.
    said = wet_mass_note(kg)

    assert words in said
    assert "your workplace rules" in said


@pytest.mark.parametrize("kg", [-1, math.nan, math.inf])
def test_an_impossible_mass_is_refused(kg):
    with pytest.raises(FriableError, match=r"the mass to lift is .* kg; it must be 0 or more\."):
        wet_mass_note(kg)
