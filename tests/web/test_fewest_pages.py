"""The fewest mixes in a browser without scripts: asked, worked out, answered, refused, asked again."""

from io import BytesIO

import pytest
from tests import cast
from tests.web.asked_search import case_of, folder_of, folders, page_of, question_of
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, TEMPLATE

from friable.demo.quillmoor import load
from friable.planning.fewest import fewest
from friable.planning.find_values import Cancelled
from friable.runs import search_worker, searches
from friable.web.fewest.collections import demo_collection

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("nothing_begun")]

BARK = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
COLLECTION = f"""group,stage,container,count,mix
epiphyte,grown,round 13/10/11 cm,12,{BARK}
fern,grown,,30,{BARK}
bog,grown,,5,3 sphagnum peat medium + 1 horticultural sand medium
bromeliad,grown,,4,{BARK}
"""
ASKED = {
    "collection": COLLECTION, "which": "chosen", "chosen": ["BKP_M", "PEAT_M", "PERL_C", "BKE_M"],
    "parts": "4", "kinds": "2", "least_chance": "50 %",
}  # fmt: skip


def ask(browser, **changes):
    """Ask, and return the key of what was begun."""
    answer = browser.post("/fewest/", {**ASKED, **changes})
    assert answer.status_code == 302, page_of(answer)
    return answer["Location"].split("/")[2]


def work_out(key, engine=fewest):
    """Do what the process does."""
    return search_worker.work(folder_of(key), {"fewest": engine})


def test_a_collection_is_asked_for_and_answered(helper):
    key = ask(helper)
    assert "It is just beginning." in page_of(helper.get(f"/fewest/{key}/"))
    assert work_out(key).state == searches.DONE

    page = page_of(helper.get(f"/fewest/{key}/"))

    assert "The fewest mixes for a collection of 51 pots" in page
    assert '<p class="reading">One mix keeps all 2 groups in their pots within their windows:' in page
    assert "Proved: " in page
    assert "nothing is asked of air and water" in page
    assert "no window is known" in page
    assert page.index('class="reading"') < page.index("<table")


def test_what_is_kept_here_is_understood(helper):
    cast.potting_on()
    cast.two_litre_pot()

    case = case_of(
        ask(helper, collection="group,container,count,mix\nfern grown,2 L pot,24,potting-on bark\n")
    )

    [stand], [line] = case.stands.stands, case.stands.lines
    assert stand.container.headspace_cm == 1.5
    assert (line.count, line.mix.title) == (24, "potting-on bark, version 1")
    assert case.given == ()


def test_our_mixes_are_chosen_among_where_that_is_ticked(helper):
    cast.potting_on(amendments=[("dolomitic limestone", 3.0)], not_for="heaths")

    [mix] = case_of(ask(helper, ours_too="on")).given

    assert (mix.title, mix.added, mix.not_for) == (
        "potting-on bark, version 1",
        ("dolomitic limestone",),
        "heaths",
    )


def test_a_file_takes_the_place_of_what_is_pasted_and_stays(helper):
    given = BytesIO(b"\xef\xbb\xbfgroup;count\nfern grown;7\n")
    given.name = "pots.csv"

    key = ask(helper, file=given)

    assert case_of(key).stands.pots == 7
    assert "fern grown;7" in page_of(helper.get("/fewest/"))


def test_what_was_asked_last_is_there_again(helper):
    key = ask(helper, kinds="1")

    for address in ("/fewest/", f"/fewest/?again={key}"):
        page = page_of(helper.get(address))
        assert "bromeliad,grown,,4," in page
        assert 'name="kinds" value="1"' in page
        assert 'name="ours_too" id="id_ours_too"' in page.replace(" checked", " CHECKED")
    assert question_of(key).title == "a collection of 51 pots"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"collection": ""}, "There is no collection yet; choose a file, or paste its lines."),
        ({"collection": "group\nfern grown\n"}, "no column “count”"),
        ({"collection": "group,count\nmoon flower,1\n"}, "No plant group is called “moon flower”."),
        ({"collection": f"group,count\n{MARKUP},1\n"}, "Line 2 of the collection"),
        ({"collection": f"group,count\n{TEMPLATE},1\n"}, "Line 2 of the collection"),
        ({"collection": "group,count\nfern grown,1\0\n"}, "This is not text; save the table as CSV."),
        ({"least_chance": "0 %"}, "Give a chance above 0 %, such as 50 %."),
        ({"least_chance": "nan"}, "is not a finite number"),
        ({"least_chance": "200 %"}, "out of range"),
        ({"kinds": "9"}, "Kinds at most: 9 is out of range; give from 1 to 4."),
        ({"chosen": []}, "No material is ticked; tick some, or take all."),
        ({"which": "stock"}, "Nothing is counted in stock"),
    ],
)
def test_what_cannot_be_asked_is_refused_beside_its_field(helper, changes, said):
    answer = helper.post("/fewest/", {**ASKED, **changes})

    assert answer.status_code == 422
    page = page_of(answer)
    assert said in page
    assert MARKUP not in text_of(answer)
    assert folders() == []


def test_lines_that_cannot_be_read_stand_in_a_table_with_their_numbers(helper):
    answer = helper.post("/fewest/", {**ASKED, "collection": COLLECTION + "moon,grown,,1,\nfern,grown,,x,\n"})

    page = page_of(answer)
    assert '<th scope="row" class="n">6</th>' in page
    assert '<th scope="row" class="n">7</th>' in page


def test_a_file_that_is_no_text_is_refused(helper):
    given = BytesIO(b"\x89PNG\r\n\xff\xfe")
    given.name = "pots.png"

    answer = helper.post("/fewest/", {**ASKED, "file": given})

    assert answer.status_code == 422
    assert "The file is not text; save the table as CSV." in page_of(answer)


def test_it_can_be_stopped_and_asked_again(helper):
    key = ask(helper)
    assert helper.get(f"/fewest/{key}/stop").status_code == 405
    helper.post(f"/fewest/{key}/stop")

    def stopped(case, *, progress, cancelled):
        assert cancelled()
        raise Cancelled

    assert work_out(key, stopped).state == searches.STOPPED
    page = page_of(helper.get(f"/fewest/{key}/"))
    assert "It was stopped; nothing of it is kept but the question." in page
    assert f"/fewest/?again={key}" in page
    assert helper.get(f"/fewest/{key}/progress").headers["HX-Refresh"] == "true"


def test_a_search_that_is_gone_is_said_to_be_gone(helper):
    for address in ("/fewest/000000000000abcdef/", "/fewest/none-such/"):
        answer = helper.get(address, follow=True)
        assert "This search is gone: searches are kept for a day." in page_of(answer)


def test_the_collection_of_the_demo_is_offered_where_it_can_be_read(helper):
    assert "Quillmoor" not in page_of(helper.get("/fewest/?demo=1"))
    load()

    page = page_of(helper.get("/fewest/?demo=1"))

    assert "Take the collection of Quillmoor, to try it" in page
    assert "bog,grown,1 L pot,140,bog mix" in page
    case = case_of(ask(helper, collection=demo_collection()))
    assert len(case.stands.stands) == 22
