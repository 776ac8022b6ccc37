"""What is added to a mix, and whom its card warns off, count; and recipes that suit several stands."""

import pytest

from friable.planning.at_hand import AtHand
from friable.planning.collection_values import Mix
from friable.planning.fewest_card import added_to, carded, flags_with_added, is_warned_off, mix_key, not_for
from friable.planning.fewest_collection import read_stands
from friable.planning.fewest_given import mixes_given
from friable.planning.fewest_judged import judge_by_chances
from friable.planning.fewest_recipes import sought
from friable.planning.fewest_values import FewestCase
from friable.planning.find import find
from friable.planning.find_values import Cancelled, FindCase
from friable.reference.material_flags import material_flags
from friable.reference.materials import find_material
from friable.reference.plant_groups import find_plant_group

PEAT = Mix("peat", ((find_material("sphagnum peat medium"), 1.0),))
CLEAN = {"lime": "no", "feed": "no", "dust": "yes"}


@pytest.mark.parametrize(
    ("added", "lime", "food"),
    [
        ("dolomitic limestone", "yes", "no"),
        ("Ground chalk", "yes", "no"),
        ("coated release fertiliser, 5 to 6 months", "no", "yes"),
        ("hoof and horn", "no", "yes"),
        ("fritted trace elements", "unknown", "unknown"),
        ("wetting agent", "unknown", "unknown"),
    ],
)
def test_what_is_added_counts_by_its_name(added, lime, food):
    told = flags_with_added(CLEAN, [added])

    assert (told["lime"], told["feed"], told["dust"]) == (lime, food, "yes")


def test_the_worst_of_materials_and_additions_decides():
    assert flags_with_added({"lime": "yes", "feed": "sometimes"}, ["bone meal"]) == {
        "lime": "yes",
        "feed": "yes",
    }
    assert flags_with_added(CLEAN, []) == CLEAN


@pytest.mark.parametrize(
    ("card", "group", "warned"),
    [
        ("heaths, bog plants", "heath, grown", True),
        ("heaths, bog plants", "bog, seed", True),
        ("heaths; sundews and alpines", "bog, grown", True),
        ("ericaceous plants", "heath, liners", True),
        ("heaths, bog plants", "fern, grown", False),
        ("", "heath, grown", False),
    ],
)
def test_a_card_warns_off_the_groups_that_it_names(card, group, warned):
    assert is_warned_off(card, find_plant_group(group)) is warned


def test_a_limed_mix_is_not_the_same_as_one_that_is_not_and_does_not_keep_heaths():
    limed = carded(PEAT, ["dolomitic limestone", "dolomitic limestone"], ["", "heaths"])
    assert (added_to(limed), not_for(limed)) == (("dolomitic limestone",), "heaths")
    assert mix_key(limed) != mix_key(PEAT) == mix_key(carded(PEAT, [], [""]))
    [stand] = read_stands("group,stage,count\nheath,grown,1\n").stands
    judge = judge_by_chances()

    told = judge(limed, stand)

    assert not told.keeps
    assert told.chance is None
    assert told.outside[0] == "its card says: not for heaths"
    assert any("lime: yes" in words and "added: dolomitic limestone" in words for words in told.outside)
    assert not any("lime" in words for words in judge(PEAT, stand).outside)


def test_what_is_added_to_a_mix_within_another_counts():
    [given] = mixes_given(
        '[mix."base"]\nparts = [["coir pith", 3]]\nnot_for = "heaths"\n'
        'amendments = [["garden lime", "3 g/L"]]\n'
        '[mix."with perlite"]\nparts = [["base", 3], ["perlite coarse", 1]]\n'
    )

    assert (added_to(given), not_for(given)) == (("garden lime",), "heaths")


def test_what_is_printed_as_added_to_a_published_mix_counts():
    read = read_stands("group,stage,count,mix\nfern,grown,1,John Innes No. 2\n")

    assert any("chalk" in name or "lime" in name for name in added_to(read.lines[0].mix))


# --- recipes for several stands --------------------------------------------------------------------

KEYS = ("BKP_M", "PEAT_M", "PERL_C", "CCL_M")
AT_HAND = tuple(AtHand(material=find_material(key), flags=material_flags(find_material(key))) for key in KEYS)


def asked(text, **options):
    return FewestCase(stands=read_stands(text), at_hand=AT_HAND, parts=4, kinds=2, **options)


def test_the_best_for_a_stand_are_those_that_a_search_for_it_alone_finds():
    case = asked("group,stage,count\nfern,grown,1\n", found_each=5)
    stand = case.stands.stands[0]
    alone = find(
        FindCase(windows=stand.windows, container=stand.container, at_hand=AT_HAND, parts=4, kinds=2), best=5
    )

    found = {recipe.text: recipe.chances[0] for recipe in sought(case).recipes}

    assert alone.best
    for one in alone.best:
        assert found[one.text] == one.chance


def test_a_recipe_says_of_every_stand_what_a_forecast_says_of_it():
    case = asked("group,stage,count\nfern,grown,1\nfoliage,grown,1\ngeneral,liners,1\n")
    judge = judge_by_chances(AT_HAND)

    recipes = sought(case).recipes

    assert any(len(recipe.chances) > 1 for recipe in recipes)
    for recipe in recipes[::4]:
        mix = Mix(recipe.text, tuple((material, float(n)) for material, n in recipe.parts))
        for place, stand in enumerate(case.stands.stands):
            assert recipe.chances.get(place) == judge(mix, stand).chance


def test_a_stand_for_which_nothing_can_be_looked_for_is_told_and_hinders_no_other():
    limestone = find_material("limestone grit")
    chalky = tuple(AtHand(material=one, flags=material_flags(one)) for one in (limestone,))
    case = asked("group,stage,count\nheath,grown,1\nfoliage,grown,1\n")

    found = sought(FewestCase(stands=case.stands, at_hand=chalky, parts=2, kinds=1))

    assert set(found.refused) == {0}
    assert found.refused[0].startswith("No material is left to make a mix of. Left out, ")


def test_with_nothing_at_hand_nothing_is_found():
    case = asked("group,stage,count\nfern,grown,1\n")

    assert sought(FewestCase(stands=case.stands)).recipes == ()


def test_a_search_for_several_stands_can_be_stopped():
    with pytest.raises(Cancelled):
        sought(asked("group,stage,count\nfern,grown,1\n"), cancelled=lambda: True)
