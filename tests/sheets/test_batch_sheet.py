"""The batch sheet says everything that is done, in order, legibly and in black, on one page when it can."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from friable.drawing.pot_section import pot_section_svg
from friable.errors import BadQuantity, BadText
from friable.science.containers import Container
from friable.sheets.batch_sheet import AmendmentToWeigh, BatchSheet, PartToLoad, batch_sheet_pdf
from friable.sheets.cautions import Caution

from .pages import is_without_colour, page_sizes_mm, pictures_of, text_of, type_sizes_of, words_of

CAUTIONS = (
    Caution("Dust: damp dry material and wear a fitted mask.", "a source, 2020"),
    Caution("Lifting: share heavy loads.", "common practice, no source"),
)
SHEET = BatchSheet(
    title="Open bark mix",
    batch_code="Q-2026-0042",
    mix_name="Open bark mix",
    mix_version="3",
    finished_l=240,
    day="2026-11-25",
    who="MK",
    bucket_name="black bucket",
    bucket_l=12,
    loading=(
        PartToLoad(name="pine bark nursery", volume_l=196, buckets=16, remainder_l=4),
        PartToLoad(name="sphagnum peat medium", volume_l=39.2, buckets=3, remainder_l=3.2),
        AmendmentToWeigh(name="dolomitic lime", mass_g=1416, how_weighed="hanging scale, to 10 g"),
        AmendmentToWeigh(name="trace elements", mass_g=8.4, how_weighed="small balance, to 0.1 g"),
        PartToLoad(name="perlite coarse", volume_l=39.2, buckets=3, remainder_l=3.2),
    ),
    dampen=("perlite coarse",),
    premix=("dolomitic lime with 2 L of the bark",),
    water_to_add="about 9 L, in three goes",
    stop_when="no streaks show",
    squeeze="holds",
    keep_from_heat=("coated fertiliser",),
    cautions=CAUTIONS,
    lifting=("The whole batch weighs about 150 kg.",),
)
SAID = (
    "Open bark mix, version 3",
    "240 L",
    "25 November 2026",
    "MK",
    "black bucket, 12 L",
    "16 buckets (196 L)",
    "to the 4 L mark",
    "to the 3.2 L mark",
    "1416 g",
    "8.4 g",
    "small balance, to 0.1 g",
    "Dampen before pouring",
    "really used",
    "initials",
    "time",
    "about 9 L, in three goes",
    "no streaks show",
    "holds: keeps its shape",
    "Do not heat; add after treatment: coated fertiliser",
    "Dust: damp dry material",
    "(Source: a source, 2020)",
    "(Source: common practice, no source)",
    "Follow your local rules",
    "The whole batch weighs about 150 kg.",
)
MANY = tuple(
    PartToLoad(name=f"material {i}", volume_l=12 * n, buckets=n, stage="Base mix" if i < 6 else "Final mix")
    for i, n in enumerate([1, 5, 12, 33, 60, 61, 127, 4, 9, 3, 2, 8])
)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_an_ordinary_batch_is_one_page_that_says_everything(paper, size, tmp_path):
    pdf = batch_sheet_pdf(SHEET, paper)
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx(size, abs=0.1)]
    words = " ".join(w.text for w in words_of(pdf, tmp_path))
    both = text_of(pdf, tmp_path) + " ¦ " + words.replace("\u00a0", " ")
    assert [said for said in SAID if said not in both] == []
    for word in words_of(pdf, tmp_path):
        assert 10 <= word.left < word.right <= size[0] - 10, word
        assert 5 <= word.top < word.bottom <= size[1] - 5, word


def test_loading_is_numbered_in_its_order(tmp_path):
    words = words_of(batch_sheet_pdf(SHEET), tmp_path)
    numbers = sorted((w.top, w.text) for w in words if w.text in "12345" and w.left < 24 and w.top > 60)
    assert [text for _, text in numbers] == ["1", "2", "3", "4", "5"]
    places = [
        next(w.top for w in words if w.text == name and w.top > 90)
        for name in ("pine", "sphagnum", "trace", "perlite")
    ]
    assert places == sorted(places)


def squares(picture, side_mm, dots_per_inch):
    """Count empty upright squares of this side: white inside, a dark frame, corner by corner."""
    grey = picture.convert("L")
    dark = grey.load()
    step = side_mm / 25.4 * dots_per_inch
    found = []
    for y in range(1, grey.height - int(step) - 3):
        for x in range(1, grey.width - int(step) - 3):
            if dark[x, y] > 90 or dark[x - 1, y] < 140 or dark[x, y - 1] < 140:
                continue
            far = [round(step * f) for f in (0.25, 0.5, 0.75, 1.0)]
            top = all(dark[x + f, y] < 140 for f in far)
            left = all(dark[x, y + f] < 140 for f in far)
            right = all(min(dark[x + far[-1] + d, y + f] for d in (-1, 0, 1)) < 140 for f in far)
            foot = all(min(dark[x + f, y + far[-1] + d] for d in (-1, 0, 1)) < 140 for f in far)
            hollow = all(dark[x + a, y + b] > 200 for a in far[:3] for b in far[:3])
            if top and left and right and foot and hollow:
                found.append((x, y))
    return len(found)


@pytest.mark.parametrize("buckets", [1, 5, 16, 60])
def test_there_is_one_box_to_tick_for_each_bucket(buckets, tmp_path):
    part = PartToLoad(name="bark", volume_l=12 * buckets, buckets=buckets)
    sheet = replace(SHEET, loading=(part,), dampen=(), premix=(), cautions=(), squeeze="", lifting=())
    (picture,) = pictures_of(batch_sheet_pdf(sheet), tmp_path, 150)
    column = picture.crop((round(0.3 * picture.width), 0, round(0.72 * picture.width), picture.height // 2))
    assert squares(column, 4.6, 150) == buckets


def test_many_buckets_fit_as_boxes_of_ten(tmp_path):
    part = PartToLoad(name="bark", volume_l=12 * 127, buckets=127)
    pdf = batch_sheet_pdf(replace(SHEET, loading=(part,)))
    tens = [w for w in words_of(pdf, tmp_path) if w.text == "10" and w.top > 110]
    text = text_of(pdf, tmp_path)
    assert "127 buckets" in text
    assert "each large box is 10 buckets" in text
    assert len(tens) >= 12


def test_a_long_sheet_repeats_its_header_and_says_the_stages(tmp_path):
    pdf = batch_sheet_pdf(replace(SHEET, loading=MANY))
    pages = len(page_sizes_mm(pdf, tmp_path))
    words = words_of(pdf, tmp_path)
    assert pages >= 2
    for page in range(1, pages + 1):
        assert any(w.text == "Q-2026-0042" and w.page == page and w.top < 20 for w in words)
    with_parts = {w.page for w in words if w.text == "material" and w.left > 20}
    with_head = {w.page for w in words if w.text == "initials"}
    assert with_parts <= with_head
    stages = [w for w in words if w.text in ("Base", "Final")]
    for stage in stages:
        assert any(w.page == stage.page and w.text == "material" and w.top > stage.top + 3 for w in words)
    assert {w.text for w in stages} == {"Base", "Final"}
    text = text_of(pdf, tmp_path)
    assert f"page 2 of {pages}" in text


def test_type_is_12_points_or_more(tmp_path):
    assert min(type_sizes_of(batch_sheet_pdf(replace(SHEET, cautions=())), tmp_path)) >= 12
    # With cautions, only their sources are smaller.
    assert {size for size in type_sizes_of(batch_sheet_pdf(SHEET), tmp_path) if size < 12} == {9}


def test_the_sheet_prints_in_black_with_the_section_in_it(tmp_path):
    pot = Container(
        shape="round",
        top_length_cm=17,
        top_width_cm=17,
        bottom_length_cm=12,
        bottom_width_cm=12,
        height_cm=13,
        headspace_cm=1.5,
        drainage_layer_cm=3,
    )
    wet = SimpleNamespace(height_cm=3, water=0.75, water_low=0.7, water_high=0.8, air=0.05)
    dry = SimpleNamespace(height_cm=11.5, water=0.5, water_low=0.45, water_high=0.55, air=0.3)
    section = pot_section_svg(pot, [wet, dry], title="pot", black_and_white=True)
    pdf = batch_sheet_pdf(replace(SHEET, section_svg=section))
    assert "stays wet: air under" in text_of(pdf, tmp_path)
    assert all(is_without_colour(p) for p in pictures_of(pdf, tmp_path))


def test_without_a_bucket_parts_are_in_litres_and_a_missing_date_is_a_line_to_fill(tmp_path):
    text = text_of(batch_sheet_pdf(replace(SHEET, bucket_l=None, bucket_name="", day="")), tmp_path)
    assert "39.2 L" in text
    assert "bucket (" not in text
    assert "2026-11" not in text.replace("Q-2026-0042", "")


def test_typed_text_is_printed_as_typed_and_reads_no_file(tmp_path):
    odd = '#read("/etc/passwd") </text><script> {{ 1 }} $x$ *b* \u202egnp \U0001f331'
    pdf = batch_sheet_pdf(replace(SHEET, title=odd, who=odd, stop_when=odd, dampen=(odd,), lifting=(odd,)))
    text = text_of(pdf, tmp_path)
    assert text.count('#read("/etc/passwd")') >= 4
    assert "{{ 1 }} $x$ *b* gnp" in text
    assert "root:" not in text


def test_the_same_sheet_gives_the_same_file():
    assert batch_sheet_pdf(SHEET) == batch_sheet_pdf(SHEET)


@pytest.mark.parametrize(
    ("change", "error", "said"),
    [
        ({"day": "tomorrow"}, BadText, "like 2026-11-25"),
        ({"squeeze": "sings"}, BadText, "crumbles, holds or runs"),
        ({"finished_l": float("nan")}, BadQuantity, "volume is not a number"),
        ({"loading": (PartToLoad(name="bark", volume_l=1, buckets=-1),)}, BadQuantity, "buckets is -1"),
        (
            {"loading": (PartToLoad(name="bark", volume_l=1, remainder_l=13),)},
            BadQuantity,
            "from 0 to the bucket",
        ),
        ({"loading": (AmendmentToWeigh(name="lime", mass_g=-1),)}, BadQuantity, "mass is -1 g"),
        ({"section_svg": "<svg/>"}, BadText, "has no width"),
    ],
)
def test_an_impossible_sheet_is_refused(change, error, said):
    with pytest.raises(error, match=said):
        batch_sheet_pdf(replace(SHEET, **change))


def test_an_unknown_paper_is_refused():
    with pytest.raises(BadText, match="Choose a4 or letter"):
        batch_sheet_pdf(SHEET, "foolscap")
