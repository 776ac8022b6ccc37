"""Published recipes: looked at, and taken as a start."""

from tests.web.conftest import text_of

from friable.records.models import Mix
from friable.reference.recipes import published_recipes


def test_every_published_recipe_is_listed_with_its_cautions(helper):
    page = text_of(helper.get("/mixes/published"))

    assert page.count("Start from it") == sum(not recipe.incomplete for recipe in published_recipes())
    assert "incomplete: not for use" in page
    assert "3.3 × sand" in page
    assert "Sources differ on" in page
    assert "ericaceous; heath" in page
    assert "/mixes/published" in text_of(helper.get("/mixes/write"))


def test_choosing_one_fills_the_form_and_keeps_nothing(helper):
    page = text_of(helper.get("/mixes/write?published=bark-peat-perlite"))

    # 5:1:1 of bark, peat and perlite, as printed.
    assert "5 pine bark" in page
    assert "% air" in page
    assert 'name="name" value="Bark, peat and perlite 5:1:1"' in page
    assert "Published: " in page
    assert not Mix.objects.exists()


def test_where_sources_differ_is_said_and_becomes_a_caution(helper):
    page = text_of(helper.get("/mixes/write?published=john-innes-2"))

    assert page.count("Sources differ on") >= 2


def test_a_component_without_a_grade_is_asked_back(helper):
    page = text_of(helper.get("/mixes/write?published=bark-sand"))

    assert "Say which material of yours or of the table is meant by: sand." in page
    assert 'class="refusal"' in page


def test_every_complete_one_can_be_opened(helper):
    for recipe in published_recipes():
        answer = helper.get("/mixes/write", {"published": recipe.key})
        assert answer.status_code in ((302,) if recipe.incomplete else (200, 422)), recipe.key


def test_an_incomplete_one_is_not_used(helper):
    answer = helper.get("/mixes/write?published=pitcher-peat-free", follow=True)

    assert "is incomplete as published; it can be looked at, not used." in text_of(answer)


def test_one_that_is_not_there_is_not_found(helper):
    assert helper.get("/mixes/write?published=moon").status_code == 404
