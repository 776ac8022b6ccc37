"""Containers: real volumes beside promised ones, weighed with water, filled with a mix."""

import json
import re

import pytest
from tests import cast
from tests.web import hostile
from tests.web.conftest import text_of

from friable.planning.forecast import forecast
from friable.planning.reading import pot_reading
from friable.records import plain
from friable.records.models import Container, Measurement

NEW = {"name": "Air-Pot 2", "measures": "round 17/12/13 cm", "headspace": "1.5 cm", "note": ""}


def refusal(answer) -> str:
    assert answer.status_code == 422
    return text_of(answer)


def test_a_container_is_added_and_said_back_in_litres(helper):
    answer = helper.post("/containers/add", NEW)

    row = Container.objects.get()
    assert answer["Location"] == f"/containers/{row.pk}/"
    # A frustum 17/12/13 cm holds 2.17 L to the brim, 1.84 L to 1.5 cm below it; worked by hand.
    page = text_of(helper.get(answer["Location"]))
    assert "Air-Pot 2 is kept as round 17/12/13 cm: 2.17 L to the brim." in page
    assert "1.84 L" in page


def test_inches_are_said_back_in_centimetres(helper):
    answer = helper.post("/containers/add", {**NEW, "measures": "square 4/3/3.5 in", "headspace": "0.5 in"})

    # 4, 3 and 3.5 inches are 10.16, 7.62 and 8.89 cm.
    assert "square 10.16/7.62/8.89 cm" in text_of(helper.get(answer["Location"]))


def test_the_list_shows_brim_and_fill_volume(helper):
    cast.two_litre_pot()

    page = text_of(helper.get("/containers/"))

    assert "2.17 L" in page
    assert "1.84 L" in page
    assert "computed from its measures" in page


def test_a_name_shows_what_lists_promise_and_asks_to_be_weighed(helper):
    page = text_of(helper.get("/containers/", {"trade": "#1"}))

    assert "US trade gallon" in page
    assert "lists give from 2.37 to 3 L" in page
    assert "Weigh one of ours empty and filled with water" in page


def test_a_name_of_no_list_asks_to_be_measured(helper):
    assert "No list has this name alone." in text_of(helper.get("/containers/", {"trade": "the blue one"}))


def test_a_name_in_place_of_measures_is_refused_with_what_is_known_of_it(helper):
    page = refusal(helper.post("/containers/add", {**NEW, "measures": "#1"}))

    assert "Weigh one of ours empty and filled with water" in page
    assert 'value="#1"' in page
    assert not Container.objects.exists()


def test_the_name_of_a_pot_stands_beside_its_real_volume(helper):
    pot = cast.two_litre_pot()

    page = text_of(helper.get(f"/containers/{pot.pk}/"))

    assert "<strong>2 L</strong>" in page
    assert "printed as round 17/12/13 cm" in page


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"name": ""}, "The container has no name"),
        ({"measures": ""}, "The measures are missing"),
        ({"measures": "round 17/12 cm"}, "does not give three inside sizes"),
        ({"measures": "round 17/12/13"}, "has no unit"),
        ({"measures": "round NaN/12/13 cm"}, "NaN"),
        ({"measures": "round 17/12/99999 cm"}, "is too large"),
        ({"headspace": "14 cm"}, "headspace is 14 cm; it must be at least 0 and less than"),
        ({"headspace": hostile.PASTED}, "holds a tab or a line break"),
        ({"name": hostile.RIGHT_TO_LEFT}, "has a character that cannot be seen"),
    ],
)
def test_a_container_that_cannot_be_is_refused_and_stays(helper, said, sentence):
    page = refusal(helper.post("/containers/add", {**NEW, **said}))

    assert sentence in page
    for text in said.values():
        assert text in page
    assert not Container.objects.exists()


def test_a_name_is_used_once(helper):
    cast.two_litre_pot()

    page = refusal(helper.post("/containers/add", {**NEW, "name": "2 l POT"}))
    assert "Another container has this name; choose another." in page


def test_a_container_is_changed(helper):
    pot = cast.two_litre_pot()
    assert 'value="round 17/12/13 cm"' in text_of(helper.get(f"/containers/{pot.pk}/change"))

    helper.post(f"/containers/{pot.pk}/change", {**NEW, "name": "2 L pot", "headspace": "2 cm"})

    pot.refresh_from_db()
    assert pot.headspace_cm == 2.0


def test_water_tells_the_real_volume(helper):
    pot = cast.two_litre_pot()

    answer = helper.post(f"/containers/{pot.pk}/weigh", {"full": "2.385 kg", "empty": "85 g", "note": ""})

    page = text_of(helper.get(answer["Location"]))
    assert "2 L pot holds 2.3 L to the brim." in page
    assert "weighed with water here" in page
    assert "By its measures alone" in page
    pot.refresh_from_db()
    assert pot.measured_volume_l == pytest.approx(2.3)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"full": "80 g"}, "leave no water"),
        ({"full": "20 kg"}, "within half and double of what its measures give"),
        ({"full": ""}, "The mass with water is missing"),
        ({"empty": "1e308 kg"}, "is too large"),
    ],
)
def test_a_weighing_that_cannot_be_is_refused_and_stays(helper, said, sentence):
    pot = cast.two_litre_pot()

    page = refusal(helper.post(f"/containers/{pot.pk}/weigh", {"full": "2.3 kg", "empty": "85 g", **said}))

    assert sentence in page
    assert not Measurement.objects.exists()
    pot.refresh_from_db()
    assert pot.measured_volume_l is None


def test_a_mix_in_it_shows_air_and_water_and_air_against_its_height(helper):
    pot, version = cast.two_litre_pot(), cast.potting_on()
    expected = forecast(plain.resolve_parts(version), plain.container(pot))

    page = text_of(helper.get(f"/containers/{pot.pk}/"))

    assert pot_reading(expected) in page
    assert "<svg" in page
    spec = re.search(r'<script id="spec-air" type="application/json">(.*?)</script>', page, re.S)[1]
    air = [row["value"] for row in json.loads(spec)["data"]["values"]]
    assert air == sorted(air)  # the higher the pot, the more air


def test_without_a_mix_it_says_what_to_do(helper):
    pot = cast.two_litre_pot()

    page = text_of(helper.get(f"/containers/{pot.pk}/"))

    assert "No mix is written down yet" in page
    assert "vega" not in page


def test_a_headspace_that_leaves_nothing_is_refused(helper):
    pot = cast.two_litre_pot()
    cast.potting_on()

    assert "headspace is 20 cm" in text_of(helper.get(f"/containers/{pot.pk}/", {"headspace": "20 cm"}))


@pytest.mark.parametrize("page", ["", "change", "weigh"])
def test_a_container_that_is_not_there_is_not_found(helper, page):
    assert helper.get(f"/containers/99/{page}").status_code == 404


@pytest.mark.parametrize("name", hostile.NAMES)
def test_names_are_shown_as_they_are_and_do_nothing(helper, name):
    helper.post("/containers/add", {**NEW, "name": name, "note": name})
    row = Container.objects.get()
    cast.potting_on()

    for address in ("/containers/", f"/containers/{row.pk}/", f"/containers/{row.pk}/weigh"):
        page = text_of(helper.get(address))
        assert "<script>alert" not in page
        assert "<b>moss</b>" not in page
    assert row.name == name


def test_a_stranger_signs_and_another_site_cannot_write(stranger, strict):
    assert "Initials are missing" in refusal(stranger.post("/containers/add", NEW))
    pot = cast.two_litre_pot()
    for address in ("add", f"{pot.pk}/change", f"{pot.pk}/weigh"):
        assert strict.post(f"/containers/{address}", {}).status_code == 403
