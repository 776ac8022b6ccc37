"""Recipes written in one line."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import names, parts, refusal

from friable.errors import FriableError
from friable.planning.notation import MAX_TEXT, parse_recipe


def read(text):
    return [(component.name, component.parts) for component in parse_recipe(text).components]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5 pine bark nursery + 1 peat", [("pine bark nursery", 5), ("peat", 1)]),
        ("5 pine bark, 1 peat, 1 perlite", [("pine bark", 5), ("peat", 1), ("perlite", 1)]),
        ("1,5 bark, ½ peat", [("bark", Fraction(3, 2)), ("peat", Fraction(1, 2))]),
        ("6 coir : 3 wood fibre : 1 perlite", [("coir", 6), ("wood fibre", 3), ("perlite", 1)]),
        ("1 1/2 peat\n2 bark\n", [("peat", Fraction(3, 2)), ("bark", 2)]),
        ("2 parts bark; 1 part grit", [("bark", 2), ("grit", 1)]),
        ("2 perlite 3-6 mm + 1 bark 0-12 mm", [("perlite 3-6 mm", 2), ("bark 0-12 mm", 1)]),
        ("50 % bark + 25% peat + 25 % perlite", [("bark", 50), ("peat", 25), ("perlite", 25)]),
        ("33% a + 33% b + 33% c", [("a", 33), ("b", 33), ("c", 33)]),
        ("  3   coir\tpith  ", [("coir pith", 3)]),
    ],
)
def test_a_recipe_is_read_as_written(text, expected):
    assert read(text) == expected


def test_the_state_of_measuring_may_stand_in_brackets():
    coir, bark = parse_recipe("6 coir pith (loose soaked) + 2 bark (fine)").components

    assert (coir.name, coir.state) == ("coir pith", "loose soaked")
    assert (bark.name, bark.state) == ("bark (fine)", "loose moist")


REFUSED = [
    ("", "recipe “” is empty. Fill it in, or leave it out."),
    ("bark", "recipe “bark” does not begin with a number. Write it as 5 pine bark + 1 perlite."),
    ("5", "recipe “5” has a number without a name. Write it as 5 pine bark + 1 perlite."),
    ("5 😀", "recipe “5 😀” has a number without a name. Write it as 5 pine bark + 1 perlite."),
    (
        "5 bark + perlite",
        "recipe “perlite” does not begin with a number. Write it as 5 pine bark + 1 perlite.",
    ),
    ("-1 bark", "bark has -1 parts; give more than 0, or leave it out."),
    ("0 bark", "bark has 0 parts; give more than 0, or leave it out."),
    ("1e308 bark", "bark has parts beyond all measure; give from 0.000001 to 1,000,000."),
    ("-1e308 bark", "bark has parts beyond all measure; give from 0.000001 to 1,000,000."),
    ("nan bark", "recipe “nan bark” is not a finite number. Write it as 5 pine bark + 1 perlite."),
    ("1-2 bark", "recipe “1-2 bark” is a range. Give one number, such as 5 pine bark + 1 perlite."),
    (
        "50 % bark + 1 peat",
        "Some components are in per cent and some in parts; write all of them one way.",
    ),
    ("50% bark + 20% peat", "The components add up to 70 %; they must add up to 100 %."),
    ("5 bark ++ 1 peat", "recipe “+” has two joints with nothing between them. Leave one out."),
    (
        "5:1:1 bark:peat:perlite",
        "recipe “5:1:1 bark:peat:perlite” names no material after its number. "
        "Write it as 5 pine bark + 1 perlite.",
    ),
    (
        "5 b\u202eark",
        "recipe “5 bark” holds a hidden character (right-to-left override). "
        "Type it by hand instead of pasting it.",
    ),
    (
        "5 " + "b" * 300,
        "recipe “" + "b" * 59 + "…” has a name of 300 characters. The longest name is 200.",
    ),
    ("+".join(["1 b"] * 300), "The recipe has 300 components; the most is 200."),
    (
        "a" * (MAX_TEXT + 1),
        "recipe “" + "a" * 59 + "…” is too long (100001 characters). Give at most 100000.",
    ),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED, ids=[text[:20] for text, _sentence in REFUSED])
def test_what_is_no_recipe_gets_one_sentence(text, sentence):
    with pytest.raises(FriableError) as refused:
        parse_recipe(text)

    assert str(refused.value) == sentence


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused_with_one_line(text):
    assert "\n" not in refusal(parse_recipe, text)


@given(st.lists(st.tuples(parts, names), min_size=1, max_size=6))
def test_what_is_written_comes_back(lines):
    text = " + ".join(f"{number.numerator}/{number.denominator} {name}" for number, name in lines)

    assert read(text) == [(name, number) for number, name in lines]
