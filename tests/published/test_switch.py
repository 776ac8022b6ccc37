"""Which material carries a mix, and the share at which another takes over."""

import numpy as np
import pytest

from friable.planning.forecast import forecast
from friable.science.mixture import switch_share
from friable.science.packing import threshold_coarse_share
from strategies_science import MATERIALS, Poured, core

# First whole per cent at which the first still carries the mix: figures of an independent program, which test
# that the rule is built as described.
PAIRS = [
    ("GRAV", "SAND_F", 0.72), ("BKP_M", "SAND_F", 0.62), ("BKP_M", "SAND_M", 0.66), ("BKE_L", "PEAT_F", 0.59),
    ("PUM_L", "PEAT_M", 0.63), ("SCO_M", "SAND_M", 0.69), ("GRIT", "LOAM", 0.56), ("PEAT_M", "PERL_M", 0.54),
]  # fmt: skip


def of(first, second, share):
    parts = [(MATERIALS[first], share), (MATERIALS[second], 1 - share)]
    return forecast(parts, core(), samples=0)


@pytest.mark.parametrize(("first", "second", "at"), PAIRS)
def test_the_switch_of_a_pair(first, second, at):
    found = of(first, second, 0.9)

    assert found.supported_by == MATERIALS[first].title
    assert found.switch_at == pytest.approx(at)
    assert of(first, second, at).supported_by == MATERIALS[first].title
    assert of(first, second, at - 0.01).supported_by == MATERIALS[second].title


@pytest.mark.parametrize(("first", "second", "at"), PAIRS)
def test_a_scan_finds_one_switch_and_the_same(first, second, at):
    carried = [
        int(Poured({first: share / 100, second: 1 - share / 100}).blend.supporting) for share in range(1, 100)
    ]
    changes = [i + 2 for i in range(98) if carried[i] != carried[i + 1]]

    assert changes == [round(100 * at)]


def test_the_switch_is_near_the_threshold_of_spomer():
    # Spomer 1974 (from memory): infinitely unlike grains switch at 1/(1 + e). Gravel of 45.5 % voids: 0.687;
    # grains of finite ratio and the wall effect put it a little higher.
    gravel = MATERIALS["GRAV"].physics
    mix = Poured({"GRAV": 0.9, "SAND_F": 0.1})

    exact = switch_share(mix.blend, mix.grades)
    assert threshold_coarse_share(gravel.void_fraction) == pytest.approx(0.687, abs=5e-4)
    assert threshold_coarse_share(gravel.void_fraction) < exact < 0.75


def test_one_material_has_no_switch():
    found = forecast([(MATERIALS["BKP_M"], 1.0)], core(), samples=0)

    assert found.switch_at is None
    assert found.supported_by == MATERIALS["BKP_M"].title


def test_the_switch_of_three_keeps_the_others_in_proportion():
    # At the switch another sub-grade needs as much room as the best of the supporting material.
    mix = Poured({"BKP_M": 6, "SAND_F": 1, "PEAT_M": 1})
    share = switch_share(mix.blend, mix.grades)
    at = Poured({"BKP_M": share, "SAND_F": (1 - share) / 2, "PEAT_M": (1 - share) / 2})
    demand = at.blend.demand.reshape(3, 5).max(axis=1)

    assert np.sort(demand)[-1] == pytest.approx(np.sort(demand)[-2], rel=1e-4)
