"""What was found, in a browser without scripts: a sentence, its proof, tables, and the road to a batch."""

import html
import re
from dataclasses import replace
from urllib.parse import parse_qs, urlsplit

import pytest
from tests.web import found_mixes
from tests.web.asked_search import POT, ask, case_of, page_of, text_of, work_out

from friable.records.models import Batch, Mix

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("nothing_begun")]


@pytest.fixture
def done(helper):
    """The key of a search that is done."""
    key = ask(helper)
    work_out(key)
    return key


def recipes_in(page):
    table = re.search(r'<table class="recipes">.*?</table>', page, re.S)[0]
    return [" ".join(one.split()) for one in re.findall(r'<th scope="row">\s*(.*?)\s*<', table, re.S)]


def test_the_answer_begins_with_one_sentence_and_its_proof(helper, done):
    page = page_of(helper.get(f"/find/{done}/"))

    best = found_mixes.RECIPES[0]
    assert len(best) == 3
    assert (
        "Best of 1,234 recipes: 5 pine bark nursery 0-12 mm + 1 sphagnum peat medium 0-10 mm "
        "+ 1 perlite coarse 2-6 mm; stays within the windows in 90 of 100 draws." in page
    )
    assert page.index("stays within the windows") < page.index("Account of recipe 1.") < page.index("<table")
    assert found_mixes.answer_of(case_of(done)).proof in page
    assert "The figures of coir pith are wide." in page
    assert "1,234 recipes: 34 ruled out by a limit, 60 within every window" in page
    assert "What is given up for what" in page
    assert "Lime and plant food are only known as flags" in page


def test_the_table_is_sorted_by_links(helper, done):
    as_found = recipes_in(text_of(helper.get(f"/find/{done}/")))
    page = text_of(helper.get(f"/find/{done}/?sort=cost"))
    by_cost = recipes_in(page)

    assert [as_found.index(one) for one in by_cost] == [3, 0, 4, 1, 2]  # without a price: last
    assert 'aria-sort="ascending"' in page
    turned = re.search(r'aria-sort="ascending"><a href="([^"]+)"', page)[1]
    back = recipes_in(text_of(helper.get(f"/find/{done}/{html.unescape(turned)}")))
    assert [as_found.index(one) for one in back] == [1, 4, 0, 3, 2]
    assert recipes_in(text_of(helper.get(f"/find/{done}/?sort=moon"))) == as_found


def test_the_table_is_filtered_by_words(helper, done):
    page = text_of(helper.get(f"/find/{done}/?word=COIR+perl"))
    assert recipes_in(page) == ["4 coir pith 0-5 mm + 1 perlite coarse 2-6 mm"]
    assert 'value="COIR perl"' in page

    assert "None of them has that word" in page_of(helper.get(f"/find/{done}/?word=moon"))


def test_up_to_four_stand_side_by_side(helper, done):
    page = page_of(helper.get(f"/find/{done}/?tick=1&tick=3&sort=air"))

    beside = page[page.index('id="side-by-side"') :]
    beside = beside[: beside.index("</section>")]
    assert "Account of recipe 1." in beside
    assert "Account of recipe 3." in beside
    assert "Account of recipe 2." not in beside
    assert "Hygiene" in beside
    drawn = html.unescape(re.search(r'href="(/mixes/compare\?[^"]+)"', beside)[1])
    assert helper.get(drawn).status_code == 200
    assert "tick=1&tick=3" in page  # the ticks stay when the table is sorted

    five = page_of(helper.get(f"/find/{done}/?tick=1&tick=2&tick=3&tick=4&tick=5&tick=99&tick=x"))
    assert "More than four are ticked; the first four stand here." in five
    assert five.count('checked><span class="unseen">') == 5


def test_write_this_mix_fills_the_recipe_in(helper, done):
    page = text_of(helper.get(f"/find/{done}/"))
    address = html.unescape(re.search(r'href="(/mixes/write\?[^"]+)"', page)[1])

    said = parse_qs(urlsplit(address).query)
    assert said["container"] == [POT]
    written = page_of(helper.get(address))
    assert said["recipe"][0] in written
    assert "In this 13 cm deep pot" in written


def test_where_nothing_lies_within_the_limit_that_would_open_it_is_named(helper):
    key = ask(helper, most_peat_share="0 %")
    work_out(key)

    page = page_of(helper.get(f"/find/{key}/"))

    assert "None of 1,234 recipes lies within every window; the nearest is 5 pine bark" in page
    assert "If air were asked from 27 %, not 30 %." in page
    assert "Change the question" in page
    assert len(recipes_in(text_of(helper.get(f"/find/{key}/")))) == 2


@pytest.mark.parametrize(
    ("left", "sentence"),
    [
        (
            {"nearest": ()},
            "None of 1,234 recipes keeps to the limits; loosen one of them, or take more materials.",
        ),
        ({}, "No limit that is relaxed alone would let a recipe in; relax two, or take more materials."),
    ],
)
def test_an_impossible_wish_leaves_no_reader_without_a_way_out(helper, left, sentence):
    def nothing(case, *, progress, cancelled):
        found = found_mixes.find(case, progress=progress, cancelled=cancelled)
        return replace(found, openings=(), **left)

    key = ask(helper, most_peat_share="0 %")
    work_out(key, {"find": nothing})

    page = page_of(helper.get(f"/find/{key}/"))
    assert sentence in page
    assert "Change the question" in page


def make_address(helper, key):
    page = text_of(helper.get(f"/find/{key}/"))
    return html.unescape(re.search(rf'href="(/find/{key}/make\?[^"]+)"', page)[1])


def typed_of(page):
    """What stands in the fields of a page."""
    fields = dict(re.findall(r'<input type="text" name="(\w+)"[^>]*?value="([^"]*)"', page))
    area = re.search(r'<textarea name="recipe"[^>]*>\s*(.*?)</textarea>', page, re.S)
    return {**{name: html.unescape(text) for name, text in fields.items()}, "recipe": html.unescape(area[1])}


def test_a_found_recipe_is_kept_and_its_batch_planned(helper, done):
    address = make_address(helper, done)
    typed = typed_of(text_of(helper.get(address)))

    answer = helper.post(address, {**typed, "litres": "60 L", "overage": "0 %", "shrinkage": "10 %"})

    batch = Batch.objects.get()
    assert answer["Location"] == f"/batches/{batch.code}"
    assert batch.mix_version.mix.name == "general, grown"
    assert batch.mix_version.mix.plant_group == "general, grown"
    assert batch.planned_l == pytest.approx(60)
    # Worked by hand: 60 L / 0.9 = 66.7 L poured, in sevenths 47.6, 9.5 and 9.5 L.
    assert [line.planned_l for line in batch.lines.all()] == pytest.approx([47.6, 9.5, 9.5], abs=0.06)
    assert "general, grown 2" in text_of(helper.get(address))  # the next name that is free


def test_what_cannot_be_planned_keeps_nothing(helper, done):
    address = make_address(helper, done)
    typed = typed_of(text_of(helper.get(address)))
    for changes, sentence in (
        ({"litres": ""}, "Say how much is made, such as 60 L."),
        ({"litres": "NaN"}, "is not a finite number"),
        ({"litres": "900000 L"}, "must be"),
        ({"name": ""}, "The mix has no name"),
        ({"recipe": ""}, "The recipe is empty"),
        ({"recipe": "3 moon dust"}, "No material is called “moon dust”."),
        ({"shrinkage": "100 %"}, "is out of range"),
    ):
        answer = helper.post(address, {**typed, "litres": "60 L", **changes})
        assert answer.status_code == 422, changes
        assert sentence in page_of(answer), changes
        assert not Mix.objects.exists(), changes
        assert not Batch.objects.exists(), changes


def test_a_stranger_is_asked_for_initials_before_anything_is_kept(stranger, helper, done):
    address = make_address(helper, done)
    typed = typed_of(text_of(helper.get(address)))

    answer = stranger.post(address, {**typed, "litres": "60 L"})

    assert answer.status_code == 422
    assert "Initials are missing" in page_of(answer)
    assert not Mix.objects.exists()
    assert stranger.post(address, {**typed, "litres": "60 L", "signed_by": "tb"}).status_code == 302
