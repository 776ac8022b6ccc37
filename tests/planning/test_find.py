"""A search against a plain loop over the model that every page uses: same set, same order, same figures."""

from itertools import combinations, product
from math import gcd

import numpy as np
import pytest

from friable.errors import FriableError
from friable.planning.at_hand import AtHand
from friable.planning.chances import chance_within, figures_of
from friable.planning.find import find
from friable.planning.find_values import Cancelled, FindCase
from friable.planning.limits import Limits
from friable.planning.notation import parse_container
from friable.planning.windows import mix_flags
from friable.reference.material_flags import material_flags
from friable.reference.materials import all_materials, find_material
from friable.reference.windows import Window

DRAWS = 64
POTS = ("round 17/12/13 cm", "round 9/6/8.5 cm", "tray 50x30x5 cm", "square 11/8/12 cm")
NEAR = 2e-5  # of the sweep's single precision: a recipe so near an end may be counted either way


def window(quantity, low=None, high=None, allowed=()):
    return Window(quantity=quantity, low=low, high=high, allowed=allowed, how_known="memory", source="memory")


def at_hand(*materials, stock_l=None, cost_per_l=None):
    return tuple(
        AtHand(material=m, flags=material_flags(m), stock_l=stock_l, cost_per_l=cost_per_l) for m in materials
    )


def every_recipe(items, parts, kinds):
    """All whole-part recipes, each proportion once, by a plain loop."""
    for k in range(1, kinds + 1):
        for chosen in combinations(items, k):
            for way in product(range(1, parts + 1), repeat=k):
                if sum(way) <= parts and gcd(*way) == 1:
                    yield tuple((item.material, n) for item, n in zip(chosen, way, strict=True))


def name(recipe):
    ordered = sorted(recipe, key=lambda part: (-part[1], part[0].title))
    return " + ".join(f"{n} {material.title}" for material, n in ordered)


def depth(figures, windows):
    """The least depth within the ends of the windows of the pot."""
    depths = []
    for asked in windows:
        if asked.quantity in figures:
            value = figures[asked.quantity]
            depths += [value - asked.low] if asked.low is not None else []
            depths += [asked.high - value] if asked.high is not None else []
    return min(depths)


def by_loop(case, items):
    """(recipe, figures, depth, chance) of every recipe within, in the order of an answer."""
    within, edge = [], 0
    for recipe in every_recipe(items, case.parts, case.kinds):
        parts = [(m, float(n)) for m, n in recipe]
        figures = figures_of(parts, case.container)
        deep = depth(figures, case.windows)
        edge += abs(deep) < NEAR
        if deep >= 0:
            chance = chance_within(parts, case.windows, case.container, draws=DRAWS)
            within.append((recipe, figures, deep, chance))
    within.sort(key=lambda w: (-w[3], len(w[0]), sum(n for _m, n in w[0]), name(w[0])))
    return within, edge


def random_case(rng):
    materials = [all_materials()[i] for i in rng.choice(60, rng.integers(2, 5), replace=False)]
    items = at_hand(*materials)
    pot = parse_container(POTS[rng.integers(len(POTS))])
    middle = figures_of([(materials[0], 2.0), (materials[-1], 1.0)], pot)
    asked = []
    for quantity in rng.permutation(
        ["air_space", "container_capacity", "available_water", "easily_available_water", "wet_density_kg_l"]
    )[: rng.integers(1, 4)]:
        low, high = middle[quantity] - rng.uniform(0.01, 0.12), middle[quantity] + rng.uniform(0.01, 0.12)
        kind = rng.integers(3)
        asked.append(
            window(
                str(quantity),
                None if kind == 1 else max(0.0, low),
                None if kind == 2 else (high if quantity == "wet_density_kg_l" else min(1.0, high)),
            )
        )
    return FindCase(
        windows=tuple(asked), container=pot, at_hand=items, parts=int(rng.integers(3, 6)), kinds=3
    ), items


@pytest.mark.parametrize("seed", range(40))
def test_a_search_finds_what_a_plain_loop_finds(seed):
    case, items = random_case(np.random.default_rng(seed))
    expected, edge = by_loop(case, items)

    answer = find(case, best=10**6, draws=DRAWS)

    assert answer.considered == len(list(every_recipe(items, case.parts, case.kinds)))
    assert edge or [found.text for found in answer.best] == [name(recipe) for recipe, *_ in expected]
    by_name = {name(recipe): (figures, deep, chance) for recipe, figures, deep, chance in expected}
    for found in answer.best:
        figures, deep, chance = by_name[found.text]
        assert found.chance == pytest.approx(chance, abs=1e-9)
        assert found.margin * 0.05 == pytest.approx(deep, abs=1e-9)
        for quantity, estimate in found.figures.figures().items():
            assert estimate.value == pytest.approx(figures[quantity], abs=1e-9)


@pytest.mark.parametrize("seed", range(100, 104))
def test_nothing_on_the_front_is_beaten_and_nothing_off_it_is_not(seed):
    case, items = random_case(np.random.default_rng(seed))
    expected, edge = by_loop(case, items)
    aims, stands_for = {}, {}
    for recipe, f, _deep, chance in expected:
        wet = f["dry_bulk_density_g_cm3"] + f["container_capacity"]
        # Whole hundredths: a draw in a hundred, 10 g a litre; of equals the first in order.
        aim = (-round(chance / 0.01), round(wet / 0.01), len(recipe))
        aims[stands_for.setdefault(aim, name(recipe))] = aim
    unbeaten = {
        one
        for one, a in aims.items()
        if not any(all(x <= y for x, y in zip(b, a, strict=True)) and b != a for b in aims.values())
    }

    answer = find(case, best=1, draws=DRAWS)

    assert edge or {found.text for found in answer.front} == unbeaten


BARK = find_material("pine bark nursery")
PEAT = find_material("sphagnum peat medium")
PERLITE = find_material("perlite coarse")
SAND = find_material("horticultural sand fine")
LIME = find_material("limestone grit")
AIRY = (window("air_space", 0.2, 0.35),)


def asked(*materials, windows=AIRY, limits=None, **changes):
    return FindCase(
        windows=windows,
        container=parse_container(POTS[0]),
        at_hand=at_hand(*materials, **changes),
        parts=6,
        kinds=3,
        limits=limits or Limits(),
    )


def test_peat_can_be_left_out():
    found = find(asked(BARK, PEAT, PERLITE, SAND, limits=Limits(most_peat_share=0.0)), draws=0)

    assert found.best
    assert not any(m.key == PEAT.key for one in found.best for m, _n in one.parts)
    assert any(PEAT.title in said for said in found.warnings)


def test_a_share_of_peat_is_kept_to():
    found = find(asked(BARK, PEAT, PERLITE, windows=(*AIRY, window("peat_share", 0.2, 0.4))), draws=0)

    assert found.best
    for one in found.best:
        share = mix_flags([(m, float(n)) for m, n in one.parts])["peat_share"]
        assert 0.2 - 1e-9 <= share <= 0.4 + 1e-9


def test_stock_reaches_for_every_recipe():
    case = asked(BARK, PEAT, PERLITE, limits=Limits(litres=100, within_stock=True), stock_l=60.0)

    found = find(case, draws=0)

    assert found.best
    for one in found.best:
        finished = 1 - one.figures.shrinkage.value
        assert all(n / one.total_parts / finished * 100 <= 60 + 1e-6 for _m, n in one.parts)
        assert one.kinds > 1


def test_price_is_that_of_a_litre_of_finished_mix():
    priced = tuple(
        AtHand(material=m, flags=material_flags(m), cost_per_l=price)
        for m, price in ((BARK, 0.08), (PEAT, 0.2), (PERLITE, 0.3), (SAND, 0.05))
    )
    dear = FindCase(windows=AIRY, container=parse_container(POTS[0]), at_hand=priced, parts=6, kinds=3)
    cheap = FindCase(
        windows=AIRY,
        container=parse_container(POTS[0]),
        at_hand=priced,
        parts=6,
        kinds=3,
        limits=Limits(most_cost_per_l=0.12),
    )

    before, found = find(dear, draws=0), find(cheap, draws=0)

    assert 0 < found.feasible < before.feasible
    prices = {item.material.key: item.cost_per_l for item in priced}
    for one in found.best:
        poured = sum(n * prices[m.key] for m, n in one.parts) / one.total_parts
        assert one.cost_per_l == pytest.approx(poured / (1 - one.figures.shrinkage.value), abs=1e-9)
        assert one.cost_per_l <= 0.12 + 1e-9


def test_whole_buckets_go_into_one_drum():
    found = find(asked(BARK, PEAT, PERLITE, limits=Limits(bucket_l=12, drum_l=50)), draws=0)

    assert max(one.total_parts for one in found.best) == 4


def test_must_and_never_are_kept():
    limits = Limits(must=(PEAT.key,), never_with=((PEAT.key, SAND.key),))

    found = find(asked(BARK, PEAT, PERLITE, SAND, limits=limits), draws=0, best=1000)

    keys = [{m.key for m, _n in one.parts} for one in found.best]
    assert keys
    assert all(PEAT.key in key and SAND.key not in key for key in keys)


def test_lime_keeps_a_material_out():
    found = find(asked(BARK, PERLITE, LIME, windows=(*AIRY, window("lime", allowed=("no",)))), draws=0)

    assert not any(m.key == LIME.key for one in found.best for m, _n in one.parts)


def test_an_impossible_window_names_what_would_open_it():
    found = find(asked(BARK, PEAT, windows=(window("air_space", 0.5), window("container_capacity", 0.4))))

    assert (found.best, found.feasible) == ((), 0)
    assert found.nearest
    assert {opening.quantity for opening in found.openings} <= {"air_space", "container_capacity"}
    opening = found.openings[0]
    relaxed = [
        w if w.quantity != opening.quantity else window(w.quantity, opening.needed - 1e-6)
        for w in (window("air_space", 0.5), window("container_capacity", 0.4))
    ]
    again = find(asked(BARK, PEAT, windows=tuple(relaxed)), draws=0)
    assert opening.recipe in [one.text for one in again.best]


@pytest.mark.parametrize(
    ("case", "sentence"),
    [
        (
            lambda: asked(BARK, windows=(window("lime", allowed=("no",)),)),
            "Nothing is asked of the pot itself",
        ),
        (lambda: asked(), "No material is at hand"),
        (lambda: asked(PEAT, limits=Limits(most_peat_share=0.0)), "No material is left to make a mix of."),
        (
            lambda: asked(BARK, limits=Limits(must=(PEAT.key,))),
            "peat medium 0-10 mm must be in the mix, but it is not at hand",
        ),
        (lambda: asked(BARK, limits=Limits(within_stock=True, litres=20)), "none is counted in stock"),
        (lambda: asked(BARK, limits=Limits(within_stock=True)), "finished mix wanted"),
        (lambda: asked(BARK, limits=Limits(bucket_l=12)), "drum"),
        (
            lambda: asked(
                BARK, PEAT, limits=Limits(must=(BARK.key, PEAT.key), never_with=((PEAT.key, BARK.key),))
            ),
            "must both be in the mix, yet never together",
        ),
        (lambda: asked(BARK, limits=Limits(lime=("maybe",))), "is no word for it"),
        (lambda: asked(BARK, limits=Limits(most_cost_per_l=1.0)), "no price is known"),
    ],
)
def test_an_impossible_wish_gets_one_sentence(case, sentence):
    with pytest.raises(FriableError, match=sentence.replace("(", "\\(")):
        find(case(), draws=0)


def test_limits_that_rule_out_everything_are_named():
    found = find(asked(BARK, PEAT, PERLITE, limits=Limits(least_years=1000)), draws=0)

    assert (found.best, found.considered) == ((), found.pruned)
    assert "years that the mix lasts" in found.warnings[-1]


def test_a_search_called_off_says_that_nothing_changed():
    with pytest.raises(Cancelled, match="nothing was changed"):
        find(asked(BARK, PEAT), cancelled=lambda: True)
