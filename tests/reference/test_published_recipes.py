"""Recipes stand as printed: parts, rates, conflicts, cautions."""

from fractions import Fraction

import pytest

from friable.errors import AmbiguousName, UnknownName
from friable.reference.materials import all_materials
from friable.reference.recipes import find_recipe, published_recipes
from friable.reference.sources import cited

RECIPES = {recipe.key: recipe for recipe in published_recipes()}

# Totals as printed (or, for R "epiphytic-tropical", as read: the print sums to 0.91).
TOTALS = {
    "peat-lite-a": 2, "tropical-foliage": 4, "epiphytic-tropical": 3, "uc-mix-d": 4, "uc-mix-nz-orchid": 8,
    "john-innes-seed": 4, "john-innes-1": 12, "bark-peat-perlite": 7, "alpine-sand-peat-pumice": 18,
    "alpine-calcined-clay": "13.3", "dendrobium": "3.5", "pitcher-peat-free": 100, "alpine-clematis": "3.75",
    "bark-sand": 9,
}  # fmt: skip


def test_there_are_fifty_six_each_with_a_source():
    assert len(RECIPES) == 56
    for recipe in RECIPES.values():
        assert cited(recipe.source)
        assert recipe.components


@pytest.mark.parametrize(("key", "total"), TOTALS.items())
def test_the_parts_sum_as_printed(key, total):
    assert RECIPES[key].total_parts == Fraction(total)


def test_only_the_one_with_a_part_that_cannot_be_read_is_incomplete():
    assert [recipe.key for recipe in RECIPES.values() if recipe.incomplete] == ["pitcher-peat-free"]


def test_every_suggested_material_and_mix_exists():
    keys = {material.key for material in all_materials()}
    for recipe in RECIPES.values():
        for component in recipe.components:
            assert not component.material or component.material in keys
            assert not component.mix or component.mix in RECIPES
            assert not (component.material and component.mix)


def test_words_that_leave_the_grade_open_are_asked():
    sand = {c.printed_name: c for r in RECIPES.values() for c in r.components if c.printed_name == "sand"}
    assert sand["sand"].asks

    trough = RECIPES["trough-halves"].components[0]
    assert (trough.mix, trough.asks) == ("john-innes-2", False)


def test_the_sources_that_disagree_on_chalk_stand_side_by_side():
    def rates(key):
        return [(rate, source) for c in RECIPES[key].conflicts for rate, _unit, _note, source in c.rates]

    assert rates("john-innes-2") == [(0.6, "gardenadvice2016"), (1.2, "backyard")]
    assert rates("john-innes-3") == [(0.6, "gardenadvice2016"), (1.8, "backyard")]
    assert rates("john-innes-ericaceous") == [(0.6, "gardenadvice2016"), (1.2, "ehow2017")]


def test_cautions_belong_to_their_recipe():
    assert "up to 3.5 in" in RECIPES["slipper-orchid-seedling"].cautions[0]
    assert "used fresh" in RECIPES["uc-mix-d"].cautions[0]
    assert "No heat" in RECIPES["bark-peat-perlite"].cautions[0]


def test_rates_come_to_grams_per_litre_of_finished_mix():
    lime = RECIPES["peat-lite-a"].amendments[0]
    assert (lime.name, lime.low_g_per_l, lime.high_g_per_l) == ("dolomitic limestone", 3, 3)

    trace = RECIPES["peat-lite-a"].amendments[3]
    assert trace.low_g_per_l == pytest.approx(0.074)

    superphosphate = RECIPES["peat-lite-a"].amendments[1]
    assert (superphosphate.low_g_per_l, superphosphate.high_g_per_l) == pytest.approx((0.6, 1.2))

    # 10 lb per cubic yard: 4535.9 g / 764.55 L (both exact by definition)
    assert RECIPES["plant-growing-simple"].amendments[0].low_g_per_l == pytest.approx(
        4535.9237 / 764.554857984
    )

    # 2 oz per 8 imperial gallons: 56.699 g / 36.36872 L; 4 oz on 8 gallons is the 3.1 g/L of an old rule
    assert RECIPES["uc-mix-nz-orchid"].amendments[0].low_g_per_l == pytest.approx(56.69904625 / 36.36872)

    spoon = RECIPES["three-grits"].amendments[0]
    assert (spoon.rate_low, spoon.unit, spoon.low_g_per_l) == (1, "tablespoon per US gal", None)


def test_a_recipe_is_found_by_its_name_or_asked_back():
    assert find_recipe("John Innes No. 2").key == "john-innes-2"
    assert find_recipe("cymbidium").key == "cymbidium"
    with pytest.raises(AmbiguousName):
        find_recipe("John Innes")
    with pytest.raises(UnknownName):
        find_recipe("moon dust")
