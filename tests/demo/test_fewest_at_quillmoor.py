"""The fewest mixes at Quillmoor, proved again by looking at every recipe and every set of a reduced one."""

from itertools import combinations
from math import gcd

import pytest

from friable.demo.quillmoor import load
from friable.planning.collection_values import Mix
from friable.planning.fewest import fewest
from friable.planning.fewest_judged import judge_by_chances
from friable.planning.fewest_values import FewestCase
from friable.records.queries.at_hand import at_hand
from friable.web.fewest.collections import demo_collection, stands_of

pytestmark = pytest.mark.django_db

PARTS, KINDS, LEAST = 4, 2, 0.5
KEYS = ("BKP_M", "BKE_M", "CCL_M", "COIR_P", "PEAT_M", "PERL_C")
LINES = (
    "epiphyte,grown,1 L", "epiphyte,seedlings", "general,cuttings", "general,liners", "shrubs,grown,2 L",
    "foliage,grown", "fern,grown", "heath,grown", "palms,grown",
)  # fmt: skip


@pytest.fixture
def reduced(db):
    load()
    header, *lines = demo_collection().splitlines()
    chosen = [line for line in lines if line.startswith(LINES)]
    assert len(chosen) == len(LINES)
    return FewestCase(
        stands=stands_of("\n".join([header, *chosen]) + "\n"),
        at_hand=tuple(one for one in at_hand() if one.material.key in KEYS),
        parts=PARTS,
        kinds=KINDS,
        least_chance=LEAST,
    )


def every_recipe(materials):
    """Every recipe of whole parts, in its smallest numbers: a plain loop."""
    for one in materials:
        yield ((one, 1.0),)
    for a, b in combinations(materials, 2):
        for p in range(1, PARTS):
            for q in range(1, PARTS + 1 - p):
                if gcd(p, q) == 1:
                    yield ((a, float(p)), (b, float(q)))


def test_no_smaller_set_of_all_recipes_there_are_keeps_the_reduced_collection(reduced):
    judge = judge_by_chances(reduced.at_hand)
    recipes = [
        Mix(str(n), parts) for n, parts in enumerate(every_recipe([a.material for a in reduced.at_hand]))
    ]
    assert len(recipes) == 6 + 15 * 5
    present = {line.mix.title: line.mix for line in reduced.stands.lines}
    stands = reduced.stands.stands
    masks = {}
    for mix in (*recipes, *present.values()):
        fits = [judge(mix, stand) for stand in stands]
        masks[mix.title] = sum(1 << n for n, fit in enumerate(fits) if fit.keeps and fit.chance >= LEAST)
    able = [n for n in range(len(stands)) if any(mask >> n & 1 for mask in masks.values())]
    must = {line.mix.title for line in reduced.stands.lines if line.stand not in able}
    stay = _together(masks[title] for title in must)
    wanted = sum(1 << n for n in able)
    more = next(
        size
        for size in range(len(masks))
        if any(
            (_together(chosen) | stay) & wanted == wanted
            for chosen in combinations(set(masks.values()), size)
        )
    )

    answer = fewest(reduced)

    assert answer.proof.proved
    assert {one.stand.title for one in answer.served} == {stands[n].title for n in able}
    assert len(answer.cannot) == len(stands) - len(able)
    assert len(answer.kept) == answer.proof.bound == len(must) + more
    assert len(able) >= 6
    assert more >= 2


def test_every_chance_that_is_told_is_that_of_the_plain_forecast(reduced):
    judge = judge_by_chances(reduced.at_hand)

    answer = fewest(reduced)

    assert answer.served
    by_name = {mix.name: mix.candidate.mix for mix in answer.kept}
    for one in answer.served:
        fit = judge(by_name[one.mix], one.stand)
        assert fit.keeps
        assert one.chance == fit.chance >= LEAST
        assert dict(one.figures) == dict(fit.figures)


def test_no_group_at_quillmoor_is_given_a_mix_whose_card_warns_it_off_or_that_was_limed(reduced):
    answer = fewest(reduced)

    heaths = [one for one in (*answer.served, *answer.cannot) if one.stand.group.group == "heath"]
    assert heaths
    for one in answer.served:
        if one.stand.group.group == "heath":
            assert one.mix != "Quillmoor potting-on, version 2"
            assert one.figures["lime"] == "no"


def _together(chosen):
    held = 0
    for mask in chosen:
        held |= mask
    return held
