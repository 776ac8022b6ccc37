"""Water in a drained pot: closed forms and quadrature by hand, published trends with height and taper."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from friable.science.containers import Container
from friable.science.drainage import drained_column, drained_mean, water_entry_suction_cm
from friable.science.retention import RetentionCurve
from strategies_science import MATERIALS, Poured, core

MEDIUM = RetentionCurve(saturated=0.85, residual=0.15, alpha_per_cm=0.15, n=2)


def pot(height_cm, bottom_radius_cm, top_radius_cm, **more):
    return Container(
        shape="round",
        top_length_cm=2 * top_radius_cm,
        top_width_cm=2 * top_radius_cm,
        bottom_length_cm=2 * bottom_radius_cm,
        bottom_width_cm=2 * bottom_radius_cm,
        height_cm=height_cm,
        **more,
    )


def by_quadrature(curve, height_cm, bottom_radius_cm, top_radius_cm, start_cm=0.0):
    """Mean water content by scipy.integrate.quad from the two formulas, nothing shared with the package."""

    def area(z):
        return math.pi * (bottom_radius_cm + (top_radius_cm - bottom_radius_cm) * z / height_cm) ** 2

    def water(z):
        filled = (1 + (curve.alpha_per_cm * (start_cm + z)) ** curve.n) ** (1 / curve.n - 1)
        return area(z) * (curve.residual + (curve.saturated - curve.residual) * filled)

    volume, _ = quad(area, 0, height_cm)
    held, _ = quad(water, 0, height_cm, epsabs=1e-12, limit=200)
    return held / volume


# Worked by hand for n = 2, where the integral is closed: with a = alpha, q = √(1 + a²H²), k = (r_t - r_b)/H,
# ∫ A S dz = π [r_b² asinh(aH)/a + 2 r_b k (q - 1)/a² + k² (aHq - asinh aH)/2a³]. Five digits.
@pytest.mark.parametrize(
    ("height", "bottom", "top", "volume_cm3", "water_cm3", "capacity", "air"),
    [
        (5, 5, 5, 392.699, 312.957, 0.79694, 0.05306),
        (10, 5, 5, 785.398, 555.713, 0.70756, 0.14244),
        (15, 5, 5, 1178.097, 744.877, 0.63227, 0.21773),
        (20, 5, 5, 1570.796, 902.115, 0.57430, 0.27570),
        (15, 5, 7.5, 1865.321, 1122.259, 0.60164, 0.24836),
        (15, 7.5, 5, 1865.321, 1236.985, 0.66315, 0.18685),
    ],
)
def test_pots_worked_by_hand(height, bottom, top, volume_cm3, water_cm3, capacity, air):
    found = pot(height, bottom, top)
    held = drained_mean(MEDIUM, found)

    assert 1000 * found.medium_volume_l == pytest.approx(volume_cm3, abs=5.1e-4)
    assert held * volume_cm3 == pytest.approx(water_cm3, abs=1e-3)
    assert held == pytest.approx(capacity, abs=5.1e-6)
    assert MEDIUM.saturated - held == pytest.approx(air, abs=5.1e-6)
    assert held == pytest.approx(by_quadrature(MEDIUM, height, bottom, top), abs=1e-10)


# Adaptive quadrature, five digits: columns of 3.8, 7.6 and 15.2 cm, and a pot of 15 cm from 5 to 7.5 cm
# radius.
@pytest.mark.parametrize(
    ("saturated", "residual", "alpha", "n", "columns", "tapered"),
    [
        (0.85, 0.15, 0.15, 2.0, (0.81676, 0.74990, 0.62965), 0.60164),
        (0.80, 0.30, 0.50, 1.8, (0.68075, 0.59391, 0.50945), 0.48790),
        (0.92, 0.10, 0.08, 1.6, (0.90343, 0.87484, 0.81278), 0.79846),
    ],
)
def test_other_media_by_quadrature(saturated, residual, alpha, n, columns, tapered):
    curve = RetentionCurve(saturated=saturated, residual=residual, alpha_per_cm=alpha, n=n)

    for height, capacity in zip((3.8, 7.6, 15.2), columns, strict=True):
        assert drained_mean(curve, pot(height, 5, 5)) == pytest.approx(capacity, abs=1.1e-5)
        assert by_quadrature(curve, height, 5, 5) == pytest.approx(capacity, abs=5.1e-6)
    assert drained_mean(curve, pot(15, 5, 7.5)) == pytest.approx(tapered, abs=1.1e-5)


# --- drainage layers -----------------------------------------------------------------------------
# A straight pot 15 cm high and the medium above. Water in the medium as a height over the base area, worked
# by quadrature: broken films, the medium starts at the suction at which water enters the layer; continuous
# films, it starts at the thickness of the layer.


@pytest.mark.parametrize(
    ("layer_cm", "start_cm", "water_cm"),
    [
        (0, 0, 9.4841),
        (3, 0, 8.1021), (3, 1, 7.7342), (3, 2, 7.3618),
        (6, 0, 6.5233), (6, 1, 6.2282), (6, 2, 5.9211),
        (3, 3, 6.9992),
    ],
)  # fmt: skip
def test_water_above_a_drainage_layer(layer_cm, start_cm, water_cm):
    above = pot(15, 5, 5, drainage_layer_cm=layer_cm)
    depth = 15 - layer_cm
    held = drained_mean(MEDIUM, above, start_cm)

    assert held * depth == pytest.approx(water_cm, abs=1.1e-4)
    assert held == pytest.approx(by_quadrature(MEDIUM, depth, 5, 5, start_cm), abs=1e-6)


def test_a_drainage_layer_always_costs_water_and_room():
    # Rowe 2025, PLoS ONE 20(2):e0318716: layers of nearly all materials lowered the water that pots of media
    # without loam held.
    without = 15 * drained_mean(MEDIUM, pot(15, 5, 5))
    for layer in (1, 3, 6):
        above = pot(15, 5, 5, drainage_layer_cm=layer)
        broken = (15 - layer) * drained_mean(MEDIUM, above, min(1.0, layer))
        continuous = (15 - layer) * drained_mean(MEDIUM, above, float(layer))
        assert continuous <= broken < without


def test_the_medium_above_a_broken_film_is_wetter_than_without_the_layer():
    # The column above the layer is shorter, so on average it is wetter: more water per litre, less per pot.
    assert drained_mean(MEDIUM, pot(15, 5, 5, drainage_layer_cm=3), 0.5) > drained_mean(MEDIUM, pot(15, 5, 5))


@pytest.mark.parametrize("grain_mm", [5, 10])
def test_water_enters_coarse_gravel_at_a_few_centimetres(grain_mm):
    # Capillary law, 0.1484 cm²/r with r = 0.2 to 0.4 grain radius (that share: common practice, no source).
    # By hand: 5 mm grains 1.48 to 2.97 cm, 10 mm grains 0.74 to 1.48 cm.
    radius_cm = grain_mm / 20

    for share in (0.2, 0.3, 0.4):
        assert water_entry_suction_cm(grain_mm, share) == pytest.approx(
            0.14836 / (share * radius_cm), rel=1e-4
        )
    assert 0.7 < water_entry_suction_cm(grain_mm) < 3


# --- published trends ----------------------------------------------------------------------------


@pytest.mark.parametrize(("bark", "published_fall", "within"), [("BKF_M", 0.20, 0.08), ("BKF_F", 0.42, 0.20)])
def test_fir_bark_holds_less_in_taller_cores(bark, published_fall, within):
    # Owen and Altland 2008: cores 7.6 cm across; from 3.8 to 15.2 cm the water fell by 20 % (bark under 22
    # mm) and by 42 % (under 9 mm), air rising. The fall in fine bark is missed by half: its density rose by
    # 18 % with height in that study, which no curve of one density can follow. Hence the wide margin.
    water = [Poured({bark: 1}, core(h)).container_capacity for h in (3.8, 7.6, 15.2)]
    air = [Poured({bark: 1}, core(h)).air_space for h in (3.8, 7.6, 15.2)]

    assert water == sorted(water, reverse=True)
    assert air == sorted(air)
    assert 1 - water[2] / water[0] == pytest.approx(published_fall, abs=within)


def test_one_medium_in_a_pot_and_in_a_cell():
    # Bilderback and Fonteno 1987, abstract: the same medium has 28 % air and 43 % water in a #1 pot, 12 % and
    # 59 % in a bedding cell. The mix (3 bark : 1 peat : 1 sand), 16 cm and 4.5 cm are from memory.
    mix = {"BKP_M": 3, "PEAT_M": 1, "SAND_M": 1}
    in_pot, in_cell = Poured(mix, core(16)), Poured(mix, core(4.5))

    assert in_pot.total_porosity == in_cell.total_porosity
    assert in_pot.air_space - in_cell.air_space == pytest.approx(0.28 - 0.12, abs=0.05)
    assert in_cell.container_capacity - in_pot.container_capacity == pytest.approx(0.59 - 0.43, abs=0.05)


def test_a_pot_that_widens_upward_holds_less_per_litre_than_one_that_narrows():
    # More of its volume sits high above the drainage face; Milks, Fonteno and Larson 1989 (idea).
    widening, narrowing = (drained_mean(MEDIUM, pot(15, *radii)) for radii in ((5, 7.5), (7.5, 5)))

    assert widening < drained_mean(MEDIUM, pot(15, 5, 5)) < narrowing


def test_the_quadrature_of_sixty_four_points_is_fine_enough_for_every_material():

    for material in MATERIALS.values():
        i = material.physics
        outer = RetentionCurve(saturated=1, residual=0, alpha_per_cm=i.alpha_ext_per_cm, n=i.n_ext)
        exact = by_quadrature(outer, 13.0, 6, 8.5)
        column = drained_column(pot(13.0, 6, 8.5))
        filled = (1 + (i.alpha_ext_per_cm * column.suctions_cm) ** i.n_ext) ** (1 / i.n_ext - 1)
        assert float(filled @ column.weights) == pytest.approx(exact, abs=1e-5)
        assert np.isclose(column.weights.sum(), 1)
