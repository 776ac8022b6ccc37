"""Windows as people write them into a file, and what is refused."""

import pytest

from friable.errors import BadFile, BadQuantity, BadText
from friable.planning.windows import read_windows

GOOD = """
title = "Bench by the door"
container = "round 9/6/8.5 cm"
watered = "every  morning"

[window.air_space]
low = "20 %"
high = 0.35
note = "they rot"

[window.wet_density_kg_l]
high = "800 g/L"

[window.years]
low = "18 months"

[window.cost_per_l]
high = "12 for 60 L"

[window.lime]
allowed = ["No", "sometimes"]
"""


def test_a_file_is_read_with_its_pot_and_care():
    found = read_windows(GOOD)

    assert (found.title, found.container, found.watered) == (
        "Bench by the door", "round 9/6/8.5 cm", "every morning",
    )  # fmt: skip
    air, weight, years, cost, lime = found.windows
    assert (air.quantity, air.low, air.high, air.note) == ("air_space", 0.2, 0.35, "they rot")
    assert (weight.low, weight.high) == (None, 0.8)
    assert years.low == 1.5
    assert cost.high == 0.2
    assert lime.allowed == ("no", "sometimes")
    assert {window.how_known for window in found.windows} == {"keeper"}


def test_a_file_may_say_only_a_window():
    found = read_windows("\ufeff[window.mineral_share]\nlow = 1\n")
    assert (found.container, found.watered) == ("", "")
    assert found.title
    assert found.windows[0].low == 1


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "holds no window; write"),
        ("window = 3", "holds no window"),
        ("air 20", "cannot be read as TOML"),
        ("x = " + "[" * 5000, "cannot be read as TOML"),
        ("[window.charm]\nlow = 1", "sets “charm”, which no window is set for; known are: air_space"),
        ("[windows.air_space]\nlow = 1", "has “windows” at its top; known are: title"),
        ("[window]\nair_space = 3", "The window “air_space” is not a table"),
        ("[window.air_space]\nlow = 20", r"has an end of 20, which is no share; write 20 % as 0\.2"),
        ("[window.air_space]\nlow = true", "has an end that is neither a number nor text"),
        ("[window.air_space]\nlow = [1]", "has an end that is neither a number nor text"),
        ("[window.years]\nlow = 1" + "0" * 400, "has an end beyond all measure"),
        ("[window.air_space]\nleast = 0.2", "has “least”, which is not known; known are: low, high, note"),
        ("[window.lime]\nlow = 1", "has “low”, which is not known; known are: allowed, note"),
        ("[window.lime]\nallowed = []", "has an “allowed” that is no list of words"),
        ("[window.lime]\nallowed = [1]", "has an “allowed” that is no list of words"),
        ("title = 3\n[window.years]\nlow = 1", "has “title” that is not text"),
        ("#" * 100_001, "has 100,001 characters; the most is 100,000"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_in_one_sentence(text, problem):
    with pytest.raises(BadFile, match=problem) as refused:
        read_windows(text)
    assert str(refused.value).startswith(("The windows file", "The window “"))


@pytest.mark.parametrize(
    ("lines", "error", "problem"),
    [
        (
            "low = 0.5\nhigh = 0.2",
            BadQuantity,
            r"the low end .* is 0\.5; it must be at most the high end, 0\.2",
        ),
        ("low = nan", BadQuantity, "is not a number; it must be from 0 to 1"),
        ("low = -0.1", BadQuantity, "it must be from 0 to 1"),
        ('low = "20"', BadText, "does not say per cent of what"),
        ('low = "20 kg"', BadText, "has a unit that is no share"),
        ('low = ""', BadText, "is empty"),
        ("", BadText, "has no end"),
    ],
)
def test_ends_that_cannot_be_are_refused(lines, error, problem):
    with pytest.raises(error, match=problem):
        read_windows(f"[window.air_space]\n{lines}\n")


def test_units_and_words_of_something_else_are_refused():
    with pytest.raises(BadText, match=r"an end of the window of life “2 apples” is in a unit of another"):
        read_windows('[window.years]\nlow = "2 apples"\n')
    with pytest.raises(BadText, match="is not a word of this flag"):
        read_windows('[window.lime]\nallowed = ["maybe"]\n')
