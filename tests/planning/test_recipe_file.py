"""Recipe files: mixes that contain each other."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import FriableError
from friable.planning.notation import MAX_TEXT, read_recipe_file

NESTED = """
[mix."potting-on mix"]
parts = [["Base  a", 3], ["grit base", "1"]]
shrinkage = 0.06
top_dressing = "5 mm grit"
not_for = "heaths"
use_within_days = 14
[mix."base A"]
parts = [["coir pith", 6, "loose soaked"], ["wood fibre", 3], ["perlite", 1.5]]
shrinkage = "8 %"
amendments = [["lime", "2 to 3 kg/m3", "Keep the dust down."], ["feed", "3 g/L"]]
cautions = ["Wear gloves."]
[mix."grit base"]
parts = [["sand", 1], ["grit", 1]]
incomplete = true
"""


def test_a_file_is_read_as_written():
    book = read_recipe_file(NESTED)
    base, grit = book.recipes["base A"], book.recipes["grit base"]

    assert book.made == "potting-on mix"
    assert book.recipes["potting-on mix"].components[0].name == "base A"  # spelled as where it is defined
    assert book.recipes["potting-on mix"].top_dressing == "5 mm grit"
    assert (book.recipes["potting-on mix"].not_for, book.recipes["potting-on mix"].use_within_days) == (
        "heaths",
        14,
    )
    assert base.shrinkage == 0.08
    assert base.components[0].state == "loose soaked"
    assert base.components[2].parts == Fraction(3, 2)
    lime, feed = base.amendments
    assert (lime.rate_g_per_l, lime.low_g_per_l, lime.high_g_per_l) == (2, 2, 3)
    assert lime.caution == "Keep the dust down."
    assert (feed.rate_g_per_l, feed.low_g_per_l) == (3, None)
    assert base.cautions == ("Wear gloves.",)
    assert grit.shrinkage is None
    assert grit.incomplete


def one(line):
    return f"[mix.a]\n{line}"


REFUSED = [
    ("", 'The recipe file holds no mix; write [mix.NAME] and below it parts = [["coir pith", 6]].'),
    (
        "x = = 1",
        "The recipe file cannot be read as TOML: Invalid value (at line 1, column 5).",
    ),
    (
        "[soil]\na = 1",
        "The recipe file has “soil” at its top; only tables called [mix.NAME] belong there.",
    ),
    ("[mix]\na = 1", "The mix “a” is not a table; write [mix.NAME] and below it parts = [...]."),
    (one("parts = [['a', 1]]"), "These mixes contain each other in a ring: a → a; take one of them out."),
    (
        "[mix.t]\nparts = [['b', 1]]\n[mix.b]\nparts = [['c', 1]]\n[mix.c]\nparts = [['b', 1]]",
        "These mixes contain each other in a ring: b → c → b; take one of them out.",
    ),
    (
        "[mix.a]\nparts = [['x', 1]]\n[mix.b]\nparts = [['y', 1]]",
        "2 mixes are part of no other (a, b), so it is not clear which is made; "
        "keep one, or make the others part of it.",
    ),
    (
        '[mix."A"]\nparts = [["x", 1]]\n[mix."a"]\nparts = [["y", 1]]',
        "Two mixes are called “a”; give each its own name.",
    ),
    (one("parts = []"), 'The mix “a” has no parts; write parts = [["coir pith", 6], ["perlite", 1]].'),
    (
        one("parts = [['x']]"),
        'The mix “a” has a component that is not written as ["name", parts] or ["name", parts, "state"].',
    ),
    (one("parts = [['x', nan]]"), "The mix “a” has a number for x that is not finite or beyond all measure."),
    (
        one("parts = [['x', 1e400]]"),
        "The mix “a” has a number for x that is not finite or beyond all measure.",
    ),
    (
        one(f"parts = [['x', {'9' * 5000}]]"),
        "The recipe file cannot be read as TOML: a number or a list in it is beyond all measure.",
    ),
    (
        one("parts = " + "[" * 5000),
        "The recipe file cannot be read as TOML: a number or a list in it is beyond all measure.",
    ),
    (one("parts = [['x', -1]]"), "x has -1 parts; give more than 0, or leave it out."),
    (one("parts = [['x', true]]"), "The mix “a” has no plain number for x."),
    (
        one("parts = [['x', '1 L']]"),
        "parts of x “1 L” is not a plain number of parts. Give one such as 5 or 1/2.",
    ),
    (
        one("parts = [['x', 1, 'squashed']]"),
        "x is measured “squashed”; it must be one of: loose moist, loose dry, loose soaked, "
        "tapped moist, tapped dry, tapped soaked.",
    ),
    (
        one("parts = [['x', 1]]\nshrinkge = 0.1"),
        "The mix “a” has “shrinkge”, which is not known; known are: parts, shrinkage, amendments, cautions, "
        "top_dressing, not_for, use_within_days, incomplete.",
    ),
    (
        one("parts = [['x', 1]]\nuse_within_days = 1.5"),
        "The mix “a” has “use_within_days” that is not a whole number.",
    ),
    (
        one("parts = [['x', 1]]\nuse_within_days = 0"),
        "the time within which a is used is 0 days; it must be a whole number from 1 to 3650. "
        "Leave it empty where the mix keeps.",
    ),
    (
        one("parts = [['x', 1]]\nshrinkage = 8"),
        'The mix “a” has a shrinkage outside 0 to 1; write 8 % as 0.08 or "8 %".',
    ),
    (
        one("parts = [['x', 1]]\namendments = [['lime', '3 to 2 g/L']]"),
        "The rate of lime runs from 3 to 2 g/L; write the lower one first.",
    ),
    (
        one("parts = [['x', 1]]\namendments = [['lime']]"),
        'The mix “a” has an amendment that is not written as ["name", "3 kg/m3"] '
        'or ["name", "3 kg/m3", "caution"].',
    ),
    (one("parts = [['x', 1]]\ncautions = 'no'"), "The mix “a” has “cautions” that is not a list."),
    (one("parts = [['x', 1]]\ncautions = [1]"), "The mix “a” has “cautions” that is not text."),
    (
        one("parts = [['x', 1]]\nincomplete = 'yes'"),
        "The mix “a” has an “incomplete” that is neither true nor false.",
    ),
    ("#" * (MAX_TEXT + 1), "The recipe file has 100,001 characters; the most is 100,000."),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED, ids=range(len(REFUSED)))
def test_a_file_that_cannot_be_made_gets_one_sentence(text, sentence):
    with pytest.raises(FriableError) as refused:
        read_recipe_file(text)

    assert str(refused.value) == sentence


def test_a_long_chain_of_mixes_is_read_without_running_out_of_room():
    chain = "".join(f"[mix.m{i}]\nparts = [['m{i + 1}', 1], ['sand', 1]]\n" for i in range(400))

    assert read_recipe_file(chain).made == "m0"


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_with_one_line(text):
    with pytest.raises(FriableError) as refused:
        read_recipe_file(text)  # the odds that it is a recipe are nil

    assert "\n" not in str(refused.value)
