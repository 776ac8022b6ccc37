"""The pot test: read, carried to another depth, kept."""

import re

import pytest
from django.utils.html import escape
from tests import cast
from tests.web import hostile
from tests.web.conftest import text_of

from friable.planning.notation import parse_container
from friable.planning.pot_test import read_pot_test
from friable.records.models import Container, Measurement

# A round pot 15/11/12.5 cm, 1 cm headspace, holds 1.499 L to its line (frustum, worked by hand);
# 1110 mL in: 74 % pores; 270 mL drained: 18 % air; the rest: 56 % water.
TEST = {
    "container": "round 15/11/12.5 cm",
    "headspace": "1 cm",
    "water_in": "1110 mL",
    "drained": "270 mL",
    "also_in": "",
    "of": "",
    "note": "",
}


def figures(page) -> list[str]:
    return re.findall(r'class="figure-value">(\d+)&nbsp;', page)


def test_water_in_and_water_out_give_air_water_and_pores(helper):
    page = text_of(helper.post("/mixes/pot-test", {**TEST, "look": "1"}))

    assert figures(page) == ["18", "56", "74"]
    assert "Valid for a column of 11.5 cm only" in page
    assert not Measurement.objects.exists()


def test_in_a_shallow_tray_the_air_is_lower_and_has_a_band(helper):
    page = text_of(helper.post("/mixes/pot-test", {**TEST, "also_in": "tray 50x30x4 cm", "look": "1"}))

    pot = parse_container("round 15/11/12.5 cm").with_headspace(1)
    there = read_pot_test(pot, 1.110, 0.270, parse_container("tray 50x30x4 cm")).also_in.air_space
    assert there.low < there.value < there.high
    assert there.high < 0.18
    assert figures(page)[3] == str(round(100 * there.value))
    assert f"{round(100 * there.low)} to {round(100 * there.high)} %" in page


def test_a_test_is_kept_for_a_mix_in_a_pot_that_is_stored_with_it(helper):
    version = cast.potting_on()

    answer = helper.post("/mixes/pot-test", {**TEST, "of": "potting-on bark", "keep": "1"})

    kept = Measurement.objects.get()
    assert answer.status_code == 302
    assert (kept.mix_version, kept.headspace_cm, kept.water_in_l, kept.drained_l) == (
        version,
        1.0,
        1.11,
        0.27,
    )
    assert Container.objects.get().name == "round 15/11/12.5 cm"
    assert "potting-on bark, version 1, round 15/11/12.5 cm" in text_of(helper.get("/mixes/pot-test"))


def test_a_test_is_kept_for_a_material_of_the_table(helper):
    helper.post("/mixes/pot-test", {**TEST, "of": "coir pith", "keep": "1"})

    assert Measurement.objects.get().material.name.startswith("coir pith")


def test_keeping_needs_initials_reading_does_not(stranger):
    assert stranger.post("/mixes/pot-test", {**TEST, "look": "1"}).status_code == 200
    assert stranger.post("/mixes/pot-test", {**TEST, "keep": "1"}).status_code == 422
    assert not Measurement.objects.exists()


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"water_in": "2 L"}, "went into a pot that holds 1.499 L to its fill line"),
        ({"drained": "1200 mL"}, "more cannot come out than went in"),
        ({"water_in": "1110"}, "has no unit"),
        ({"water_in": "NaN L"}, "is not a finite number"),
        ({"water_in": "1e308 L"}, "is too large"),
        ({"water_in": ""}, "The water poured in is missing"),
        ({"drained": hostile.PASTED}, "holds a tab or a line break"),
        ({"headspace": "30 cm"}, "headspace is 30 cm"),
        ({"container": hostile.MARKUP}, "No container is called"),
        ({"of": "moon dust"}, "No material is called “moon dust”."),
    ],
)
def test_what_cannot_be_is_refused_and_stays(helper, said, sentence):
    answer = helper.post("/mixes/pot-test", {**TEST, **said, "look": "1"})

    page = text_of(answer)
    assert answer.status_code == 422
    assert sentence in page
    assert "<script>alert" not in page
    assert escape(next(iter(said.values()))) in page


def test_a_form_of_another_site_is_refused(strict):
    assert strict.post("/mixes/pot-test", TEST).status_code == 403
