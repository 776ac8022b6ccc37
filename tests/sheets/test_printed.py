"""Numbers and dates on paper."""

import pytest

from friable.errors import BadQuantity, BadText
from friable.sheets.printed import day_in_words, grams, litres, printable


def test_dates_have_the_month_by_name():
    assert day_in_words("2026-11-25") == "25 November 2026"
    assert day_in_words("2027-05-01") == "1 May 2027"
    assert day_in_words("") == ""
    with pytest.raises(BadText, match="is not a date"):
        day_in_words("2026-02-30")


@pytest.mark.parametrize(
    ("value", "text"), [(196.0, "196 L"), (39.24, "39.2 L"), (0.04, "0 L"), (1234.56, "1234.6 L")]
)
def test_litres_to_one_decimal(value, text):
    assert litres(value) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [(1416.4, "1416 g"), (100, "100 g"), (36.25, "36.2 g"), (8.4, "8.4 g"), (0.25, "0.25 g"), (0, "0 g")],
)
def test_grams_as_a_balance_shows_them(value, text):
    assert grams(value) == text


def test_impossible_amounts_are_refused():
    for bad in (-1, float("nan"), float("inf")):
        with pytest.raises(BadQuantity):
            litres(bad)
        with pytest.raises(BadQuantity):
            grams(bad)


def test_long_words_may_break_and_hidden_characters_go():
    assert printable("pine\tbark\u202e\x00 nursery") == "pine bark nursery"
    assert printable("x" * 25) == "\u200b".join(["x" * 10, "x" * 10, "x" * 5])
    assert len(printable("word " * 500)) <= 400
