"""Amounts as someone with a can measures them: near enough, and never more than a hand can judge."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.sheets.can import can_in_words, litres_in_words

SHARES = {"three quarters": 3 / 4, "two thirds": 2 / 3, "half": 1 / 2, "a third": 1 / 3, "a quarter": 1 / 4}


@pytest.mark.parametrize(
    ("litres", "can", "said"),
    [
        (2.5, 5, "half a 5 L can each"),
        (5.0, 5, "one 5 L can each"),
        (7.5, 5, "one 5 L can and a half each"),
        (10.1, 5, "2 times a 5 L can each"),
        (3.8, 5, "three quarters of a 5 L can each"),
        (0.2, 5, "one 5 L can for 25 pots"),
        (0.83, 5, "one 5 L can for 6 pots"),
        (0.5, 1.5, "a third of a 1.5 L can each"),
        (2.2, 9, "a quarter of a 9 L can each"),
    ],
)
def test_amounts_by_the_can(litres, can, said):
    """Worked by hand."""
    assert can_in_words(litres, can) == said


def read_back(words, can):
    if found := re.fullmatch(r"one .* can for (\d+) pots", words):
        return can / int(found[1])
    for name, share in SHARES.items():
        if words.startswith(name):
            return share * can
    found = re.fullmatch(
        r"(?:one|(\d+) times a) .*? can( and a quarter| and a half| and three quarters)? each", words
    )
    part = {None: 0, " and a quarter": 0.25, " and a half": 0.5, " and three quarters": 0.75}[found[2]]
    return (int(found[1] or 1) + part) * can


@given(st.floats(0.05, 60), st.sampled_from([0.5, 1.5, 5, 9, 10, 12]))
def test_what_is_said_is_within_a_fifth_of_what_is_meant(litres, can):
    if litres * 200 < can:  # beyond 200 pots a can the amount is a drop
        return
    assert read_back(can_in_words(litres, can), can) == pytest.approx(litres, rel=0.2)


@pytest.mark.parametrize(
    ("litres", "said"), [(0.183, "0.18 L"), (1.0, "1 L"), (1.46, "1.5 L"), (12.4, "12 L"), (0.004, "0.004 L")]
)
def test_litres_to_two_figures(litres, said):
    assert litres_in_words(litres) == said


def test_no_water_and_no_can_are_refused():
    for bad in (0, -1, float("nan"), float("inf")):
        with pytest.raises(BadQuantity, match="water for a pot"):
            can_in_words(bad, 5)
        with pytest.raises(BadQuantity, match="water for a pot"):
            litres_in_words(bad)
    for can in (0, 0.1, 100, float("nan")):
        with pytest.raises(BadQuantity, match="the can"):
            can_in_words(1, can)
