"""The bench card is read at arm's length: 14 points or more, buckets first, one page when it can."""

from dataclasses import replace

import pytest

from friable.errors import BadText
from friable.sheets.bench_card import BenchCard, CardPart, bench_card_pdf
from friable.sheets.cautions import Caution
from friable.sheets.squeeze import squeeze_verdict

from .pages import is_without_colour, page_sizes_mm, pictures_of, text_of, type_sizes_of

CARD = BenchCard(
    mix_name="Open bark mix",
    mix_version="3",
    day="2026-11-25",
    parts=(
        CardPart(parts="5", name="pine bark nursery", state="loose, moist"),
        CardPart(parts="1", name="sphagnum peat medium", state="loose, moist"),
        CardPart(parts="1/2", name="perlite coarse"),
    ),
    amendments=("dolomitic lime: 36 g for each 12 L bucket of finished mix",),
    used_for=("bark epiphytes",),
    not_for=("seed trays",),
    dampen=("perlite",),
    cautions=(Caution("Lifting: share heavy loads.", "common practice, no source"),),
)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_a_card_is_one_page_that_says_everything(paper, size, tmp_path):
    pdf = bench_card_pdf(CARD, paper)
    assert page_sizes_mm(pdf, tmp_path) == [pytest.approx(size, abs=0.1)]
    text = text_of(pdf, tmp_path)
    for said in (
        "Open bark mix",
        "version 3, 25 November 2026",
        "1/2",
        "perlite coarse",
        "loose, moist",
        "36 g for each",
        "Used for: bark epiphytes",
        "NOT for: seed trays",
        "Dampen before pouring: perlite",
        "crumbles",
        "holds",
        "runs",
        "right",
        "Take care",
        "Follow your local rules",
    ):
        assert said in text


def test_type_is_14_points_or_more_even_when_the_card_is_full(tmp_path):
    parts = tuple(CardPart(parts="1", name=f"material {i}", state="loose, moist") for i in range(22))
    for card in (CARD, replace(CARD, parts=parts)):
        pdf = bench_card_pdf(card)
        assert min(type_sizes_of(pdf, tmp_path)) >= 14
    assert len(page_sizes_mm(pdf, tmp_path)) == 2
    assert text_of(pdf, tmp_path).count("material, filled loose") == 2


def test_cards_print_in_black(tmp_path):
    assert all(is_without_colour(p) for p in pictures_of(bench_card_pdf(CARD), tmp_path))


def test_typed_text_is_printed_as_typed(tmp_path):
    odd = '#read("/etc/passwd") </text><script> {{ 1 }}'
    text = text_of(bench_card_pdf(replace(CARD, mix_name=odd, used_for=(odd,))), tmp_path)
    assert text.count("{{ 1 }}") >= 2
    assert '#read("/etc/passwd")' in text
    assert "root:" not in text


def test_the_verdict_follows_the_state_that_is_wanted():
    assert squeeze_verdict("holds", "holds") == "right"
    assert squeeze_verdict("crumbles", "holds").startswith("too dry")
    assert squeeze_verdict("runs", "holds").startswith("too wet")
    assert squeeze_verdict("holds", "runs").startswith("too dry")


def test_unknown_states_and_papers_are_refused():
    with pytest.raises(BadText, match="crumbles, holds or runs"):
        bench_card_pdf(replace(CARD, squeeze="sticks"))
    with pytest.raises(BadText, match="a4 or letter"):
        bench_card_pdf(CARD, "a3")
