"""What growers say, and what is published of it."""

import pytest

from friable.errors import AmbiguousName, UnknownName
from friable.reference import sayings
from friable.reference.row import Row
from friable.reference.sayings import all_sayings, evidence_for, find_saying
from friable.reference.sources import source


def test_every_saying_has_published_evidence_or_says_that_there_is_none():
    assert len(all_sayings()) == 40
    for saying in all_sayings():
        evidence = evidence_for(saying.key)
        assert evidence, saying.key
        assert saying.is_computed == (saying.why_not == "")


def test_contested_sayings_show_both_sides():
    for key in (
        "gravel-drains",
        "gravel-lifts-wet-zone",
        "perlite-adds-air",
        "mixing-shrinks",
        "bale-doubles",
    ):
        assert {"for", "against"} <= {one.side for one in evidence_for(key)}, key


def test_evidence_names_its_source_as_it_was_read():
    # Altland and others 2018, abstract: sand raised water and density, lowered air and pores.
    against = [one for one in evidence_for("sand-opens-bark") if one.side == "against"]

    assert [one.source for one in against] == ["altland2018"]
    assert source("altland2018").seen_what == "abstract"
    assert "lowered air" in against[0].text


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("sand-opens-bark", "sand-opens-bark"),
        ("A little sand opens a bark mix", "sand-opens-bark"),
        ("crocks", "gravel-drains"),
        ("PERCHED water table", "gravel-lifts-wet-zone"),
        ("#1", "gallon-pot"),
        ("2.5 mm", "coarse-no-wet-zone"),
    ],
)
def test_a_saying_is_found_by_its_name_its_words_or_what_else_it_is_called(typed, key):
    assert find_saying(typed).key == key


def test_a_word_of_several_sayings_is_asked_back():
    with pytest.raises(AmbiguousName, match="“layer” can mean more than one saying") as refused:
        find_saying("layer")
    assert {"gravel-drains", "gravel-lifts-wet-zone"} <= set(refused.value.choices)


@pytest.mark.parametrize(
    ("typed", "near"),
    [("gravl", ("gravel-drains", "gravel-lifts-wet-zone")), ("shalow pots", ("shallow-wetter",)), ("", ())],
)
def test_an_unknown_saying_is_refused_with_the_nearest(typed, near):
    with pytest.raises(UnknownName, match="No saying is called") as refused:
        find_saying(typed)
    assert refused.value.near == near


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"computed": "perhaps"}, "computed must be yes or no"),
        ({"computed": "no"}, "why_not is for what is not computed"),
        ({"why_not": "No figure."}, "why_not is for what is not computed"),
        ({"claim": ""}, "there is no claim"),
    ],
)
def test_a_row_that_does_not_hold_together_is_refused(changes, problem):
    good = {
        "key": "k", "topic": "pots", "claim": "Pots are round.", "also_called": "", "computed": "yes",
        "why_not": "", "how_known": "memory", "source": "memory",
    }  # fmt: skip
    assert sayings._saying(Row("sayings", 2, good)).claim == "Pots are round."

    with pytest.raises(LookupError, match=f"sayings.csv line 2: {problem}"):
        sayings._saying(Row("sayings", 2, good | changes))
