"""Containers written in one line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import containers, refusal

from friable.errors import BadText, FriableError
from friable.planning.notation import parse_container


@pytest.mark.parametrize(
    ("text", "brim_l"),
    [
        # Frustum π h (R² + R r + r²) / 3, prismoid and box, worked by hand.
        ("round 17/12/13 cm", 2.168),
        ("ROUND 170 / 120 / 130mm", 2.168),
        ("round 6½/4.5/5 in", 1.968),
        ("tray 50x30x4 cm", 6.0),
        ("tray 50 × 30 × 4 cm", 6.0),
        ("square 9/7/9 cm", 0.579),
        ("cell 4x4/2x2/5 cm", 0.0467),
        ("cell 35/20/45 mm", 0.0349),
        ("basket 30/20/15 cm", 7.461),
        ("2 L", 2.168),  # a published pot of 17/12/13 cm
    ],
)
def test_a_container_is_read_with_its_volume(text, brim_l):
    assert parse_container(text).brim_volume_l == pytest.approx(brim_l, rel=2e-3)  # printed to 3 digits


def test_our_own_container_wins_over_a_published_one():
    ours = parse_container("round 16/11/12 cm")

    assert parse_container("2 l", {"2 L": ours}) == ours


REFUSED = [
    ("", "container “” is empty. Fill it in, or leave it out."),
    ("round", "container “round” does not give its inside sizes. "
     "Write it as round 17/12/13 cm (top, bottom, height)."),
    ("round 17/12/13", "container “round 17/12/13” has no unit. Write it as round 17/12/13 cm."),
    ("round 17/12 cm", "container “round 17/12 cm” does not give three inside sizes. "
     "Write it as “round TOP/BOTTOM/HEIGHT cm”."),
    ("tray 50x30 cm", "container “tray 50x30 cm” does not give three inside sizes. "
     "Write it as “tray LENGTHxWIDTHxHEIGHT cm”."),
    ("round 0/0/13 cm", "top diameter is 0 cm; it must be from 0.1 to 1000 cm inside."),
    ("round 99999/12/13 cm", "container “round 99999/12/13 cm” is too large. No side may exceed 1,000 cm."),
    ("round 17/12/13 furlong", "container “round 17/12/13 furlong” has sizes or a unit that cannot be read. "
     "Write it as round 17/12/13 cm."),
    ("round 17/12/13\tcm", "container “round 17/12/13 cm” holds a tab or a line break, "
     "as a pasted table does. Paste one cell at a time."),
    ("round -17/12/13 cm", "container “round -17/12/13 cm” does not give its inside sizes. "
     "Write it as round 17/12/13 cm (top, bottom, height)."),
    ("606 cell", "container “606 cell” is known by its volume only. "
     "Measure one inside and give its sizes, such as round 17/12/13 cm."),
    ("12", "“12” can mean more than one container; say which: 12 in, twelve (English cast)."),
    ("trade gallon, size of", "No container is called “trade gallon, size of”. Nearest: #1."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sentence"), REFUSED)
def test_what_is_no_container_gets_one_sentence(text, sentence):
    with pytest.raises(FriableError) as refused:
        parse_container(text)

    assert str(refused.value) == sentence


@given(containers())
def test_a_container_described_can_be_typed_back(pot):
    assert parse_container(pot.describe()) == pot.with_headspace(0)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_with_one_line(text):
    assert "\n" not in refusal(parse_container, text)


def test_a_tray_is_not_read_as_a_square_that_narrows():
    with pytest.raises(BadText) as refusal:
        parse_container("tray 50/30/4 cm")

    assert str(refusal.value) == (
        "container “tray 50/30/4 cm” does not give three inside sizes. "
        "Write it as “tray LENGTHxWIDTHxHEIGHT cm”."
    )


def test_a_tray_with_sloping_walls_is_told_as_it_is_typed():
    assert parse_container("tray 30x30/28x28/6 cm").describe() == "tray 30x30/28x28/6 cm"
