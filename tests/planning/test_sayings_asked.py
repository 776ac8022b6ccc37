"""Every saying answers, and what cannot be asked is refused in a sentence."""

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from friable.errors import AmbiguousName, BadQuantity, BadText, Refused, UnknownName
from friable.planning.sayings.asking import Typed, read_case, usual_case
from friable.planning.sayings.registry import answer, computations
from friable.planning.sayings.values import VERDICTS, SayingCase
from friable.planning.sayings.words import figure_words, table_of, topic_words, verdict_words
from friable.reference.sayings import all_sayings, find_saying

CHECKOUT = Path(__file__).resolve().parents[2]
COMPUTED = [saying for saying in all_sayings() if saying.is_computed]


def numbers_in(answered):
    if isinstance(answered, dict):
        return [x for value in answered.values() for x in numbers_in(value)]
    if isinstance(answered, list):
        return [x for value in answered for x in numbers_in(value)]
    return [answered] if isinstance(answered, float) else []


def test_what_is_computed_is_what_the_table_says_is_computed():
    assert set(computations()) == {saying.key for saying in COMPUTED}
    assert len(COMPUTED) == 27


@pytest.mark.parametrize("saying", COMPUTED, ids=lambda saying: saying.key)
def test_every_saying_answers_for_what_is_usual(saying):
    told = answer(saying, usual_case(saying, samples=64))
    said = told.to_json()

    assert list(said) == ["name", "claim", "verdict", "answer", "numbers", "remarks", "evidence", "asked"]
    assert said["verdict"] in VERDICTS[:3]
    assert said["answer"][0] == said["answer"][0].upper()
    assert "{" not in said["answer"] + "".join(said["remarks"])
    assert said["numbers"]
    assert said["evidence"]
    assert all(math.isfinite(x) for x in numbers_in(said))
    assert json.loads(json.dumps(said, allow_nan=False)) == said


@pytest.mark.parametrize("saying", COMPUTED, ids=lambda saying: saying.key)
def test_the_verdict_does_not_hang_on_the_ranges(saying):
    if saying.key == "peat-free-varies":  # of ranges it speaks
        return
    assert answer(saying, usual_case(saying, samples=0)).told.verdict == (
        answer(saying, usual_case(saying, samples=64)).told.verdict
    )


@pytest.mark.parametrize("saying", all_sayings(), ids=lambda saying: saying.key)
def test_every_figure_has_a_heading_and_every_topic_a_name(saying):
    told = answer(saying, usual_case(saying, samples=0)).told
    table = table_of(told.numbers)

    assert all(key in figure_words() for number in told.numbers for key in number.figures)
    assert all(len(cells) == len(table.headings) for _what, cells in table.rows)
    assert topic_words(saying.topic)
    assert verdict_words(told.verdict)


def test_what_is_not_computed_says_why():
    told = answer(find_saying("charcoal-sweetens"), SayingCase())

    assert told.told.verdict == "not computed"
    assert told.told.answer == "No figure was found."
    assert told.to_json()["evidence"][0]["source"] == "orchidmedia98905"


def test_layers_are_asked_of_the_users_own_pot():
    saying = find_saying("gravel-drains")
    case = read_case(saying, Typed(media=("coir pith", "lava coarse"), container="2 L", headspace="1.5 cm"))

    assert case.to_json() == {
        "materials": ["coir pith 0-5 mm", case.media[1].name],
        "container": "round 17/12/13 cm",
        "container_headspace_cm": 1.5,
        "drainage_layer_cm": 3.0,
    }


@pytest.mark.parametrize(
    ("key", "typed", "error", "sentence"),
    [
        ("sand-opens-bark", {"media": ("coir pith", "moondust")}, UnknownName, "is called “moondust”"),
        ("sand-opens-bark", {"media": ("coir pith", "perlite")}, AmbiguousName, "more than one material"),
        ("sand-opens-bark", {"container": "moon pot"}, UnknownName, "No container is called “moon pot”"),
        ("sand-opens-bark", {"share": "20 apples"}, BadText, "the share"),
        ("sand-opens-bark", {"share": "0 %"}, BadQuantity, "above 0 and at most 90 %"),
        ("sand-opens-bark", {"share": "95 %"}, BadQuantity, "share of the addition is 95 %"),
        ("sand-opens-bark", {"media": ("pine bark nursery",)}, Refused, "the mix; what is added; 1 given"),
        ("sand-opens-bark", {"media": ("", "sand fine")}, BadText, "is empty"),
        ("sand-opens-bark", {"layer": "3 cm"}, Refused, "has no use for a layer; leave it out"),
        ("gallon-pot", {"media": ("peat",)}, Refused, "has no use for materials"),
        ("bale-doubles", {"container": "2 L"}, Refused, "has no use for a container"),
        ("bale-doubles", {"need": "0 L"}, BadText, "must be above 0"),
        ("gravel-drains", {"share": "20 %"}, Refused, "has no use for a share"),
        ("gravel-drains", {"layer": "40 cm"}, BadQuantity, "less than the filled height"),
        ("gravel-drains", {"layer": "0 cm"}, BadQuantity, "the thickness of the layer is 0 cm"),
        (
            "gravel-drains",
            {"media": ("coir pith", "1 gravel + 1 sand fine")},
            Refused,
            "must be one material here: it stands for the layer",
        ),
        ("litre-is-a-kilo", {"media": ("gravel",) * 9}, Refused, "9 given, 1 to 8 wanted"),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_refused_in_a_sentence(key, typed, error, sentence):
    saying = find_saying(key)

    with pytest.raises(error) as refused:
        answer(saying, read_case(saying, Typed(**typed), samples=0))
    assert sentence in str(refused.value)


@pytest.mark.parametrize(
    ("key", "missing", "sentence"),
    [
        ("sand-opens-bark", "container", "needs a container; give its inside sizes"),
        ("shallow-wetter", "other", "compares two containers; give the second too"),
        ("sand-opens-bark", "share", "needs a share; give one, such as 20 %"),
        ("gravel-drains", "drainage_layer_cm", "needs the thickness of a layer"),
        ("bale-doubles", "need_l", "needs a volume"),
        ("bale-doubles", "pack_l", "the pack is 0 L; it must be above 0"),
    ],
)
def test_what_is_missing_is_asked_for(key, missing, sentence):
    saying = find_saying(key)
    case = replace(usual_case(saying, samples=0), **{missing: None})

    with pytest.raises((Refused, BadQuantity)) as refused:
        answer(saying, case)
    assert sentence in str(refused.value)


def test_the_page_of_the_sayings_gives_each_word_as_it_is_computed():
    page = (CHECKOUT / "docs" / "science" / "sayings.md").read_text()
    said = dict(re.findall(r"^\| `([\w-]+)` \| (\w+) \|", page, re.M))

    assert said == {s.key: answer(s, usual_case(s, samples=0)).told.verdict for s in COMPUTED}
    assert len(all_sayings()) - len(COMPUTED) == 13
    assert "Thirteen sayings" in page
