"""Drying and wetting along different curves: turns, branches and loops."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.hysteresis import (
    MOST_TURNS,
    MainCurves,
    curves_of_table,
    drying_scan,
    from_dry,
    from_full,
    turned,
    water_on,
    wetting_scan,
)
from friable.science.retention import saturation

SATURATED, RESIDUAL = 0.8, 0.1


def medium(alpha=0.1, n=2.0, scale=2.0):
    return MainCurves(
        filled=lambda s: saturation(s, alpha, n), saturated=SATURATED, residual=RESIDUAL, wetting_scale=scale
    )


def water_along(curves, suctions, start=from_full):
    """Take one bit along suctions, one after the other; return its water at each."""
    branches, at, found = start(curves, 1), None, []
    for suction in suctions:
        if at is not None and suction != at:
            branches = turned(curves, branches, [at], np.array([suction < at]))
        at = suction
        found.append(float(water_on(curves, branches, np.array([at]))[0]))
    return np.array(found)


def main_curves(curves, suction):
    span = curves.saturated - curves.residual
    return (float(curves.residual + span * f(suction)) for f in (curves.drying, curves.wetting))


media = st.builds(medium, st.floats(0.01, 2), st.floats(1.2, 4), st.floats(1, 4))
suctions = st.floats(0, 500).map(lambda s: round(s, 3))
ways = st.lists(suctions, min_size=2, max_size=12)


def test_the_worked_case():
    # θs 0.8, θr 0.1, drying 0.1 /cm, wetting 0.2 /cm, n 2. Dried to 20 cm: S = 1/√5 = 0.44721, so 0.41305;
    # the main wetting curve there 1/√17 = 0.24254, so 0.26977.
    # θr' = (0.41305 - 0.8 × 0.24254)/(1 - 0.24254) = 0.28915.
    # Wetted again to 10, 5, 2, 0 cm: 0.51761 0.65038 0.76346 0.80000. Worked by hand.
    curves = medium()
    way = water_along(curves, [0, 20, 10, 5, 2, 0])

    assert way == pytest.approx([0.8, 0.41305, 0.51761, 0.65038, 0.76346, 0.8], abs=5.1e-6)
    assert list(main_curves(curves, 20)) == pytest.approx([0.41305, 0.26977], abs=5.1e-6)
    at_turn = saturation(20, 0.2, 2)
    assert float(wetting_scan(0, at_turn, way[1], 0.8)) == pytest.approx(0.28915, abs=5.1e-6)
    scan = wetting_scan(saturation([20, 10, 5, 2, 0], 0.2, 2), at_turn, way[1], 0.8)
    assert scan == pytest.approx([0.41305, 0.51761, 0.65038, 0.76346, 0.8], abs=5.1e-6)


def test_drying_from_the_main_wetting_curve_by_hand():
    # Wetted from dry to 5 cm: S_w = 1/√2, θ = 0.1 + 0.7 × 0.70711 = 0.59497. S_d(5) = 1/√1.25 = 0.89443,
    # so θs' = 0.1 + 0.49497/0.89443 = 0.65340. Dried to 20 cm: 0.1 + 0.55340 × 0.44721 = 0.34749. By hand.
    way = water_along(medium(), [1e9, 5, 20], start=from_dry)

    assert way[1:] == pytest.approx([0.59497, 0.34749], abs=5.1e-6)
    scan = drying_scan(saturation([5, 20], 0.1, 2), saturation(5, 0.1, 2), way[1], RESIDUAL)
    assert scan == pytest.approx(way[1:], abs=1e-12)


@given(media, st.floats(1, 400), st.floats(0.02, 0.95))
def test_a_loop_closes(curves, far, part):
    """Dry, wet part of the way, dry again to where it turned: the same water, and on along the main curve."""
    near = far * part
    way = water_along(curves, [0, far, near, far, 2 * far])

    assert way[3] == pytest.approx(way[1], abs=1e-12)
    assert way[4] == pytest.approx(next(main_curves(curves, 2 * far)), abs=1e-12)


@given(media, st.lists(st.floats(0.05, 0.95), min_size=1, max_size=10))
def test_loops_within_loops_close(curves, parts):
    """Turn within ever narrower bounds, then come out again: every turn is met where it was."""
    bounds = [0.0, 300.0]
    for part in parts:
        bounds.append(bounds[-2] + (bounds[-1] - bounds[-2]) * part)
    turns = len(bounds)
    way = water_along(curves, bounds + bounds[::-1][1:])

    assert turns <= MOST_TURNS
    assert way[turns:] == pytest.approx(way[: turns - 1][::-1], abs=1e-10)


@given(media, ways)
def test_water_stays_between_full_and_dry_and_never_above_the_drying_curve(curves, way):
    for start in (from_full, from_dry):
        for suction, water in zip(way, water_along(curves, way, start), strict=True):
            dry, wet = main_curves(curves, suction)
            assert RESIDUAL - 1e-9 <= water <= SATURATED + 1e-9
            assert water <= dry + 1e-9
            assert wet <= dry + 1e-12


@given(media, ways)
def test_wetting_never_loses_and_drying_never_gains(curves, way):
    water = water_along(curves, way)
    for (a, b), (before, after) in zip(pairwise(way), pairwise(water), strict=True):
        if b < a:
            assert after >= before - 1e-9
        elif b > a:
            assert after <= before + 1e-9


@given(media, ways, st.floats(0.05, 0.95))
def test_a_halt_on_the_way_changes_nothing(curves, way, part):
    halted = []
    for a, b in pairwise(way):
        halted += [a, a + (b - a) * part]
    halted.append(way[-1])

    assert water_along(curves, halted)[::2] == pytest.approx(water_along(curves, way), abs=1e-9)


@given(media, ways)
def test_through_full_all_is_forgotten(curves, way):
    again = water_along(curves, [*way, 0, 50, 3])[-3:]

    assert again == pytest.approx(water_along(curves, [0, 50, 3]), abs=1e-10)


def test_without_a_difference_of_curves_there_is_no_hysteresis():
    curves = medium(scale=1.0)
    way = [0, 30, 4, 80, 2, 2.5, 1, 40]

    assert water_along(curves, way) == pytest.approx(
        [RESIDUAL + 0.7 * float(saturation(s, 0.1, 2)) for s in way], abs=1e-12
    )


def test_a_tabulated_curve_gives_the_same_way():
    s = np.concatenate([[0], np.geomspace(1e-3, 1e6, 4000)])
    tabulated = curves_of_table(s, RESIDUAL + 0.7 * saturation(s, 0.1, 2), residual=RESIDUAL)
    way = [0, 20, 5, 12, 3, 60, 0]

    assert water_along(tabulated, way) == pytest.approx(water_along(medium(), way), abs=1e-5)


def test_bits_side_by_side_do_not_touch():
    curves, rng = medium(), np.random.default_rng(4)
    ways_ = rng.uniform(0, 100, size=(30, 7))
    branches, at = from_full(curves, 7), np.zeros(7)
    found = []
    for suction in ways_:
        branches = turned(curves, branches, at, suction < at)
        at = suction
        found.append(water_on(curves, branches, at))
    for bit in range(7):
        alone = water_along(curves, [0, *ways_[:, bit]])[1:]
        assert np.array(found)[:, bit] == pytest.approx(alone, abs=1e-12)


def test_more_turns_than_are_remembered_do_no_harm():
    curves = medium()
    far, near, way = 100.0, 0.5, [0.0]
    for _turn in range(2 * MOST_TURNS):
        far, near = far * 0.93, near * 1.05
        way += [far, near]
    water = water_along(curves, [*way, 100, 200])

    assert np.all((water >= RESIDUAL) & (water <= SATURATED))
    assert water[-1] == pytest.approx(next(main_curves(curves, 200)), abs=1e-12)


@pytest.mark.parametrize(
    ("act", "sentence"),
    [
        (
            lambda: wetting_scan(0.5, 1.0, 0.8, 0.8),
            "Filled share at the turn is 1; it must be from 0 to below 1.",
        ),
        (
            lambda: drying_scan(0.5, 0.0, 0.1, 0.1),
            "Filled share at the turn is 0; it must be above 0, at most 1.",
        ),
        (
            lambda: curves_of_table([0, 1, 2], [0.5, 0.4, 0.45]),
            "Change of water with suction is 0.05 m³/m³; it must be 0 or less.",
        ),
        (lambda: medium(scale=0.5), "Scale of the wetting curve is 0.5; it must be 1 or more."),
        (
            lambda: MainCurves(filled=np.exp, saturated=0.3, residual=0.4),
            "Residual water content is 0.4 m³/m³; it must be from 0 to below the full medium.",
        ),
        (
            lambda: turned(medium(), from_full(medium(), 1), [math.nan], np.array([True])),
            "Suction is not a number cm; it must be 0 or more.",
        ),
    ],
)
def test_what_cannot_be_is_refused(act, sentence):
    with pytest.raises(BadQuantity) as refusal:
        act()
    assert str(refusal.value).lower() == sentence.lower()
