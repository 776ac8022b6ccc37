"""docs/science/windows.md says what the published recipes give when they are worked out again."""

import sys
from pathlib import Path

import pytest

from friable.planning.container_text import parse_container
from friable.reference.materials import all_materials
from friable.reference.plant_groups import plant_groups
from friable.reference.recipe_containers import MIX, RecipeUse, recipe_uses
from friable.reference.recipes import published_recipes
from friable.reference.windows import FLAGS, Window

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "docs" / "science"))

import make_windows
import recipe_figures

PRINTED_TO = 0.00006  # the table is kept to four decimals
RECIPES = {recipe.key: recipe for recipe in published_recipes()}
USES = {use.recipe: use for use in recipe_uses()}
WORDS = (*FLAGS, "draws_nitrogen")


@pytest.fixture(scope="module")
def kept():
    return make_windows.read_table()


def test_every_figure_comes_out_again(kept):
    again = list(recipe_figures.rows())

    assert [(row.recipe, row.container, row.reading, row.quantity) for row in kept] == [
        (row.recipe, row.container, row.reading, row.quantity) for row in again
    ]
    for old, new in zip(kept, again, strict=True):
        for end in ("value", "low", "high"):
            was, now = getattr(old, end), getattr(new, end)
            if old.quantity in WORDS or not was:
                assert was == now, old
            else:
                assert float(was) == pytest.approx(float(now), abs=PRINTED_TO), old


def test_the_page_is_made_from_the_table(kept):
    written = make_windows.PAGE.read_text(encoding="utf-8")
    assert make_windows.with_figures(written, kept) == written


def test_every_recipe_has_a_pot_and_a_group_that_exist():
    groups = {group.key for group in plant_groups()}
    assert list(USES) == list(RECIPES)
    for use in USES.values():
        assert parse_container(use.container).medium_volume_l > 0
        assert use.groups
        assert set(use.groups) <= groups


def fully_read(recipe):
    return not recipe.incomplete and all(
        component.material or (component.mix and fully_read(RECIPES[component.mix]))
        for component in recipe.components
    )


def test_no_recipe_that_is_read_in_full_is_missing(kept):
    full = {key for key, recipe in RECIPES.items() if fully_read(recipe)}
    assert len(full) > 25
    assert full <= {row.recipe for row in kept}
    assert not any(USES[key].left_out for key in full)
    assert RECIPES["trough-halves"].components[0].mix  # a mix in a mix
    assert "trough-halves" in full


def test_what_is_left_out_has_open_words_and_says_why(kept):
    computed = {row.recipe for row in kept}
    for key, use in USES.items():
        assert (key in computed) != bool(use.left_out)
        if use.left_out:
            assert RECIPES[key].incomplete or not fully_read(RECIPES[key])
            assert use.left_out in make_windows.PAGE.read_text(encoding="utf-8")


def test_open_words_are_read_as_things_that_exist_and_every_reading_is_computed(kept):
    materials = {material.key for material in all_materials()}
    for use in USES.values():
        asked = {component.printed_name for component in RECIPES[use.recipe].components if component.asks}
        if not use.left_out:
            assert {name for name, _keys in use.readings} == asked, use.recipe
        for _name, keys in use.readings:
            for key in keys:
                assert key in materials or key.removeprefix(MIX) in RECIPES
    sands = {row.reading for row in kept if row.recipe == "bark-sand"}
    assert len(sands) == 3
    assert len({row.reading for row in kept if row.recipe == "cycad"}) == 9


def test_pots_are_those_of_the_source_where_it_speaks_of_them():
    # nv-os.org: seedling bark never in a pot above 3.5 in, medium bark from 3.5 in on (9 cm).
    seedling, medium = USES["slipper-orchid-seedling"], USES["slipper-orchid-medium"]
    assert seedling.container.startswith("round 9/")
    assert float(medium.container.split()[1].split("/")[0]) >= 9
    assert (seedling.source, medium.source) == ("nvos2015", "nvos2015")
    assert {key for key, use in USES.items() if not use.is_assumed} == {seedling.recipe, medium.recipe}
    for use in USES.values():
        if use.is_assumed:
            assert use.how_known == "common practice"


def test_a_range_that_reaches_across_is_not_sure():
    use = USES["peat-lite-a"]
    air = Window(quantity="air_space", low=0.2, how_known="memory", source="memory")
    lime = Window(quantity="lime", allowed=("no",), how_known="memory", source="memory")

    def row(*told, quantity="air_space"):
        return recipe_figures.Row(use.recipe, use.container, "", quantity, *told)

    assert make_windows.fall(use, [row("0.25", "0.1", "0.4")], air).within
    across = make_windows.fall(use, [row("0.19", "0.1", "0.21")], air)
    assert (across.sides, across.surely_outside) == (("below",), False)
    assert make_windows.fall(use, [row("0.15", "0.1", "0.19")], air).surely_outside
    either = make_windows.fall(use, [row("0.15", "0.1", "0.19"), row("0.25", "0.22", "0.3")], air)
    assert (either.within, either.surely_outside) == (True, False)
    assert make_windows.fall(use, [row("sometimes", quantity="lime")], lime).sides == ("outside",)


def falls(kept, group, quantity):
    figures = make_windows.Figures(kept)
    found = next(one for one in plant_groups() if one.key == group)
    return {fall.use.recipe: fall for fall in figures.falls(found, found.window(quantity))}


def test_what_the_page_says_of_the_disagreements_holds(kept):
    cuttings = falls(kept, "general-cuttings", "air_space")
    assert [key for key, fall in cuttings.items() if fall.within] == ["cutting-dry"]
    assert cuttings["cutting-peat-sand"].surely_outside

    ornamentals = [
        falls(kept, "ornamentals-grown", quantity)
        for quantity in ("total_porosity", "easily_available_water", "dry_bulk_density_g_cm3")
    ]
    for key in ornamentals[0]:
        assert not all(found[key].within for found in ornamentals), key

    for group, key in (("bog-grown", "sundew-pitcher"), ("heath-grown", "john-innes-ericaceous")):
        assert not falls(kept, group, "lime")[key].within

    assert all(fall.within for fall in falls(kept, "epiphyte-grown", "air_space").values())
    named = make_windows.PAGE.read_text(encoding="utf-8").partition("## Group by group")[0]
    for group, _window, _falls in make_windows.disagreements(make_windows.Figures(kept)):
        assert group.title in named


def test_a_reading_that_is_torn_is_refused():
    from friable.reference import recipe_containers
    from friable.reference.row import Row

    cells = {
        "recipe": "r", "groups": "", "container": "", "container_printed": "", "readings": "sand",
        "left_out": "", "note": "", "how_known": "memory", "source": "memory",
    }  # fmt: skip
    with pytest.raises(LookupError, match="the reading “sand” is not written as NAME=KEY"):
        recipe_containers._use(Row("recipe_containers", 2, cells))
    good = recipe_containers._use(Row("recipe_containers", 2, cells | {"readings": "sand=A|B; grit = C"}))
    assert isinstance(good, RecipeUse)
    assert good.readings == (("sand", ("A", "B")), ("grit", ("C",)))
