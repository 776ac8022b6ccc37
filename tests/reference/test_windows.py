"""A window cannot be built wrong, and says what lies within."""

from datetime import date

import pytest

from friable.errors import BadQuantity, BadText
from friable.reference.windows import FLAGS, NUMBERS, SHARES, WORDS_OF, Window, label, unit, worst


def window(**said):
    return Window(**{"quantity": "air_space", "how_known": "memory", "source": "memory"} | said)


def test_both_ends_belong_to_the_window():
    air = window(low=0.10, high=0.25)
    assert [air.holds(figure) for figure in (0.0999, 0.10, 0.25, 0.2501)] == [False, True, True, False]


def test_an_open_end_bears_everything():
    assert window(low=0.2).holds(1.0)
    assert window(high=0.2).holds(0.0)
    assert not window(low=0.2).holds(float("nan"))


def test_a_flag_allows_words():
    lime = window(quantity="lime", allowed=("no", "sometimes"))
    assert lime.is_flag
    assert lime.holds("sometimes")
    assert not lime.holds("unknown")


def test_a_window_set_by_a_keeper_keeps_its_day():
    assert window(low=0.2, how_known="keeper", source="keeper", set_on=date(2026, 3, 1)).set_on.year == 2026


@pytest.mark.parametrize(
    ("said", "problem"),
    [
        (
            {"quantity": "charm", "low": 1},
            r"“charm” is none that a window is set for\. Use one of",
        ),
        ({}, r"the window “air_space” has no end\. Give it a low end"),
        ({"low": 0.2, "allowed": ("no",)}, "has no end"),
        ({"quantity": "lime"}, "the window “lime” takes words that are allowed, not a range"),
        ({"quantity": "lime", "low": 0, "allowed": ("no",)}, "takes words that are allowed"),
        (
            {"quantity": "hygiene", "allowed": ("no",)},
            r"“no” is not a word of this flag\. Use some of: clean",
        ),
    ],
)
def test_a_window_that_says_nothing_is_refused(said, problem):
    with pytest.raises(BadText, match=problem):
        window(**said)


@pytest.mark.parametrize("end", [-0.01, 1.01, float("nan"), float("inf")])
def test_a_share_out_of_range_is_refused(end):
    for ends in ({"low": end}, {"high": end}):
        with pytest.raises(BadQuantity, match=r"an end of the window of air is .*; it must be from 0 to 1"):
            window(**ends)


def test_ends_out_of_order_are_refused():
    with pytest.raises(BadQuantity, match=r"the low end of the window of air is 0\.3; .* the high end, 0\.2"):
        window(low=0.3, high=0.2)
    with pytest.raises(BadQuantity, match="the window of wet weight is -1 kg/L; it must be 0 or more"):
        window(quantity="wet_density_kg_l", high=-1)
    with pytest.raises(ValueError, match="how_known is 'hearsay'"):
        window(low=0.3, how_known="hearsay")


def test_every_quantity_has_a_name_and_only_densities_money_and_years_a_unit():
    for quantity in (*NUMBERS, *FLAGS):
        assert label(quantity)
        assert bool(unit(quantity)) == (quantity in set(NUMBERS) - set(SHARES))


def test_the_worst_word_decides():
    assert worst("lime", ("no", "sometimes", "unknown")) == "unknown"
    assert worst("lime", ("yes", "unknown", "no")) == "yes"
    assert worst("hygiene", ("clean", "usually clean", "clean")) == "usually clean"
    assert worst("hygiene", ("treat first", "unknown")) == "treat first"
    for words in WORDS_OF.values():
        assert "unknown" in words
