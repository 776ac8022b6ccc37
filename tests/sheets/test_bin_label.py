"""Bin labels keep every word inside the label, from the smallest to the largest, and start where asked."""

from dataclasses import replace

import pytest
import zxingcpp

from friable.errors import BadQuantity, BadText, Refused
from friable.sheets.bin_label import BinLabel, bin_labels_pdf

from .pages import is_without_colour, page_sizes_mm, pictures_of, text_of, words_of

LABEL = BinLabel(
    mix_name="Open bark mix",
    mix_version="3",
    batch_code="Q-2026-0042",
    day="2026-11-25",
    initials="MK",
    treated="no",
    lime="yes",
    fertiliser="not known",
    not_for=("heath plants",),
    use_by="2027-05-25",
)
WORDY = replace(
    LABEL,
    mix_name="Epiphyte basket mix with long-fibred sphagnum and lava, second trial",
    treated="yes",
    how_treated="steam, 82 °C for 30 min",
    not_for=("heath plants", "carnivorous plants in trays", "seedlings"),
)
SHEET_OF_21 = {
    "label_width_mm": 63.5,
    "label_height_mm": 38.1,
    "paper": "a4",
    "margin_left_mm": 7.2,
    "margin_top_mm": 15.1,
    "columns": 3,
    "rows": 7,
    "gap_across_mm": 2.5,
}
SIZES = [(50, 25), (25, 50), (63.5, 38.1), (70, 37), (99.1, 67.7), (200, 30), (105, 148), (210, 148)]
ALL_WORDS = (
    "Open bark mix", "version 3", "Q-2026-0042", "25 November 2026", "MK", "not treated", "contains LIME",
    "fertiliser not known", "NOT for heath plants", "use by 25 May 2027",
)  # fmt: skip


def single(label, size, **more):
    return bin_labels_pdf(label, label_width_mm=size[0], label_height_mm=size[1], **more)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_all_words_stand_inside_a_label_of_this_size(size, tmp_path):
    pdf = single(LABEL, size)
    text = text_of(pdf, tmp_path)
    assert [w for w in ALL_WORDS if w not in text] == []
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx(size, abs=0.1)]
    for word in words_of(pdf, tmp_path):
        assert 0.5 <= word.left < word.right <= size[0] - 0.5, word
        assert 0.5 <= word.top < word.bottom <= size[1] - 0.5, word


@pytest.mark.parametrize("size", [s for s in SIZES if min(s) > 25], ids=str)
def test_a_long_name_wraps_and_nothing_is_cut_off(size, tmp_path):
    pdf = single(WORDY, size)
    text = text_of(pdf, tmp_path)
    printed = {w.text for w in words_of(pdf, tmp_path)}
    assert {"Epiphyte", "second", "trial", "LIME,", "carnivorous", "seedlings"} <= printed, text
    for word in words_of(pdf, tmp_path):
        assert 0.5 <= word.left < word.right <= size[0] - 0.5, word
        assert 0.5 <= word.top < word.bottom <= size[1] - 0.5, word


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_words_beside_the_code_do_not_run_into_it(size, tmp_path):
    pdf = single(LABEL, size)
    (picture,) = pictures_of(pdf, tmp_path, 300)
    codes = zxingcpp.read_barcodes(picture)
    if not codes:
        assert size in [(50, 25), (25, 50)]  # too small for a code beside legible words
        return
    corners = codes[0].position
    left = min(p.x for p in (corners.top_left, corners.bottom_left)) / 300 * 25.4
    bottom = max(p.y for p in (corners.bottom_left, corners.bottom_right)) / 300 * 25.4
    assert all(w.right <= left or w.top >= bottom for w in words_of(pdf, tmp_path))


@pytest.mark.parametrize("size", [(63.5, 38.1), (99.1, 67.7), (210, 148)], ids=str)
def test_the_code_says_the_batch_id_and_nothing_else(size, tmp_path):
    (picture,) = pictures_of(single(LABEL, size), tmp_path, 300)
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == ["Q-2026-0042"]


def test_starting_at_label_5_leaves_the_first_four_empty(tmp_path):
    pdf = bin_labels_pdf(LABEL, **SHEET_OF_21, start_at=5, copies=20)
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx((210, 297), abs=0.1)] * 2
    used = {1: set(), 2: set()}
    for word in words_of(pdf, tmp_path):
        across, down = (word.left - 7.2) / 66, (word.top - 15.1) / 38.1
        column, row = int(across), int(down)
        assert word.right <= 7.2 + column * 66 + 63.5
        assert word.bottom <= 15.1 + (row + 1) * 38.1
        used[word.page].add(row * 3 + column + 1)
    # By hand: 21 labels a sheet, 4 gone, 17 used, 3 more on the next sheet.
    assert used == {1: set(range(5, 22)), 2: {1, 2, 3}}


def test_copies_of_single_labels_are_pages(tmp_path):
    assert len(page_sizes_mm(single(LABEL, (70, 37), copies=3), tmp_path)) == 3


def test_letter_paper_has_its_size(tmp_path):
    pdf = bin_labels_pdf(
        LABEL,
        label_width_mm=101.6,
        label_height_mm=50.8,
        paper="letter",
        margin_left_mm=4,
        margin_top_mm=12.7,
        columns=2,
        rows=5,
        gap_across_mm=4.7,
    )
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx((215.9, 279.4), abs=0.1)]


def test_labels_print_in_black(tmp_path):
    assert all(is_without_colour(p) for p in pictures_of(single(LABEL, (99.1, 67.7)), tmp_path))


def test_typed_text_is_printed_as_typed(tmp_path):
    odd = replace(
        LABEL,
        mix_name='#read("/etc/passwd") *x* $y$',
        initials="{{ 1 }}",
        not_for=("</text><script>", "\u202eabc \u2067d"),
    )
    text = text_of(single(odd, (148, 105)), tmp_path).replace("</ text>", "</text>")
    assert '#read("/etc/passwd") *x* $y$' in text
    assert "{{ 1 }}" in text
    assert "</text><script>" in text
    assert "abc d" in text
    assert "root:" not in text


def test_the_same_label_gives_the_same_file():
    assert single(LABEL, (70, 37)) == single(LABEL, (70, 37))


def test_too_many_words_for_the_label_are_refused():
    with pytest.raises(Refused, match="do not fit on 30 by 20 mm"):
        single(WORDY, (30, 20))


@pytest.mark.parametrize(
    ("change", "error", "said"),
    [
        ({"label_width_mm": 5}, BadQuantity, "label width is 5 mm"),
        ({"label_height_mm": float("nan")}, BadQuantity, "label height is not a number"),
        ({"copies": 0}, BadQuantity, "copies is 0"),
        ({"start_at": 0}, BadQuantity, "the first label is 0"),
        ({"start_at": 22}, BadQuantity, "from 1 to 21"),
        ({"columns": 4}, Refused, "the width of the paper is 210 mm"),
        ({"rows": 8}, Refused, "the height of the paper is 297 mm"),
        ({"gap_across_mm": -1}, BadQuantity, "gap across is -1 mm"),
        ({"paper": "a5"}, BadText, "Choose a4 or letter"),
    ],
)
def test_an_impossible_sheet_is_refused(change, error, said):
    with pytest.raises(error, match=said):
        bin_labels_pdf(LABEL, **{**SHEET_OF_21, **change})


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"day": "25.11.2026"}, "like 2026-11-25"),
        ({"treated": "maybe"}, "yes, no or not known"),
        ({"batch_code": ""}, "1 to 40 characters"),
        ({"batch_code": "x" * 41}, "1 to 40 characters"),
    ],
)
def test_an_impossible_label_is_refused(change, said):
    with pytest.raises(BadText, match=said):
        single(replace(LABEL, **change), (99, 68))
