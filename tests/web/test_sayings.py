"""Sayings in a browser without scripts: the list, an answer, one's own materials, refusals."""

import html

import pytest
from tests import cast
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, RIGHT_TO_LEFT

from friable.reference.sayings import all_sayings

pytestmark = pytest.mark.django_db


def test_the_list_gives_each_saying_with_its_word(stranger):
    page = html.unescape(text_of(stranger.get("/sayings/")))

    for saying in all_sayings():
        assert saying.claim in page
        assert f'href="/sayings/{saying.key}/"' in page
    for word in ("holds", "fails", "depends", "not computed"):
        assert f'<p class="verdict">{word}</p>' in page


@pytest.mark.parametrize("saying", all_sayings(), ids=lambda saying: saying.key)
def test_every_saying_has_a_page_with_what_is_published(stranger, saying):
    answer = stranger.get(f"/sayings/{saying.key}/")
    page = html.unescape(text_of(answer))

    assert answer.status_code == 200
    assert saying.claim in page
    assert "What is published" in page
    assert ("As asked here, it" in page) == saying.is_computed
    assert ("It is not computed." in page) != saying.is_computed


def test_a_learner_asks_it_of_the_sand_that_is_here(stranger):
    # Altland and others 2018: coarse sand closes bark as well, less than fine sand.
    asked = {
        "medium1": "pine bark nursery",
        "medium2": "horticultural sand coarse",
        "container": "P9",
        "share": "10 %",
    }
    page = html.unescape(text_of(stranger.get("/sayings/sand-opens-bark/", asked)))

    assert "10 % of horticultural sand coarse 0.5-2 mm in pine bark nursery" in page
    assert 'value="horticultural sand coarse"' in page
    assert 'href="/materials/sources#altland2018"' in page


def test_it_is_asked_of_a_mix_and_a_pot_of_ours(helper):
    cast.potting_on("bark mix")
    cast.two_litre_pot()
    asked = {"medium1": "bark mix", "container": "2 L pot", "medium2": "gravel", "layer": "2 cm"}
    page = html.unescape(text_of(helper.get("/sayings/gravel-drains/", asked)))

    assert "Without the layer bark mix, version 1 has" in page
    assert page.count("<svg") == 2
    assert "With the layer" in page


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"medium2": "moon dust"}, "No material is called “moon dust”"),
        ({"medium2": ""}, "This is missing; name a material"),
        ({"medium1": "5 moon dust"}, "No material is called “moon dust”"),
        ({"medium1": MARKUP}, "No material is called"),
        ({"medium1": RIGHT_TO_LEFT}, "hidden character"),
        ({"medium1": "x" * 2001}, "it may have 2000"),
        ({"container": ""}, "The pot is missing"),
        ({"container": "moon pot"}, "No container is called “moon pot”"),
        ({"share": ""}, "This is missing; give a number with its unit, such as 20 %."),
        ({"share": "many"}, "does not begin with a number"),
        ({"share": "95 %"}, "above 0 and at most 90 %"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence_and_stays(stranger, asked, sentence):
    answer = stranger.get("/sayings/sand-opens-bark/", asked)
    page = html.unescape(text_of(answer))

    assert answer.status_code == 422
    assert sentence in page
    assert "What is published" in page


def test_a_layer_deeper_than_the_pot_is_refused(stranger):
    answer = stranger.get("/sayings/gravel-drains/", {"layer": "40 cm"})

    assert answer.status_code == 422
    assert "less than the filled height" in text_of(answer)


def test_a_saying_nobody_says_is_not_found(stranger):
    assert stranger.get("/sayings/moonlight/").status_code == 404


def test_answers_take_their_time_from_nobody(stranger):
    import time

    stranger.get("/sayings/")
    for saying in all_sayings():
        stranger.get(f"/sayings/{saying.key}/")
        start = time.process_time()
        stranger.get(f"/sayings/{saying.key}/")
        assert time.process_time() - start < 0.3, saying.key
