"""What can stand in for a mix: which candidates there are, what they change, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from replacing_asked import MATERIALS, POT, TRAY, at_hand, case, parts

from friable.errors import AmbiguousName, BadQuantity, BadRecipe, BadText, FriableError, Refused, UnknownName
from friable.planning.forecast import forecast
from friable.planning.limits import Limits
from friable.planning.replacing import peat_free, replace, without
from friable.planning.replacing_judge import recipe_text, swapped, whole

BASKET = parts(PEAT_M=1, PERL_C=3)
BARK_MIX = parts(BKP_M=5, PEAT_M=1, PERL_C=1)
FEW = ("BKP_M", "PEAT_M", "PERL_C", "PERL_F", "PUM_S", "COIR_P", "WOODF", "SAND_C", "GRIT", "LIMG")


@pytest.fixture(scope="module")
def basket():
    """The basket mix without its coarse perlite, from everything there is; swaps alone."""
    return replace(case(BASKET, "PERL_C", containers=(POT, TRAY)), best=4, search=False)


@pytest.fixture(scope="module")
def without_peat():
    return replace(case(BARK_MIX, peat_free(BARK_MIX, at_hand()), FEW, kinds=3, parts=6), best=5, samples=64)


# --- what goes ----------------------------------------------------------------------------------


def test_a_name_takes_every_grade_and_name_with_grade_that_one():
    assert without("perlite", BASKET) == {"PERL_F", "PERL_M", "PERL_C", "PERL_X"}
    assert without("perlite coarse", BASKET) == {"PERL_C"}
    assert without("PERL_C", BASKET) == {"PERL_C"}


def test_peat_is_every_material_that_is_peat():
    assert without("peat", BASKET) == {"PEAT_F", "PEAT_M", "PEAT_C"}
    assert without("Peat", BASKET) == peat_free(BASKET)
    assert "MOSS" not in peat_free(BASKET)  # sphagnum, not peat


def test_a_word_that_fits_several_means_the_one_in_the_mix():
    assert without("bark", BARK_MIX) == {"BKP_M"}


def test_several_parted_by_commas():
    assert without("peat, perlite coarse", BASKET) == {"PEAT_F", "PEAT_M", "PEAT_C", "PERL_C"}


@pytest.mark.parametrize(
    ("text", "error", "said"),
    [
        ("grit", Refused, "The mix has no grit; it is made of"),
        ("nonesuch", UnknownName, "No material is called “nonesuch”."),
        ("bark", Refused, "The mix has no bark; it is made of"),
        (" , ", BadText, "what the mix must do without"),
    ],
)
def test_what_cannot_go_is_refused_with_the_way_out(text, error, said):
    with pytest.raises(error) as refused:
        without(text, BASKET)
    assert str(refused.value).startswith(said)


def test_a_word_that_fits_two_names_in_the_mix_has_to_be_said_in_full():
    with pytest.raises(AmbiguousName, match="“bark” can mean more than one material"):
        without("bark", parts(BKP_M=1, BKE_S=1))


pieces = st.lists(st.sampled_from(["peat", "perlite", "bark", ",", " ", "1"])).map("".join)


@given(st.text(max_size=40) | pieces)
def test_whatever_is_typed_is_taken_or_refused(text):
    said, keys = "", frozenset()
    try:
        keys = without(text, BARK_MIX, at_hand())
    except FriableError as refused:
        said = str(refused)

    assert "\n" not in said
    assert said or keys & {"BKP_M", "PEAT_M", "PERL_C"}


# --- swaps --------------------------------------------------------------------------------------


def test_a_swap_keeps_the_parts():
    mix = swapped(BARK_MIX, [MATERIALS["PERL_C"]], MATERIALS["PUM_S"])

    assert (
        recipe_text(mix) == "5 pine bark nursery 0-12 mm + 1 pumice 2-4 mm + 1 sphagnum peat medium 0-10 mm"
    )


def test_what_is_in_the_mix_already_takes_the_parts_over():
    mix = swapped(BARK_MIX, [MATERIALS["PEAT_M"], MATERIALS["PERL_C"]], MATERIALS["BKP_M"])

    assert [(m.key, n) for m, n in mix] == [("BKP_M", 1.0)]


def test_parts_are_told_whole_where_they_are():
    thirds = [(MATERIALS["PEAT_M"], 1 / 3), (MATERIALS["PERL_C"], 2 / 3)]
    odd = [(MATERIALS["PEAT_M"], 0.3137), (MATERIALS["PERL_C"], 0.6863)]

    assert [n for _m, n in whole(thirds)] == [1, 2]
    assert recipe_text(whole(odd)) == "31.37 % sphagnum peat medium 0-10 mm + 68.63 % perlite coarse 2-6 mm"


def test_every_material_at_hand_is_told_with_its_distance(basket):
    # 60 materials, less the one that goes.
    assert len(basket.swaps) + len(basket.other_swaps) == len(MATERIALS) - 1
    nearest_further = basket.other_swaps[0].distance
    assert all(one.distance.value <= nearest_further for one in basket.swaps if not one.grades)
    distances = [one.distance.value for one in basket.candidates]
    assert distances == sorted(distances)


def test_the_same_name_in_another_grade_is_never_silent(basket):
    marked = {one.grades[0].after: one.grades[0] for one in basket.candidates if one.grades}

    assert set(marked) == {"fine 0-1.5 mm", "medium 1-4 mm", "super-coarse 6-12 mm"}
    fine = marked["fine 0-1.5 mm"]
    assert fine.before == "coarse 2-6 mm"
    assert "perlite fine 0-1.5 mm is not perlite coarse 2-6 mm" in fine.said
    assert POT.describe() in fine.said
    assert TRAY.describe() in fine.said


def test_fine_perlite_for_coarse_holds_more_weighs_more_and_has_less_air(basket):
    # Prasad 1979: coarse perlite raised the air of peat, fine perlite lowered it; trials of 1974 and 1977 had
    # 0.373 kg/L wet for coarse and 0.610 for fine, share and grade at once.
    fine = next(one for one in basket.candidates if "perlite fine" in one.text)
    for pot in fine.pots:
        assert pot.changes["air_space"].difference.value < -0.10
        assert pot.changes["container_capacity"].difference.value > 0.10
        assert pot.changes["wet_mass_kg"].difference.value > 0
        assert pot.water_lasts.value > 1
    assert any(said.startswith(f"In {POT.describe()}: Water later") for said in fine.watch)


def test_figures_before_and_after_are_those_of_the_forecast(basket):
    one = basket.candidates[0]
    for pot, before in zip(one.pots, basket.before, strict=True):
        after = forecast(one.parts, pot.container, samples=256)
        for name, change in pot.changes.items():
            assert change.before == getattr(before, name)
            assert change.after == getattr(after, name)
            assert change.difference.value == pytest.approx(change.after.value - change.before.value)
            assert change.difference.low <= change.difference.value <= change.difference.high


def test_what_stays_does_not_count_twice_in_a_difference():
    # A twentieth of a mix changes: its ranges before and after are wide, that of the difference is not.
    mix = parts(PEAT_M=19, PERL_C=1)
    answer = replace(case(mix, "PERL_C", ["PERL_M"]), search=False)
    change = answer.candidates[0].pots[0].changes["air_space"]
    width = change.difference.high - change.difference.low

    assert width < 0.25 * (change.after.high - change.after.low)


# --- recipes ------------------------------------------------------------------------------------


def test_peat_free_has_no_peat_in_any_candidate(without_peat):
    assert without_peat.recipes
    for one in without_peat.candidates:
        assert not {"PEAT_F", "PEAT_M", "PEAT_C"} & {m.key for m, _n in one.parts}
        assert one.flags["peat_share"] == 0
        assert any("Peat: 0 % of what is poured instead of 14 %." in said for said in one.changes)
    assert all(swap.material != "sphagnum peat medium 0-10 mm" for swap in without_peat.other_swaps)


def test_recipes_are_of_whole_parts_within_what_was_asked(without_peat):
    for one in without_peat.recipes:
        assert all(n == int(n) for _m, n in one.parts)
        assert sum(n for _m, n in one.parts) <= 6
        assert len(one.parts) <= 3


def test_a_recipe_found_is_at_least_as_near_as_any_swap_of_as_few_parts(without_peat):
    simple = [one for one in without_peat.swaps if sum(n for _m, n in one.parts) <= 6]
    nearest = min(one.distance.value for one in without_peat.candidates)

    assert all(nearest <= one.distance.value for one in simple)


def test_the_nearest_of_every_number_of_materials_is_among_them(without_peat):
    from friable.planning.replacing_search import replace_by_loop

    asked = case(BARK_MIX, peat_free(BARK_MIX, at_hand()), FEW, kinds=3, parts=6)
    told = {one.text for one in without_peat.candidates} | {one.text for one in without_peat.other_swaps}
    nearest: dict[int, str] = {}
    for recipe, _distance in replace_by_loop(asked):
        nearest.setdefault(len(recipe), recipe_text(recipe))

    assert set(nearest) == {1, 2, 3}
    assert set(nearest.values()) <= told


def test_one_recipe_keeps_what_stays_of_the_mix(without_peat):
    for one in without_peat.candidates:
        assert one.keeps_rest == ({"BKP_M", "PERL_C"} <= {m.key for m, _n in one.parts})
    assert any(one.keeps_rest for one in without_peat.recipes)


def test_no_recipe_is_told_twice(without_peat):
    told = [one.text for one in without_peat.candidates]

    assert len(told) == len(set(told))


def test_within_stock_nothing_is_told_that_the_stock_does_not_reach_for():
    stock = {"BKP_M": 70.0, "PEAT_M": 20.0, "PUM_S": 20.0, "SAND_C": 3.0, "WOODF": 0.0}
    answer = replace(
        case(
            BARK_MIX, "PERL_C", FEW,
            stock_l=stock, parts=7, kinds=3, limits=Limits(litres=80.0, within_stock=True),
        ),
        samples=64,
    )  # fmt: skip
    for one in answer.candidates:
        total = sum(n for _m, n in one.parts)
        for material, n in one.parts:
            assert n / total * 80 <= stock[material.key]
        assert one.within_stock is True


def test_cost_is_of_the_finished_litre_and_unknown_where_a_price_is():
    prices = {"BKP_M": 0.10, "PEAT_M": 0.20, "PUM_S": 0.50, "PERL_C": 0.30}
    answer = replace(case(BARK_MIX, "PERL_C", ["PUM_S", "GRIT"], cost_per_l=prices), search=False, samples=64)
    pumice, grit = (next(one for one in answer.candidates if name in one.text) for name in ("pumice", "grit"))

    # The mix itself holds materials that are not at hand, so what they cost is not known here.
    assert grit.cost_per_l is None
    assert pumice.cost_per_l is None
    answer = replace(
        case(BARK_MIX, "PERL_C", ["PUM_S", "BKP_M", "PEAT_M", "PERL_C"], cost_per_l=prices),
        search=False,
        samples=64,
    )
    pumice = next(one for one in answer.candidates if "pumice" in one.text)
    shrinkage = forecast(pumice.parts, POT, samples=0).shrinkage.value
    assert pumice.cost_per_l == pytest.approx((5 * 0.10 + 0.20 + 0.50) / 7 / (1 - shrinkage))
    assert pumice.cost_before == pytest.approx(
        (5 * 0.10 + 0.20 + 0.30) / 7 / (1 - forecast(BARK_MIX, POT, samples=0).shrinkage.value)
    )


def test_the_answer_for_programs_has_every_key(without_peat):
    told = without_peat.to_json()

    assert told["without"] == ["sphagnum peat medium 0-10 mm"]
    for one in told["candidates"]:
        assert {"recipe", "distance", "changes", "watch", "air_space", "container_capacity"} <= set(one)
        assert {"wet_mass_kg", "cost_per_l", "flags", "grades", "how", "pots", "within_stock"} <= set(one)
        assert {"value", "low", "high", "how_known", "source"} == set(one["air_space"])


def test_sources_stand_in_full_where_a_sentence_names_them(without_peat):
    assert any(said.startswith("Free advice service on going peat-free") for said in without_peat.sources)
    perlite = replace(case(BASKET, "PERL_C", ["PERL_X"]), search=False, samples=64)
    assert perlite.sources == ()


# --- refusals -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "error", "said"),
    [
        (case(BASKET, "GRIT"), Refused, "None of what must go is in the mix; it is made of"),
        (case(BASKET, "PERL_C", ["PERL_C"]), Refused, "Nothing that may be used is left"),
        (
            case(BASKET, "PERL_C", ["GRIT"], limits=Limits(litres=10.0, within_stock=True)),
            Refused,
            "Nothing that could take its place is counted in stock and allowed; count it",
        ),
        (case(BASKET, "PERL_C", containers=()), BadRecipe, "No container is named"),
        (case(BASKET, "PERL_C", parts=0), BadQuantity, "whole parts in all is 0"),
        (case(BASKET, "PERL_C", kinds=9), BadQuantity, "materials in a recipe is 9"),
        (
            case(BASKET, "PERL_C", ["GRIT", "SAND_C"], kinds=1, limits=Limits(most_wet_kg_l=0.1)),
            Refused,
            "None of the 2 recipes of what is at hand can stand in within the limits; loosen one",
        ),
    ],
)
def test_impossible_questions_get_one_sentence(asked, error, said):
    with pytest.raises(error) as refused:
        replace(asked)
    assert str(refused.value).startswith(said)
