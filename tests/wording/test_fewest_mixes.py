"""The fewest mixes, on the page and on the command line, say no word that was not offered for translation."""

import pytest
from tests.web.conftest import browser, on_shift, text_of
from tests.web.test_fewest_pages import ASKED, COLLECTION, ask, work_out
from tests.wording.marked import Data, texts_of_records, texts_of_tables, unmarked, words_outside

from friable.cli import at_hand_typed, names_here
from friable.cli.main import main
from friable.demo.quillmoor import load
from friable.runs import searches
from friable.web.fewest.collections import demo_collection

TYPED = {*COLLECTION.replace("\n", ",").split(","), *(p.strip() for p in COLLECTION.split("+"))}
NAMES = {"friable", "round", "JO", "Quillmoor"}


@pytest.mark.django_db
def test_no_page_of_the_fewest_mixes_says_a_strange_word(request, settings, tmp_path, monkeypatch):
    settings.DATA_FOLDER = tmp_path
    monkeypatch.setattr(searches, "WORKER", ("true",))  # the work is done below
    load()
    helper = on_shift(browser())
    key = ask(helper, ours_too="on")
    request.getfixturevalue("marking")
    lines = {
        *COLLECTION.splitlines(),
        *demo_collection().splitlines(),
        *demo_collection().replace("\n", ",").split(","),
    }
    data = Data(texts_of_records() | texts_of_tables() | TYPED | lines | NAMES)
    pages = [text_of(helper.get("/fewest/")), text_of(helper.get(f"/fewest/{key}/"))]
    pages.append(text_of(helper.post("/fewest/", {**ASKED, "collection": "", "least_chance": "0 %"})))
    work_out(key)
    pages.append(text_of(helper.get(f"/fewest/{key}/")))

    outside = [words for page in pages for words in words_outside(page, data)]

    assert outside == []


def test_the_command_says_no_strange_word(marking, capsys, monkeypatch, tmp_path):
    for module in (names_here, at_hand_typed):
        monkeypatch.setattr(module, "records_exist", lambda: False)
    file = tmp_path / "pots.csv"
    file.write_text(COLLECTION, encoding="utf-8")

    assert (
        main(("fewest", str(file), "--materials", "pine bark nursery, perlite coarse", "--parts", "3")) == 0
    )

    lines = capsys.readouterr().out
    assert Data(texts_of_tables() | NAMES | TYPED).strangers(unmarked(lines).split("|")) == []
