"""Published recipes as one types them: what they say must come back unchanged."""

import pytest

from friable.errors import Refused
from friable.planning import units_in
from friable.planning.notation import parse_recipe
from friable.planning.published_start import published_start
from friable.reference.recipes import find_recipe, published_recipes

COMPLETE = [recipe for recipe in published_recipes() if not recipe.incomplete]


@pytest.mark.parametrize("recipe", COMPLETE, ids=lambda recipe: recipe.key)
def test_what_is_typed_reads_back_as_the_recipe(recipe):
    start = published_start(recipe)

    if start.text:
        assert [c.parts for c in parse_recipe(start.text).components] == [c.parts for c in recipe.components]
    for amendment, rate in zip(start.recipe.amendments, start.rates, strict=True):
        assert units_in.rate_g_per_l(rate).value == pytest.approx(amendment.rate_g_per_l, rel=0.01)


def test_an_open_grade_and_another_mix_are_asked_back():
    assert published_start(find_recipe("bark-sand")).asked == ("sand",)
    assert published_start(find_recipe("trough-halves")).asked == ("John Innes No. 2",)


def test_an_incomplete_recipe_is_refused():
    with pytest.raises(Refused, match="it can be looked at, not used"):
        published_start(find_recipe("pitcher-peat-free"))
