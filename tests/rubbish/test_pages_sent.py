"""Rubbish in the forms: the status says so, one sentence stands beside the field, nothing typed is lost."""

import html
import re

import pytest
from django.urls import reverse
from tests import cast
from tests.web.conftest import text_of

LOOK = " Look at the list of what is known, or write it in another way."

FULL = 900_000
FORMS = {
    "mix-write": (
        {"lines": "4", "amendments": "2"},
        "name recipe plant_group container headspace layer layer_material cautions shrinkage top_dressing "
        "version_note line-0-parts line-0-material amendment-0-name amendment-0-rate amendment-0-caution",
    ),
    "job-new": ({}, "title due_on note"),
    "job-pots": (
        {"lines": "1", "line-0-root": "none"},
        "title due_on note litres line-0-count line-0-into line-0-headspace line-0-potted_from "
        "line-0-potted_from_headspace line-0-drainage_layer line-0-layer_material",
    ),
    "job-amounts": ({}, "overage shrinkage settling"),
    "job-drop": ({}, "reason"),
    "pot-test": ({"keep": "1"}, "container headspace water_in drained also_in note"),
    "material-add": ({}, "name rests_on aliases note"),
    "container-add": ({}, "name measures headspace note"),
    "batch-record": ({"treated": "no"}, "made_l made_at made_by note"),
    "batch-undo": ({}, "reason"),
    "initials": ({}, "initials"),
    "climate-add": ({"place": "glass"}, "text name light latitude elevation heated note"),
    "season-new": ({}, "collection title weathers draws note"),
    "find": (
        {"group": "general-grown", "which": "all", "parts": "4", "kinds": "2"},
        "container headspace layer layer_material litres most_cost_per_l most_peat_share most_wet_kg_l "
        "least_years bucket drum must never_with parts kinds low-air_space high-years",
    ),
    "replace": (
        {
            "mix": "1 coir pith",
            "without": "coir pith",
            "pot1": "tray 30x20x5 cm",
            "which": "all",
            "parts": "4",
            "kinds": "2",
        },
        "mix without pot1 pot2 litres most_cost_per_l must never_with parts",
    ),
    "can-make": ({"stand_ins": "1"}, "litres container"),
    "material-store": ({}, "stock-BKP_M price-BKP_M counted_on"),
    "material-stock": ({}, "amount counted_on note"),
    "material-price": ({}, "price holds_from note"),
    "window-set": ({}, "low high set_on note"),
}


@pytest.fixture
def batch(helper):
    """A planned batch, so that every form has something to be about."""
    return cast.planned_batch()


NAMED = {
    "material-stock": ["BKP_M"],
    "material-price": ["BKP_M"],
    "window-set": ["fern-grown", "air_space"],
}


def address(name, batch):
    if name in NAMED:
        return reverse(name, args=NAMED[name])
    if name.startswith("job-") and name != "job-new":
        return reverse(name, args=[batch.job.pk])
    return reverse(name, args=[batch.code]) if name.startswith("batch-") else reverse(name)


def refusals(page):
    said = re.findall(r'<p class="refusal"[^>]*>(.*?)</p>', page, re.S)
    return [" ".join(html.unescape(re.sub("<[^>]+>", "", one)).split()) for one in said]


@pytest.mark.parametrize("name", FORMS)
def test_nothing_typed_under_a_megabyte_is_lost(helper, batch, name):
    others, fields = FORMS[name]
    flood = "x" * FULL
    for field in fields.split():
        answer = helper.post(address(name, batch), {**others, field: flood})

        page = text_of(answer)
        assert answer.status_code == 422, field
        assert flood in page, field
        said = refusals(page)
        assert said, field
        assert all(len(one) < 300 for one in said), field


@pytest.mark.parametrize("name", FORMS)
def test_ten_megabytes_are_refused_in_one_sentence(helper, batch, name):
    field = FORMS[name][1].split()[0]

    answer = helper.post(address(name, batch), {field: "x" * 10_000_000})

    page = text_of(answer)
    assert answer.status_code == 413
    most = 5 if name == "climate-add" else 1
    assert page.count(f"What was sent is 10.0 MB; it must be at most {most} MB. Nothing was saved.") == 1
    assert "Traceback" not in page


CELL = '5\tpine bark\n"1"\t=1+2'
TYPED = [
    ("pot-test", "water_in", "NaN", "“NaN” is not a finite number. Write it as 12 L."),
    ("pot-test", "water_in", "inf", "“inf” is not a finite number. Write it as 12 L."),
    ("pot-test", "water_in", "-1 L", "“-1 L” is below 0. It must be above 0."),
    ("pot-test", "water_in", "1e308 L", "“1e308 L” is too large. It must be at most 1,000,000 L."),
    ("pot-test", "water_in", "🌱", "“🌱” does not begin with a number. Write it as 12 L."),
    ("pot-test", "water_in", "5\u200e L", "holds a hidden character (left-to-right mark)."),
    ("pot-test", "water_in", CELL, "holds a tab or a line break, as a pasted table does."),
    ("pot-test", "water_in", "=1+2", "“=1+2” does not begin with a number. Write it as 12 L."),
    (
        "pot-test",
        "container",
        "round 0/0/0 cm",
        "top diameter is 0 cm; it must be from 0.1 to 1000 cm inside.",
    ),
    (
        "pot-test",
        "container",
        "moon pot",
        "No container is called “moon pot”.",
    ),
    ("job-new", "due_on", "NaN", "This is not a day of the calendar; write it as 2026-03-14."),
    ("job-new", "due_on", "2026-02-30", "This is not a day of the calendar; write it as 2026-03-14."),
    ("job-new", "title", "", "The job has no name; say what is potted, such as “saplings, bench 4”."),
    ("job-new", "note", "a\x00b", "This has a character that cannot be kept; type it again."),
    ("job-pots", "line-0-count", "-1", "“-1” is not a whole number above 0. Give one such as 60."),
    ("job-pots", "line-0-count", "1e308", "“1e308” is too large. Give at most 1,000,000."),
    ("job-pots", "line-0-count", "NaN", "“NaN” is not a finite number. Write it as 60."),
    (
        "job-pots",
        "line-0-into",
        "🌱",
        "No container is called “🌱”." + LOOK,
    ),
    (
        "job-pots",
        "line-0-layer_material",
        "=1+2",
        "No material is called “=1+2”." + LOOK,
    ),
    ("job-pots", "litres", "inf L", "“inf L” is not a finite number. Write it as 12 L."),
    ("job-amounts", "overage", "500 %", "“500 %” is out of range. It must be from 0 to 100 %."),
    ("job-amounts", "settling", "100 %", "“100 %” is out of range. It must be from 0 to less than 100 %."),
    ("job-amounts", "shrinkage", "NaN", "“NaN” is not a finite number. Write it as 5 %."),
    (
        "material-add",
        "rests_on",
        "{{ 1 }}",
        "No material is called “{{ 1 }}”." + LOOK,
    ),
    ("material-add", "name", "", "The material has no name; write what you call it here."),
    ("container-add", "measures", "round 1e308/1/1 cm", "has sizes or a unit that cannot be read."),
    ("container-add", "measures", "tray 0x0x0 cm", "top length is 0 cm; it must be from 0.1 to 1000 cm"),
    ("batch-record", "made_l", "0 L", "“0 L” is nothing at all. It must be above 0."),
    ("batch-record", "made_l", "5 gallon", "“5 gallon” can mean more than one size."),
    ("batch-record", "made_at", "yesterday", "This is not a day and time; write it as 2026-03-14 09:30."),
    ("batch-record", "made_at", "9999-12-31 23:59", "which is still to come; give the time when"),
    (
        "batch-undo",
        "reason",
        "",
        "The reason is missing; say what was wrong, such as “fine perlite went in”.",
    ),
    (
        "mix-write",
        "recipe",
        "0 perlite coarse",
        "perlite coarse has 0 parts; give more than 0, or leave it out.",
    ),
    ("mix-write", "recipe", "NaN perlite coarse", "“NaN perlite coarse” is not a finite number."),
    ("mix-write", "recipe", CELL, "does not begin with a number."),
    ("mix-write", "line-0-parts", "NaN", "“NaN” is not a finite number."),
    ("mix-write", "amendment-0-rate", "3 kg", "“3 kg” does not say per how much mix."),
    ("mix-write", "shrinkage", "-1 %", "“-1 %” is out of range."),
]


@pytest.mark.parametrize(("name", "field", "typed", "sentence"), TYPED)
def test_each_piece_of_rubbish_gets_its_sentence(helper, batch, name, field, typed, sentence):
    answer = helper.post(address(name, batch), {**FORMS[name][0], field: typed})

    page = text_of(answer)
    assert answer.status_code == 422
    assert [one for one in refusals(page) if sentence in one], refusals(page)
    assert html.escape(typed).replace("\x00", "�") in page or "\x00" in typed
    assert "Traceback" not in page


@pytest.mark.parametrize(
    ("recipe", "sentence"),
    [
        (
            "5 moon dust",
            "No material is called “moon dust”. Nearest: coir pith 0-5 mm, softwood sawdust 0-5 mm.",
        ),
        (
            "5 {{ 1 }}",
            "No material is called “{{ 1 }}”." + LOOK,
        ),
        ("1 perlite", "“perlite” can mean more than one material; say which:"),
    ],
)
def test_an_answer_while_typing_says_why_there_is_none(helper, recipe, sentence):
    answer = helper.post(reverse("mix-answer"), {"recipe": recipe, "container": "round 17/12/13 cm"})

    assert answer.status_code == 422
    assert [one for one in refusals(text_of(answer)) if one.startswith(sentence)]
