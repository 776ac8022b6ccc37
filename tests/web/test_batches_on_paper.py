"""Sheets of a batch: PDF, on the paper that is in the printer."""

import re
from datetime import UTC, datetime

import pytest
from tests import cast
from tests.sheets.pages import text_of as words_on
from tests.web.conftest import text_of

LABEL = {
    "copies": "1",
    "start_at": "1",
    "paper": "a4",
    "label_width_mm": "90",
    "label_height_mm": "50",
    "columns": "2",
    "rows": "5",
    "margin_left_mm": "15",
    "margin_top_mm": "14",
    "gap_across_mm": "0",
    "gap_down_mm": "0",
    "cut_lines": "yes",
    "lime": "no",
    "fertiliser": "no",
}
A4_PT, LETTER_PT = 595, 612  # widths of the paper; 210 mm and 8.5 in, 72 points to the inch


def widths_pt(answer) -> set[int]:
    """Return the widths of the pages of a PDF."""
    boxes = re.findall(rb"/MediaBox ?\[ ?0 0 ([\d.]+)", answer.content)
    return {int(float(width)) for width in boxes}


def assert_pdf(answer):
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"].startswith("inline")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer.content.startswith(b"%PDF")


def test_sheet_labels_and_card_are_pdf(helper):
    batch = cast.made_batch()

    assert_pdf(helper.get(f"/sheets/batch/{batch.code}"))
    assert_pdf(helper.get(f"/sheets/label/{batch.code}", LABEL))
    assert_pdf(helper.get(f"/sheets/card/{batch.mix_version.pk}"))


def test_a_nested_mix_with_amendments_has_its_sheet_too(helper):
    assert_pdf(helper.get(f"/sheets/batch/{cast.planned_batch(cast.nested_mix()).code}"))


def test_the_paper_is_chosen_once(helper):
    batch = cast.planned_batch()

    assert widths_pt(helper.get(f"/sheets/batch/{batch.code}")) == {A4_PT}
    answer = helper.post("/sheets/paper", {"paper": "letter", "next": f"/batches/{batch.code}"})
    assert answer["Location"] == f"/batches/{batch.code}"
    assert widths_pt(helper.get(f"/sheets/batch/{batch.code}")) == {LETTER_PT}
    helper.post("/sheets/paper", {"paper": "papyrus", "next": "//example.net"})
    assert widths_pt(helper.get(f"/sheets/batch/{batch.code}")) == {LETTER_PT}
    assert helper.get("/sheets/paper").status_code == 405


def test_the_label_page_says_what_is_known_of_lime(helper):
    bark = cast.made_batch()
    assert '<option value="no" selected>' in text_of(helper.get(f"/sheets/label/{bark.code}"))


def test_a_label_never_denies_the_lime_that_is_in(helper):
    batch = cast.planned_batch(cast.nested_mix())  # base A is limed

    page = text_of(helper.get(f"/sheets/label/{batch.code}"))
    assert '<option value="yes" selected>' in page
    answer = helper.get(f"/sheets/label/{batch.code}", LABEL)
    assert answer.status_code == 422
    assert "This batch holds dolomitic limestone" in text_of(answer)
    assert_pdf(helper.get(f"/sheets/label/{batch.code}", {**LABEL, "lime": "yes"}))


def test_a_label_warns_of_what_the_mix_is_not_for_and_when_it_is_too_old(helper, tmp_path):
    batch = cast.made_batch(cast.potting_on(not_for="heaths, bog plants", use_within_days=14))
    batch.made_at = datetime(2026, 3, 1, 12, tzinfo=UTC)
    batch.save()

    page = text_of(helper.get(f"/sheets/label/{batch.code}"))
    assert 'name="not_for" value="heaths, bog plants"' in page
    assert 'name="use_by" value="2026-03-15"' in page
    assert "heaths, bog plants" in text_of(helper.get(f"/batches/{batch.code}"))

    said = {**LABEL, "not_for": "heaths, bog plants", "use_by": "2026-03-10"}
    printed = words_on(helper.get(f"/sheets/label/{batch.code}", said).content, tmp_path)
    assert "NOT for heaths, bog plants" in printed
    assert "use by 10 March 2026" in printed
    plain = words_on(helper.get(f"/sheets/label/{batch.code}", LABEL).content, tmp_path)
    assert "NOT for" not in plain
    assert "use by" not in plain


@pytest.mark.parametrize(
    ("field", "text", "sentence"),
    [
        ("label_width_mm", "5", "from 20 to 420"),
        ("label_width_mm", "NaN", "not a plain number"),
        ("label_width_mm", "1e308", "not a plain number"),
        ("label_height_mm", "", "missing"),
        ("copies", "0", "from 1 to 500"),
        ("copies", "2.5", "not a whole number"),
        ("start_at", "11", "from 1 to 10 on this sheet"),
        ("rows", "9", "take fewer or smaller labels"),
        ("paper", "papyrus", "not in the list"),
        ("cut_lines", "<script>", "not in the list"),
        ("use_by", "2026-02-30", "not a day of the calendar"),
        ("not_for", "heaths," * 60, "it may have 400"),
    ],
)
def test_labels_that_cannot_be_are_refused_with_what_was_typed(helper, field, text, sentence):
    batch = cast.planned_batch()

    answer = helper.get(f"/sheets/label/{batch.code}", {**LABEL, field: text})

    assert answer.status_code == 422
    page = text_of(answer)
    assert sentence in page
    assert "<script>" not in page
    if field not in ("paper", "cut_lines"):
        assert f'name="{field}" value="{text}"' in page or not text
