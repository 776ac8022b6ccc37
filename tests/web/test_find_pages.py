"""Find in a browser without scripts: asked, begun in a process of its own, stopped, refused."""

import html
import re
from dataclasses import replace

import pytest
from django.urls import reverse
from tests import cast
from tests.web.asked_search import ASKED, POT, ask, case_of, folder_of, folders, page_of, work_out
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, TEMPLATE

from friable.records import actions
from friable.records.queries.windows import groups
from friable.runs import searches
from friable.web.finding import views
from friable.web.finding import work as worked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("nothing_begun")]


@pytest.fixture
def done(helper):
    """The key of a search that is done."""
    key = ask(helper)
    work_out(key)
    return key


def test_a_search_is_asked_and_begun_in_a_process_of_its_own(helper):
    key = ask(helper, litres="60 L", most_peat_share="20 %", lime="2", must="coir pith, perlite coarse")

    case = case_of(key)
    group = next(one for one in groups() if one.key == "general-grown")
    assert case.windows == group.windows
    assert (case.container.describe(), case.parts, case.kinds) == (POT, 4, 3)
    assert len(case.at_hand) == 60
    assert (case.limits.litres, case.limits.most_peat_share, case.limits.lime) == (
        60.0,
        0.2,
        ("no", "sometimes"),
    )
    assert case.limits.must == ("COIR_P", "PERL_C")
    page = page_of(helper.get(f"/find/{key}/"))
    assert "Looking for general, grown" in page
    assert "It is just beginning." in page
    assert "Stop it" in page


def test_without_a_pot_the_pot_of_the_plants_is_taken(helper):
    group = next(one for one in groups() if one.key == "fern-seed")

    case = case_of(ask(helper, group="fern-seed", container="", headspace="1 cm"))

    assert case.container.describe() == group.container
    assert case.container.headspace_cm == 1


def test_own_windows_go_before_those_of_the_plants(helper):
    case = case_of(ask(helper, **{"low-air_space": "25 %", "high-air_space": "40 %", "high-years": "3"}))

    of = {window.quantity: window for window in case.windows}
    assert (of["air_space"].low, of["air_space"].high, of["air_space"].source) == (0.25, 0.4, "keeper")
    assert of["years"].high == 3
    assert of["container_capacity"].source != "keeper"


def test_own_windows_alone_are_enough(helper):
    case = case_of(ask(helper, group="", **{"low-air_space": "25 %"}))

    assert [window.quantity for window in case.windows] == ["air_space"]


def test_what_is_in_stock_is_taken_first(helper):
    row = actions.use_material("pumice 2-4 mm", by=cast.KEEPER)
    assert re.search(r'value="all"[^>]*checked', text_of(helper.get("/find/")))
    actions.set_stock(row, amount_l=120, by=cast.KEEPER)

    page = text_of(helper.get("/find/"))

    assert re.search(r'value="stock"[^>]*checked', page)
    assert "pumice 2-4 mm: 120 L here" in page
    case = case_of(ask(helper, which="stock", within_stock="on", litres="60 L"))
    assert [(one.material.key, one.stock_l) for one in case.at_hand] == [("PUM_S", 120)]
    assert case.limits.within_stock is True


def test_only_ticked_materials_are_taken(helper):
    case = case_of(ask(helper, which="chosen", chosen=["COIR_P", "PUM_S"]))

    assert {one.material.key for one in case.at_hand} == {"COIR_P", "PUM_S"}


REFUSED = [
    ({"group": ""}, "Choose the plants, or type a window of your own below."),
    ({"group": "moon"}, "This is not in the list any more; choose another."),
    ({"container": "moon pot"}, "No container is called “moon pot”."),
    ({"group": "", "container": "", "low-air_space": "20 %"}, "The pot is missing; choose one of yours"),
    ({"which": "stock"}, "Nothing is counted in stock; count it on the page of a material, or take all."),
    ({"which": ""}, "Say from which materials."),
    ({"which": "chosen"}, "No material is ticked; tick some, or take all."),
    ({"which": "chosen", "chosen": "moon"}, "One of the ticked materials is not in the list any more"),
    ({"parts": "0"}, "Parts at most: 0 is out of range; give from 1 to 10."),
    ({"parts": "1e308"}, "“1e308” is not a whole number"),
    ({"kinds": "9"}, "Kinds at most: 9 is out of range; give from 1 to 4."),
    ({"low-air_space": "NaN"}, "“NaN” is not a finite number."),
    ({"low-air_space": "20"}, "does not say per cent of what"),
    (
        {"low-air_space": "40 %", "high-air_space": "20 %"},
        "A window of your own cannot be read; it is marked.",
    ),
    ({"low-wet_density_kg_l": "much"}, "“much” is not a plain number"),
    ({"within_stock": "on"}, "Say for how much mix the stock must last, such as 60 L."),
    ({"bucket": "12 L"}, "Say what the drum mixes at once, such as 60 L."),
    ({"drum": "60 L"}, "Say what the bucket holds, such as 12 L."),
    ({"bucket": "60 L", "drum": "12 L"}, "no larger than the drum"),
    ({"litres": "5 gallon"}, "can mean more than one size"),
    ({"most_cost_per_l": "0"}, "must be above 0"),
    ({"most_cost_per_l": MARKUP}, "is not a plain number"),
    ({"most_peat_share": "500 %"}, "is out of range"),
    ({"lime": "moon"}, "This is not in the list any more"),
    ({"must": "moon dust"}, "No material is called “moon dust”."),
    ({"must": "perlite"}, "“perlite” can mean more than one material; say which:"),
    ({"must": TEMPLATE}, "No material is called"),
    ({"never_with": "coir pith"}, "“coir pith” is no pair"),
    ({"layer": "3 cm"}, "Say what the drainage layer is made of"),
]


@pytest.mark.parametrize(("changes", "sentence"), REFUSED)
def test_what_cannot_be_asked_is_refused_in_a_sentence_and_stays(helper, changes, sentence):
    answer = helper.post("/find/", {**ASKED, "least_years": "2.25", **changes})

    page = page_of(answer)
    assert answer.status_code == 422
    assert sentence in page
    assert 'value="2.25"' in page
    typed = [text for name, text in changes.items() if name not in {"group", "chosen", "lime", "which"}]
    assert all(html.escape(text) in text_of(answer) for text in typed)
    assert "<script>alert" not in text_of(answer)
    assert folders() == []


def test_plants_without_a_figure_say_so(helper, monkeypatch):
    bare = tuple(replace(one, windows=()) for one in groups())
    monkeypatch.setattr(views, "groups", lambda: bare)

    assert "bog, grown (no figure known)" in page_of(helper.get("/find/"))
    answer = helper.post("/find/", ASKED)

    assert answer.status_code == 422
    assert "No figure is known for these plants; set a window for them" in page_of(answer)


def test_how_far_it_is_is_asked_for_again_and_again(helper, monkeypatch):
    key = ask(helper)
    folder = folder_of(key)
    monkeypatch.setattr(searches, "is_held", lambda _folder: True)
    searches.write_told(folder, searches.Told(searches.RUNNING, done=1500, total=41_000_000))

    part = helper.get(f"/find/{key}/progress")

    assert "1,500 of 41,000,000 recipes are looked at." in page_of(part)
    assert 'hx-trigger="every 1s"' in text_of(part)
    assert "HX-Refresh" not in part.headers


def test_who_waits_in_line_is_told_so(helper, monkeypatch):
    first, second = ask(helper), ask(helper)
    monkeypatch.setattr(searches, "is_held", lambda _folder: True)
    searches.write_told(folder_of(second), searches.Told(searches.WAITING))

    assert first < second
    assert "It waits in line: 1 search comes before it." in page_of(helper.get(f"/find/{second}/"))


def test_a_search_that_is_stopped_keeps_only_its_question(helper):
    key = ask(helper, most_peat_share="20 %", which="chosen", chosen=["COIR_P", "PUM_S"])
    assert helper.post(f"/find/{key}/stop")["Location"] == f"/find/{key}/"
    work_out(key)

    page = page_of(helper.get(f"/find/{key}/"))

    assert "It was stopped; nothing of it is kept but the question." in page
    assert worked.answer_of(folder_of(key)) is None
    again = text_of(helper.get(f"/find/?again={key}"))
    assert 'value="20 %"' in again
    assert re.search(r'value="COIR_P"[^>]*checked', again)
    assert re.search(r'value="general-grown" selected', again)


def test_a_process_that_was_killed_is_told(helper):
    key = ask(helper)
    searches.write_told(folder_of(key), searches.Told(searches.RUNNING, 5, 10))

    page = page_of(helper.get(f"/find/{key}/"))

    assert "its process was ended from outside" in page
    assert f"/find/?again={key}" in page
    assert "HX-Refresh" in helper.get(f"/find/{key}/progress").headers


def test_a_refusal_of_the_search_is_said_with_the_way_back(helper):
    key = ask(helper)
    searches.write_told(
        folder_of(key),
        searches.Told(searches.FAILED, problem="Nothing fits; loosen one."),
    )

    page = page_of(helper.get(f"/find/{key}/"))

    assert "Nothing fits; loosen one." in page
    assert "Change the question, or ask again" in page


@pytest.mark.parametrize("key", ["0" * 18, "moon", "x" * 300])
def test_a_search_that_is_gone_leads_back_to_the_question(helper, key):
    for page in ("", "make"):
        answer = helper.get(f"/find/{key}/{page}", follow=True)
        assert answer.redirect_chain == [("/find/", 302)]
        assert "This search is gone: searches are kept for a day." in page_of(answer)
    assert helper.post(f"/find/{key}/stop")["Location"] == "/find/"


def test_an_address_may_name_plants_and_pot(helper):
    page = text_of(helper.get("/find/", {"for": "fern, seed", "container": "tray 34x22x5 cm"}))

    assert 'value="fern-seed" selected' in page
    assert 'value="tray 34x22x5 cm"' in page
    assert "No plant group is called “moon moss”." in page_of(helper.get("/find/", {"for": "moon moss"}))


def test_nobody_may_what_the_guard_does_not_let_them(helper, done, monkeypatch):
    monkeypatch.setattr("friable.web.guard.local_person_may", lambda _act: False)

    for name, args in (
        ("find", []), ("replace", []), ("can-make", []), ("find-work", [done]), ("find-progress", [done]),
        ("find-make", [done]),
    ):  # fmt: skip
        assert helper.get(reverse(name, args=args)).status_code == 403, name
    for name, args in (
        ("find", []),
        ("replace", []),
        ("can-make", []),
        ("find-stop", [done]),
        ("find-make", [done]),
    ):
        assert helper.post(reverse(name, args=args), ASKED).status_code == 403, name
    assert len(folders()) == 1


def test_a_form_from_elsewhere_is_not_taken(strict):
    for name, args in (("find", []), ("replace", []), ("can-make", []), ("find-stop", ["0" * 18])):
        assert strict.post(reverse(name, args=args), ASKED).status_code == 403
