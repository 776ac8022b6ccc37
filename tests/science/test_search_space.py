"""The space of recipes: counted by combinatorics and by a plain loop."""

from itertools import combinations, product
from math import comb, gcd

import pytest

from friable.science.search.space import choice, compositions


@pytest.mark.parametrize(("parts", "kinds"), [(4, 1), (6, 2), (7, 3), (10, 4), (10, 5), (12, 5)])
def test_exactly_so_many_parts_are_counted_by_the_binomial(parts, kinds):
    ways = compositions(parts, kinds, exactly=True)

    assert len(ways) == comb(parts - 1, kinds - 1)  # compositions of a number into positive parts
    assert (ways.sum(axis=1) == parts).all()
    assert (ways > 0).all()


@pytest.mark.parametrize(("parts", "kinds"), [(1, 1), (4, 2), (6, 3), (7, 4)])
def test_every_proportion_stands_once(parts, kinds):
    by_loop = {
        tuple(n // gcd(*way) for n in way)
        for way in product(range(1, parts + 1), repeat=kinds)
        if sum(way) <= parts
    }

    assert sorted(map(tuple, compositions(parts, kinds).tolist())) == sorted(by_loop)


@pytest.mark.parametrize(("among", "chosen"), [(5, 3), (7, 1), (6, 6), (9, 4)])
def test_a_choice_is_found_by_its_number(among, chosen):
    every = [list(places) for places in combinations(range(among), chosen)]

    assert [choice(number, among, chosen) for number in range(len(every))] == every


def test_the_published_count_of_a_search():
    # Four of 24 materials in tenths, all present: C(24, 4) C(9, 3), worked by hand.
    assert comb(24, 4) * len(compositions(10, 4, exactly=True)) == 892_584
    assert comb(60, 4) * len(compositions(10, 4, exactly=True)) == 40_961_340
    assert comb(60, 5) * len(compositions(10, 5, exactly=True)) == 688_150_512
