"""The fast search for stand-ins finds what a plain loop over every recipe finds."""

from dataclasses import replace

import numpy as np
import pytest
from replacing_asked import EVERY, MATERIALS, POT, TRAY, case, parts, random_case

from friable.errors import Refused
from friable.planning.find_values import Cancelled
from friable.planning.limits import Limits
from friable.planning.replacing_judge import Judge
from friable.planning.replacing_search import SLACK, every_recipe, question, replace_by_loop, searched
from friable.science.search.screen import screened

INSTANCES = 60


def instances():
    rng = np.random.default_rng(20_261_125)
    return [random_case(rng) for _place in range(INSTANCES)]


@pytest.mark.slow
def test_search_and_loop_agree_on_random_small_cases():
    answered = 0
    for place, asked in enumerate(instances()):
        try:
            judge = Judge(asked)
        except Refused:  # a limit leaves nothing that may be used: then the loop cannot start either
            with pytest.raises(Refused):
                replace_by_loop(asked)
            continue
        by_loop = replace_by_loop(asked)
        swept = searched(judge, 12)
        found = swept.nearest(12)

        assert [p for p, _d in found] == [p for p, _d in by_loop[:12]], place
        assert [d.value for _p, d in found] == pytest.approx([d.value for _p, d in by_loop[:12]], abs=1e-9)
        assert len(by_loop) <= swept.feasible <= swept.considered <= len(list(every_recipe(judge)))
        for kinds, nearest in swept.by_kinds.items():
            of_kinds = [one for one in by_loop if len(one[0]) == kinds][:12]
            assert [p for p, _d in nearest] == [p for p, _d in of_kinds], (place, kinds)
        answered += bool(by_loop)
    assert answered >= 40


def test_every_recipe_of_a_search_is_found_where_all_are_asked_for():
    asked = case(parts(PEAT_M=3, PERL_C=1), "PERL_C", ["BKP_M", "PUM_S", "SAND_F", "WOODF"], parts=5, kinds=3)
    judge = Judge(asked)
    every = replace_by_loop(asked)

    swept = searched(judge, 10_000)
    found = swept.nearest(10_000)

    assert len(every) == swept.considered == swept.feasible == len(found)
    assert [p for p, _d in found] == [p for p, _d in every]


def test_the_sweep_is_off_by_far_less_than_the_slack_it_is_given():
    # Of some 580,000 recipes of thirty materials in two containers, 300 judged again by the public rule.
    judge = Judge(
        case(parts(PEAT_M=3, BKP_M=2, PERL_C=1), "PERL_C", EVERY[::2], (POT, TRAY), parts=12, kinds=3)
    )
    swept = screened(question(judge, 20_000))
    rng = np.random.default_rng(7)
    materials = [one.material for one in judge.usable]

    assert swept.considered > 500_000
    for place in rng.choice(len(swept.score), 300, replace=False):
        recipe = [(materials[m], float(swept.parts[place][m])) for m in np.flatnonzero(swept.parts[place])]
        exact = judge.judged(recipe)
        assert -float(swept.score[place]) == pytest.approx(exact.value - exact.flags, abs=SLACK / 10)


def test_ties_go_to_fewer_materials_then_fewer_parts_then_the_name():
    # The same bark under two names: 1 : 0 and 1 : 1 of them behave alike, so the shortest recipe comes first.
    bark = MATERIALS["BKP_M"]
    twin = replace(bark, key="TWIN", name="another bark", physics=replace(bark.physics, key="TWIN"))
    of = case(parts(PEAT_M=3, PERL_C=1), "PERL_C", ["BKP_M"], parts=3, kinds=2)
    of = replace(of, at_hand=(*of.at_hand, replace(of.at_hand[0], material=twin)))
    order = [p for p, _d in replace_by_loop(of)]
    alone = [p for p in order if len(p) == 1]

    assert [p[0][0].name for p in alone] == ["another bark", "pine bark"]
    assert [p for p, _d in searched(Judge(of), 99).nearest(99)] == order


def test_whole_parts_count_each_proportion_once():
    # Worked by hand: of two materials in up to 4 parts 1:1, 1:2, 2:1, 1:3, 3:1, and each alone.
    asked = case(parts(PEAT_M=3, PERL_C=1), "PERL_C", ["BKP_M", "PUM_S"], parts=4, kinds=2)

    assert len(list(every_recipe(Judge(asked)))) == 7


def test_a_stock_bounds_each_part():
    asked = case(
        parts(PEAT_M=3, PERL_C=1),
        "PERL_C",
        ["PEAT_M", "PUM_S"],
        stock_l={"PEAT_M": 100.0, "PUM_S": 10.0},
        limits=Limits(litres=80.0, within_stock=True),
        kinds=2,
    )
    for recipe, _distance in replace_by_loop(asked):
        shares = {m.key: share / sum(s for _m, s in recipe) for m, share in recipe}
        assert shares.get("PUM_S", 0) * 80 <= 10 * (1 + 1e-9)


def test_stopping_leaves_nothing():
    judge = Judge(case(parts(PEAT_M=3, PERL_C=1), "PERL_C", containers=(POT, TRAY), kinds=2))
    with pytest.raises(Cancelled):
        searched(judge, 5, cancelled=lambda: True)


def test_what_must_be_there_has_to_be_at_hand():
    sentence = "perlite coarse 2-6 mm must be in the mix, but it is not at hand or a limit leaves it out"
    with pytest.raises(Refused, match=f"^{sentence}; drop one of the two\\.$"):
        Judge(case(parts(PEAT_M=3, PERL_C=1), "PEAT_M", ["PUM_S"], limits=Limits(must=("PERL_C",))))
