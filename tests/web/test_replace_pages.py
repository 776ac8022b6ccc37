"""Replace, and what can be made now, in a browser without scripts; the work done by the real search."""

import html
import re

import pytest
from tests import cast
from tests.web.asked_search import POT, case_of, folder_of, folders, page_of, question_of, text_of, work_out
from tests.web.hostile import MARKUP, TEMPLATE

from friable.planning.can_make import can_make
from friable.planning.replacing import replace
from friable.records import actions
from friable.records.models import Batch
from friable.web.finding import work as worked
from friable.web.finding.can_make import kept_mixes
from friable.web.mixes.poured import of_version

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("nothing_begun")]

ENGINES = {"replace": replace, "can-make": can_make}
FEW = ["BKP_M", "PEAT_M", "PERL_C", "COIR_P", "PUM_S", "BKF_M"]
ASKED = {
    "mix": "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse",
    "without": "pine bark nursery",
    "pot1": POT,
    "which": "chosen",
    "chosen": FEW,
    "parts": "6",
    "kinds": "3",
}


def ask(helper, **changes):
    answer = helper.post("/find/replace/", {**ASKED, **changes})
    assert answer.status_code == 302, page_of(answer)
    return answer["Location"].split("/")[2]


@pytest.fixture
def done(helper):
    """The key of a replacement that is found."""
    key = ask(helper)
    assert work_out(key, ENGINES).state == "done"
    return key


def test_a_mix_without_a_material_is_asked_for_its_pots(helper):
    cast.potting_on()
    cast.nine_cm_pot()

    case = case_of(ask(helper, mix="potting-on bark", without="peat", pot2="9 cm pot", pot3=POT))

    assert [material.key for material, _share in case.mix] == ["BKP_M", "PEAT_M", "PERL_C"]
    assert {"PEAT_F", "PEAT_M", "PEAT_C"} <= case.without
    assert [pot.describe() for pot in case.containers] == [POT, "round 9/6/8.5 cm"]  # each once
    assert {one.material.key for one in case.at_hand} == set(FEW)


def test_the_page_of_a_mix_leads_here_with_the_pots_it_went_into(helper):
    version = cast.made_batch().mix_version

    page = text_of(helper.get(f"/mixes/{version.mix_id}/"))
    address = html.unescape(re.search(r'href="(/find/replace/\?[^"]+)"', page)[1])
    asked = text_of(helper.get(address))

    assert 'value="potting-on bark, version 1"' in asked
    assert 'value="2 L pot"' in asked


def test_peat_free_is_one_click(helper):
    version = cast.made_batch().mix_version

    answer = helper.post("/find/replace/", {"quick": "1", "mix": str(version), "without": "peat"})

    key = answer["Location"].split("/")[2]
    case = case_of(key)
    assert case.containers[0].describe() == "round 17/12/13 cm"
    assert (case.parts, case.kinds, len(case.at_hand)) == (10, 4, 60)
    assert question_of(key).title == "potting-on bark, version 1 without peat"


def test_the_answer_says_what_changes_and_what_to_watch(helper, done):
    answer = worked.answer_of(folder_of(done))
    page = page_of(helper.get(f"/find/{done}/"))

    nearest = answer.candidates[0]
    assert f"Without pine bark nursery 0-12 mm, the nearest of {answer.considered:,} recipes is" in page
    assert nearest.text in page
    for sentence in (*nearest.changes, *nearest.watch):
        assert " ".join(sentence.split()) in page
    assert "As it is: 5 pine bark nursery 0-12 mm" in page
    shown = re.findall(r'<th scope="row">\s*(\d[^<]*?)\s*<', text_of(helper.get(f"/find/{done}/")))
    assert shown == [one.text for one in answer.candidates]
    assert not any("pine bark nursery" in text for text in shown)


def test_it_is_sorted_filtered_and_held_against_the_mix_as_it_is(helper, done):
    answer = worked.answer_of(folder_of(done))
    lightest = sorted(answer.candidates, key=lambda one: one.figures["wet_mass_kg"].value)

    page = text_of(helper.get(f"/find/{done}/?sort=weight&tick=1"))

    shown = re.findall(r'<th scope="row">\s*(\d[^<]*?)\s*<', page)
    assert shown == [one.text for one in lightest]
    beside = page[page.index('id="side-by-side"') : page.index('id="recipes"')]
    assert "As it is: 5 pine bark nursery 0-12 mm" in beside
    assert "What to watch" in beside
    assert all("coir" in text for text in re.findall(r'<th scope="row">\s*(\d[^<]*?)\s*<', text_of(
        helper.get(f"/find/{done}/?word=coir")
    )))  # fmt: skip


def test_what_stands_in_for_a_mix_takes_over_what_is_added_to_it(helper):
    version = cast.potting_on(amendments=[("dolomitic limestone", 3.0)], not_for="heaths", shrinkage=0.1)
    key = ask(helper, mix="potting-on bark")
    work_out(key, ENGINES)
    address = html.unescape(
        re.search(rf'href="(/find/{key}/make[^"]+)"', text_of(helper.get(f"/find/{key}/")))[1]
    )
    page = text_of(helper.get(address))
    assert "It takes over what is added to potting-on bark, version 1" in page
    typed = dict(re.findall(r'<input type="(?:text|hidden)" name="(\w+)"[^>]*?value="([^"]*)"', page))
    recipe = html.unescape(re.search(r'<textarea name="recipe"[^>]*>\s*(.*?)</textarea>', page, re.S)[1])

    answer = helper.post(address, {**typed, "recipe": recipe, "litres": "20 L"})

    assert answer.status_code == 302, page_of(answer)
    made = Batch.objects.get().mix_version
    assert made.name != version.name
    assert [one.name for one in made.amendments.all()] == ["dolomitic limestone"]
    assert (made.not_for, made.shrinkage) == ("heaths", None)


def test_another_grade_of_the_same_name_is_never_silent(helper):
    key = ask(helper, mix="1 perlite coarse", without="PERL_C", chosen=["PERL_F", "PERL_C"], kinds="1")
    work_out(key, ENGINES)

    page = page_of(helper.get(f"/find/{key}/"))

    assert "Another grade:" in page
    assert "perlite fine" in page


def test_nothing_at_hand_is_said_with_the_way_back(helper):
    key = ask(helper, mix="1 perlite coarse", without="perlite", chosen=["PERL_C"])
    told = work_out(key, ENGINES)

    page = page_of(helper.get(f"/find/{key}/"))

    assert told.state == "failed"
    assert told.problem in page
    assert f"/find/replace/?again={key}" in page
    again = text_of(helper.get(f"/find/replace/?again={key}"))
    assert 'value="1 perlite coarse"' in again
    assert re.search(r'value="PERL_C"[^>]*checked', again)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"mix": ""}, "The mix is missing; name one of yours"),
        ({"mix": "3 moon dust"}, "No material is called “moon dust”."),
        ({"mix": "NaN perlite coarse"}, "is not a finite number"),
        ({"without": ""}, "Say what has run out or is given up"),
        ({"without": "moon dust"}, "No material is called “moon dust”."),
        ({"without": "pumice"}, "The mix has no pumice; it is made of"),
        ({"without": MARKUP}, "No material is called"),
        ({"without": TEMPLATE}, "No material is called"),
        ({"pot1": ""}, "The pot is missing"),
        ({"pot2": "moon pot"}, "No container is called “moon pot”."),
        ({"which": "stock"}, "Nothing is counted in stock"),
        ({"parts": "11"}, "Parts at most: 11 is out of range; give from 1 to 10."),
        ({"within_stock": "on"}, "Say for how much mix the stock must last"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence_and_stays(helper, changes, sentence):
    answer = helper.post("/find/replace/", {**ASKED, "least_years": "2.25", **changes})

    assert answer.status_code == 422
    assert sentence in page_of(answer)
    assert 'value="2.25"' in text_of(answer)
    assert all(html.escape(typed) in text_of(answer) for typed in changes.values())
    assert folders() == []


def test_a_mix_without_peat_needs_no_peat_free_one(helper):
    answer = helper.post("/find/replace/", {"quick": "1", "mix": "1 coir pith", "without": "peat"})

    assert answer.status_code == 422
    assert "The mix has no peat; it is made of coir pith 0-5 mm." in page_of(answer)


def count(**litres):
    """Write down what lies in the store."""
    for key, amount_l in litres.items():
        actions.set_stock(actions.use_material(key, by=cast.KEEPER), amount_l, by=cast.KEEPER)


def test_litres_of_each_mix_from_what_is_here(helper):
    cast.potting_on(shrinkage=0.1)
    assert "Nothing in the store was counted yet." in page_of(helper.get("/find/can-make/"))
    count(BKP_M=50, PEAT_M=100, PERL_C=100)

    page = page_of(helper.get("/find/can-make/"))

    # Worked by hand: 50 L of bark are five sevenths of 70 L poured, 63 L finished after a tenth is lost.
    assert re.search(r"potting-on bark</a></th>.*?63\xa0<small>L</small></td> <td>pine bark nursery ", page)


def test_mixes_within_mixes_are_poured_as_everywhere(helper):
    cast.nested_mix()
    cast.potting_on()

    kept = kept_mixes()

    assert len(kept.mixes) == 4
    for name, parts, shrinkage in kept.mixes:
        version = cast.mix(name).versions.get()
        shares = {material.key: share for material, share in parts}
        elsewhere = {material.key: share for material, share in of_version(version).parts}
        assert shares == pytest.approx(elsewhere, rel=1e-12)  # in whatever order
        assert shrinkage == version.shrinkage


def test_a_stand_in_is_looked_for_where_a_mix_is_short(helper):
    cast.potting_on()
    count(BKP_M=1, PEAT_M=100, PERL_C=100, COIR_P=200, BKF_M=200)
    asked = {"litres": "60 L", "container": POT}
    assert helper.post("/find/can-make/", asked).status_code == 200

    key = helper.post("/find/can-make/", {**asked, "stand_ins": "1"})["Location"].split("/")[2]
    assert work_out(key, ENGINES).state == "done"

    page = page_of(helper.get(f"/find/{key}/"))
    (one,) = worked.answer_of(folder_of(key))
    assert one.stand_in.text in page
    assert f"/find/{key}/make?recipe=" in page
    assert "stands_in_for=potting-on+bark" in page
    assert 'value="60 L"' in text_of(helper.get(f"/find/can-make/?again={key}"))


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"litres": ""}, "Say how much is wanted of each, such as 60 L."),
        ({"litres": "NaN"}, "is not a finite number"),
        ({"litres": "0 L"}, "is nothing at all"),
        ({"container": "moon pot"}, "No container is called “moon pot”."),
    ],
)
def test_stand_ins_that_cannot_be_looked_for_are_refused(helper, asked, sentence):
    cast.potting_on()

    answer = helper.post("/find/can-make/", {"litres": "60 L", "container": POT, "stand_ins": "1", **asked})

    assert answer.status_code == 422
    assert sentence in page_of(answer)
    assert folders() == []


def test_a_mix_of_which_something_is_unknown_says_so(helper):
    actions.add_material("house grit", by=cast.KEEPER)
    actions.write_mix(cast.recipe("house mix", (1, "house grit"), (1, "perlite coarse")), by=cast.KEEPER)

    assert "house mix: Nothing is known of house grit" in page_of(helper.get("/find/can-make/"))
