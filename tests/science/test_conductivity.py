"""Conductivity of beds of grains, of mixes, and against suction."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.conductivity import (
    hydraulic_size_mm,
    mix_conductivity_cm_h,
    relative_conductivity,
    saturated_conductivity_cm_h,
    sauter_mm,
)
from friable.science.flow.medium import TABLE_SUCTIONS_CM
from friable.science.mixture import water_held
from friable.science.retention import saturation
from strategies_science import KEYS, MATERIALS, Poured, mixes


def closed_form(suction_cm, alpha, n, connectivity=0.5):
    """S^l [1 - (1 - S^(1/m))^m]², van Genuchten 1980, in logarithms."""
    m = 1 - 1 / n
    with np.errstate(divide="ignore"):
        x = n * np.log(alpha * suction_cm)
        full = -np.expm1(m * -np.logaddexp(0, -x))
    return np.exp(-m * connectivity * np.logaddexp(0, x)) * full**2


def test_a_bed_of_spheres_by_hand():
    # 1 mm, a third of voids: ρg/(180 μ) = 1000 × 9.807/(180 × 1.002e-3) = 54 374 per m and s;
    # × (1/27)/(4/9) × 1e-6 m² = 4.5312e-3 m/s = 1631.2 cm/h. Worked by hand.
    assert float(saturated_conductivity_cm_h(1 / 3, 1.0)) == pytest.approx(1631.2, rel=1e-4)
    assert float(saturated_conductivity_cm_h(1 / 3, 2.0, 0.25)) == pytest.approx(1631.2, rel=1e-4)


def test_the_sauter_size_is_the_harmonic_mean():
    # 1, 2 and 4 mm in equal volumes: 3/(1 + 1/2 + 1/4) = 12/7. Worked by hand.
    assert sauter_mm([1, 2, 4]) == pytest.approx(12 / 7)


@given(st.floats(0.05, 0.95), st.floats(1e-2, 1e5))
def test_the_hydraulic_size_gives_the_conductivity_back(void, conductivity):
    size = hydraulic_size_mm(void, conductivity)

    assert float(saturated_conductivity_cm_h(void, size)) == pytest.approx(conductivity, rel=1e-9)


@given(st.sampled_from(KEYS), st.floats(1e-1, 1e5), st.floats(0.1, 9))
def test_a_material_alone_returns_its_own(key, conductivity, litres):
    alone = Poured({key: litres})
    size = hydraulic_size_mm([MATERIALS[key].physics.void_fraction], [conductivity])

    assert float(mix_conductivity_cm_h(alone.blend, size)) == pytest.approx(conductivity, rel=1e-9)


@given(mixes.filter(lambda parts: len(parts) > 1), st.lists(st.floats(0.01, 30), min_size=5, max_size=5))
def test_a_mix_conducts_no_better_than_its_sizes_and_voids_allow(parts, sizes):
    mix = Poured(parts)
    size = np.array(sizes[: len(parts)])
    found = float(mix_conductivity_cm_h(mix.blend, size))

    voids = [i.void_fraction for i in mix.ingredients]
    assert found <= float(saturated_conductivity_cm_h(max(voids), size.max())) * (1 + 1e-9)
    assert found > 0


@pytest.mark.parametrize(
    ("alpha", "n", "tolerance"),
    # The table has a node each 1/16 cm near no suction: steep curves of wide pores are read less well there.
    [(0.05, 1.1, 7e-3), (0.1, 1.3, 6e-4), (0.0335, 2, 3e-4), (0.1, 2, 3e-4), (0.02, 4, 5e-4), (1, 6, 3e-3),
     (2, 1.41, 3e-2), (8, 3, 5e-2)],
)  # fmt: skip
def test_on_the_nodes_of_the_flow_tables_it_is_near_the_closed_form(alpha, n, tolerance):
    s = TABLE_SUCTIONS_CM
    found = relative_conductivity(s, 0.1 + 0.7 * saturation(s, alpha, n), residual=0.1)

    closed = closed_form(s, alpha, n)
    seen = closed > 1e-12
    assert found[seen] == pytest.approx(closed[seen], rel=tolerance)


@given(st.floats(0.005, 10), st.floats(1.1, 5))
def test_finer_nodes_come_near_the_closed_form(alpha, n):
    """64 nodes to a decade: within 0.2 % wherever it is above 1e-12 of that of the full medium."""
    s = np.concatenate([[0], np.geomspace(1e-5, 1e7, 64 * 12)])
    found = relative_conductivity(s, saturation(s, alpha, n))

    closed = closed_form(s, alpha, n)
    seen = closed > 1e-12
    assert found[seen] == pytest.approx(closed[seen], rel=2e-3)


@given(mixes, st.sampled_from([0.0, 1.0, 2.0, 3.7]), st.sampled_from([0.0, 1.0, 2.0, 3.7]))
def test_it_falls_with_suction_and_is_one_where_full(parts, air_entry, widest):
    mix = Poured(parts)
    water = water_held(mix.blend, mix.grades, mix.grades.filling(TABLE_SUCTIONS_CM))
    water = np.minimum.accumulate(water)
    found = relative_conductivity(TABLE_SUCTIONS_CM, water, air_entry_cm=air_entry, widest_cm=widest)

    assert found[0] == 1.0
    assert np.all(found[air_entry >= TABLE_SUCTIONS_CM] == 1.0)
    assert np.all(np.isfinite(found))
    assert np.all(found >= 0)
    assert np.all(np.diff(found) <= 1e-12)


@given(st.floats(0.5, 5), st.floats(1.3, 4))
def test_to_count_wide_pores_less_raises_what_the_narrow_ones_carry(alpha, n):
    s = TABLE_SUCTIONS_CM
    water = saturation(s, alpha, n)
    plain, less, left_out = (
        relative_conductivity(s, water, **how)[s >= 2]
        for how in ({}, {"widest_cm": 2.0}, {"air_entry_cm": 2.0})
    )

    assert np.all(plain <= less * (1 + 1e-9))
    assert np.all(less <= left_out * (1 + 1e-9))


def test_one_width_of_pores_by_hand():
    # All water goes evenly between 2 and 4 cm. At 3 cm half is left, S^½ = 0.70711; of the integral
    # ∫ ds/s from 2 to 4 = ln 2 there is ln(4/3) left: 0.41504 squared = 0.17226; together 0.12180. By hand,
    # with 400 nodes in between; the end of the water is read evenly too.
    s = np.concatenate([[0, 1], np.linspace(2, 4, 401), [8]])
    water = np.interp(s, [2, 4], [0.5, 0.0])

    found = relative_conductivity(s, water)
    assert found[np.searchsorted(s, 3.0)] == pytest.approx(0.12180, rel=2e-4)
    assert found[np.searchsorted(s, 2.0)] == 1.0
    assert found[-1] == 0.0


def test_wide_pores_that_count_as_narrower_by_hand():
    # The same, all pores counted as emptying at 8 cm: the integral goes as the water, 0.5^½ × 0.5² = 0.17678.
    s = np.concatenate([[0, 1], np.linspace(2, 4, 401), [8, 16]])
    water = np.interp(s, [2, 4], [0.5, 0.0])

    found = relative_conductivity(s, water, widest_cm=8.0)
    assert found[np.searchsorted(s, 3.0)] == pytest.approx(0.17678, rel=1e-4)


def test_many_curves_at_once_are_as_one_by_one():
    s = TABLE_SUCTIONS_CM
    water = np.stack([[0.8 * saturation(s, a, n) for a in (0.05, 0.5)] for n in (1.2, 2, 3)])
    together = relative_conductivity(s, water, widest_cm=2.0)

    assert together.shape == (3, 2, len(s))
    assert together[2, 1] == pytest.approx(relative_conductivity(s, water[2, 1], widest_cm=2.0), abs=1e-15)


@settings(max_examples=25)
@given(st.floats(-5, 5))
def test_the_connectivity_is_a_power_of_what_is_full(connectivity):
    s = TABLE_SUCTIONS_CM[:200]
    water = saturation(s, 0.1, 2)
    found = relative_conductivity(s, water, connectivity)
    none = relative_conductivity(s, water, 0.0)

    assert found == pytest.approx(np.minimum(none * water**connectivity, 1), rel=1e-9)


@pytest.mark.parametrize(
    ("act", "sentence"),
    [
        (lambda: saturated_conductivity_cm_h(1.2, 1), "Void fraction is 1.2; it must be between 0 and 1."),
        (
            lambda: saturated_conductivity_cm_h(0.4, math.nan),
            "Grain size is not a number mm; it must be above 0.",
        ),
        (lambda: sauter_mm([0.5, 0]), "Grain size is 0 mm; it must be above 0."),
        (lambda: hydraulic_size_mm(0.4, 0), "Saturated conductivity is 0 cm/h; it must be above 0."),
        (
            lambda: relative_conductivity([0, 1, 2], [0.5, 0.6, 0.4]),
            "Change of water with suction is 0.1 m³/m³; it must be 0 or less.",
        ),
        (
            lambda: relative_conductivity([0, 2, 1], [0.5, 0.4, 0.3]),
            "Step between suctions is -1 cm; it must be above 0, and the first suction 0.",
        ),
        (
            lambda: relative_conductivity([0, 1, 2], [0.5, 0.4, 0.3], residual=0.35),
            "Water content is 0.3 m³/m³; it must be at least the residual water content.",
        ),
        (
            lambda: relative_conductivity([0, 1, 2], [0.5, 0.4, 0.3], air_entry_cm=2),
            "Air entry suction is 2 cm; it must be from 0 to below the largest suction.",
        ),
        (
            lambda: relative_conductivity([0, 1, 2], [0.5, 0.4, 0.3], connectivity=math.inf),
            "Connectivity of the pores is inf; it must be a finite number.",
        ),
    ],
)
def test_what_cannot_be_is_refused(act, sentence):
    with pytest.raises(BadQuantity) as refusal:
        act()
    assert str(refusal.value).lower() == sentence.lower()
