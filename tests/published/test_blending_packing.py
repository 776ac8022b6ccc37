"""How much room grains take together: limits worked by hand, published beds, the form of the models."""

import itertools
import math

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from friable.science.packing import (
    COMPACTION_INDEX,
    displacement_by_coarse,
    filling_by_fine,
    furnas_void_fraction,
    linear_packing_void_fraction,
    packed_volume,
    pair_tables,
    threshold_coarse_share,
)
from strategies_science import MATERIALS, ROUNDING

from .slow_rule import packing_density

COARSE_VOID, FINE_VOID = 0.40, 0.50
UNLIKE = 1e-9  # ratio of sizes that stands for infinitely unlike


def least(of):
    """Find the coarse share at which a quantity with one minimum is least."""
    return minimize_scalar(of, bounds=(0.6, 0.9), method="bounded", options={"xatol": 1e-9})


def poured(coarse_share, ratio):
    """Void fraction and volume per litre poured of a pair by loose volume, by the linear model."""
    envelope = [coarse_share * (1 - COARSE_VOID), (1 - coarse_share) * (1 - FINE_VOID)]
    void = linear_packing_void_fraction(envelope, [COARSE_VOID, FINE_VOID], [1.0, ratio])
    return void, sum(envelope) / (1 - void)


# --- the ideal limit: Furnas 1931, Westman and Hugill 1930, Spomer 1974 ---------------------------
# Coarse grains with 40 % voids, infinitely finer ones with 50 %. Worked by hand from
# v = max[v_c y, y + v_f (1 - y)]: with P litres of coarse in one poured, the volume is 1 - 0.4 P while the
# coarse grains float (the fines keep their own volume 1 - P and the coarse add 0.6 P), and P once they touch.


@pytest.mark.parametrize(
    ("coarse_share", "void", "volume"),
    [
        (0.0, 0.5000, 1.00), (0.1, 0.4688, 0.96), (0.2, 0.4348, 0.92), (0.3, 0.3977, 0.88),
        (0.4, 0.3571, 0.84), (0.5, 0.3125, 0.80), (0.6, 0.2632, 0.76), (0.7, 0.2083, 0.72),
        (0.8, 0.2750, 0.80), (0.9, 0.3444, 0.90), (1.0, 0.4000, 1.00),
    ],
)  # fmt: skip
def test_the_linear_model_meets_the_ideal_limit_by_loose_volume(coarse_share, void, volume):
    model_void, model_volume = poured(coarse_share, UNLIKE)

    assert model_void == pytest.approx(void, abs=5.1e-5)  # worked to four digits
    assert model_volume == pytest.approx(volume, abs=1e-6)
    by_hand = max(1 - 0.4 * coarse_share, coarse_share)
    assert model_volume == pytest.approx(by_hand, abs=1e-6)


@pytest.mark.parametrize(
    ("coarse_envelope", "void"),
    [(0, 0.5), (0.25, 0.428571), (0.5, 1 / 3), (0.75, 0.2), (1, 0.4)],
)
def test_both_forms_of_the_limit_agree_by_envelope_volume(coarse_envelope, void):
    assert furnas_void_fraction(coarse_envelope, COARSE_VOID, FINE_VOID) == pytest.approx(void, abs=1e-6)
    assert linear_packing_void_fraction(
        [coarse_envelope, 1 - coarse_envelope], [COARSE_VOID, FINE_VOID], [1.0, UNLIKE]
    ) == pytest.approx(void, abs=1e-6)


def test_the_threshold_is_where_the_void_is_least_and_the_shrinkage_most():
    share = threshold_coarse_share(COARSE_VOID)
    void, volume = poured(share, UNLIKE)

    assert share == pytest.approx(1 / 1.4)
    assert void == pytest.approx(COARSE_VOID * FINE_VOID, abs=1e-6)
    assert 1 - volume == pytest.approx(0.285714, abs=1e-6)


@pytest.mark.parametrize("void", [0.4, 0.5])
def test_the_densest_mixture_stands_where_furnas_put_it(void):
    # Furnas 1931: with equal voids V the densest mixture holds 1/(1 + V) of coarse by solid volume.
    shares = np.linspace(0, 1, 10_001)
    voids = [furnas_void_fraction(share, void, void) for share in shares]
    model = [linear_packing_void_fraction([s, 1 - s], [void, void], [1.0, UNLIKE]) for s in shares[::10]]

    assert shares[int(np.argmin(voids))] == pytest.approx(1 / (1 + void), abs=1e-4)
    assert shares[::10][int(np.argmin(model))] == pytest.approx(1 / (1 + void), abs=1e-3)


# --- the modified linear model (Yu, Zou and Standish 1996) ---------------------------------------


@pytest.mark.parametrize("curve", [filling_by_fine, displacement_by_coarse])
def test_the_interaction_is_whole_for_unlike_sizes_and_none_for_like(curve):
    assert float(curve(0.0)) == pytest.approx(1.0, abs=ROUNDING)
    assert float(curve(1.0)) == pytest.approx(0.0, abs=ROUNDING)


def test_grades_that_are_the_same_leave_the_void_as_it_is():
    assert linear_packing_void_fraction([1, 1, 1], [0.43] * 3, [2.0] * 3) == pytest.approx(0.43)


def test_neither_order_nor_splitting_a_grade_changes_the_void():
    envelope, void, size = [0.5, 0.3, 0.2], [0.4, 0.5, 0.45], [8.0, 0.3, 2.0]
    expected = linear_packing_void_fraction(envelope, void, size)

    for order in itertools.permutations(range(3)):
        turned = [[column[i] for i in order] for column in (envelope, void, size)]
        assert linear_packing_void_fraction(*turned) == pytest.approx(expected, abs=1e-12)
    assert linear_packing_void_fraction(
        [0.25, 0.25, 0.3, 0.2], [0.4, 0.4, 0.5, 0.45], [8.0, 8.0, 0.3, 2.0]
    ) == pytest.approx(expected, abs=1e-12)


# Figures of an independent program from the same equations, to the digits that it gave. They test that the
# model is built as described, not that it is true.
@pytest.mark.parametrize(
    ("ratio", "least_void", "at_share", "most_shrinkage"),
    [
        (0.01, 0.2038, 0.7165, 0.2820),
        (0.05, 0.2198, 0.7244, 0.2663),
        (0.2, 0.2811, 0.7442, 0.2009),
        (0.5, 0.3754, 0.7491, 0.0795),
    ],
)
def test_the_linear_model_at_finite_ratios(ratio, least_void, at_share, most_shrinkage):
    tightest = least(lambda share: poured(share, ratio)[0])
    smallest = least(lambda share: poured(share, ratio)[1])

    assert tightest.fun == pytest.approx(least_void, abs=5.1e-5)
    assert tightest.x == pytest.approx(at_share, abs=5.1e-5)
    assert 1 - smallest.fun == pytest.approx(most_shrinkage, abs=5.1e-5)


@pytest.mark.parametrize(
    ("ratio", "density", "coarse_share"),
    [
        (77.5, 0.8539, 0.730), (16.5, 0.8332, 0.739), (11.3, 0.8208, 0.743),
        (6.5, 0.7923, 0.752), (4.8, 0.7696, 0.757), (3.4, 0.7368, 0.762),
    ],
)  # fmt: skip
def test_the_linear_model_on_the_sphere_ratios_of_mcgeary(ratio, density, coarse_share):
    # The ratios are those of McGeary 1961 (from memory); the figures are of an independent program.
    loosest = least(lambda s: linear_packing_void_fraction([s, 1 - s], [0.375, 0.375], [1.0, 1 / ratio]))

    assert 1 - loosest.fun == pytest.approx(density, abs=5.1e-5)
    assert loosest.x == pytest.approx(coarse_share, abs=5.1e-4)


def test_two_sphere_sizes_stay_between_what_was_packed_and_the_ideal():
    # McGeary 1961, J. Am. Ceram. Soc. 44:513 (from memory): one size 0.625, two about 0.84 at the largest
    # ratio; ideal 1 - 0.375².
    ideal = 1 - 0.375**2
    best = max(
        1 - linear_packing_void_fraction([s, 1 - s], [0.375, 0.375], [77.5, 1.0])
        for s in np.linspace(0.6, 0.9, 301)
    )

    assert 0.84 < best < ideal


# --- compressible packing (de Larrard 1999, form from memory) -------------------------------------


def compressible(envelope, void, size, index=COMPACTION_INDEX):
    """Void fraction straight from the definition of the model, each grade of one size."""
    beta = [(1 + 1 / index) * (1 - e) for e in void]
    return 1 - packing_density(envelope, beta, size, index)


def built(envelope, void, size):
    """The same by the package, which writes the model linear in the parts."""
    beta = (1 + 1 / COMPACTION_INDEX) * (1 - np.array(void))
    tables = pair_tables(tuple((d,) for d in size))
    return 1 - sum(envelope) / float(packed_volume(np.array(envelope), beta, tables))


@pytest.mark.parametrize(
    ("ratio", "poured_bed", "vibrated_bed"),
    [(0.01, 0.2988, 0.2602), (0.05, 0.3154, 0.2815), (0.2, 0.3504, 0.3283), (0.5, 0.3902, 0.3825)],
)
def test_the_compressible_model_at_finite_ratios(ratio, poured_bed, vibrated_bed):
    # Figures of an independent program. The package knows the poured bed (4.1) alone; 9 tests the definition.
    def tightest(model):
        def at(share):
            return model(
                [share * (1 - COARSE_VOID), (1 - share) * (1 - FINE_VOID)],
                [COARSE_VOID, FINE_VOID],
                [1.0, ratio],
            )

        return least(at).fun

    assert tightest(built) == pytest.approx(poured_bed, abs=5.1e-5)
    assert tightest(compressible) == pytest.approx(poured_bed, abs=5.1e-5)
    assert tightest(lambda *mix: compressible(*mix, index=9)) == pytest.approx(vibrated_bed, abs=5.1e-5)


def test_the_packed_volume_solves_the_definition_of_the_model():
    random = np.random.default_rng(11)
    for grades in (2, 3, 7, 15):
        size = np.exp(random.uniform(-3, 3, grades))
        void = random.uniform(0.3, 0.8, grades)
        envelope = random.uniform(0.01, 1, grades)
        assert built(envelope, void, size) == pytest.approx(compressible(envelope, void, size), abs=1e-9)


def test_the_compressible_bed_is_looser_than_the_ideal():
    # Gravel and fine sand: the rounder minimum of a poured bed lies above the ideal 0.4 × 0.5.
    assert compressible([0.75, 0.25], [0.4, 0.5], [1.0, 1e-6]) > 0.2


# --- multi-size sands ----------------------------------------------------------------------------
# "Modeling of Minimum and Maximum Void Ratios of Granular Soils", Math. Probl. Eng. 2021, 5092612, Table 1:
# void ratios e of two mixes of one sand (roundness .19). Porosity is e/(1 + e). One single-size void is
# backed out of the narrow mix, and the broad one is predicted from it with nothing else fitted.
NARROW = {"size": [0.838, 0.596], "loose": 1.257, "dense": 0.705}
BROAD = {"size": [1.411, 0.833, 0.588, 0.348], "loose": 1.099, "dense": 0.590}


def porosity(void_ratio):
    return void_ratio / (1 + void_ratio)


def linear(size, void):
    return linear_packing_void_fraction([1 / len(size)] * len(size), [void] * len(size), size)


def compressed(size, void, index):
    return compressible([1 / len(size)] * len(size), [void] * len(size), size, index)


def broad_from_narrow(model, state):
    """Predict the porosity of the broad sand from that of the narrow one in the same state."""
    target = porosity(NARROW[state])
    void = brentq(lambda e: model(NARROW["size"], e) - target, 0.2, 0.8)
    return model(BROAD["size"], void)


def mean_error(predicted):
    """Mean distance to the measured broad sand, loose and dense."""
    return np.mean([abs(predicted[state] - porosity(BROAD[state])) for state in predicted])


@pytest.mark.parametrize(
    ("model", "loose", "dense", "error"),
    [
        (linear, 0.5121, 0.3618, 0.0104),
        (lambda size, void: compressed(size, void, 4.1), 0.5098, 0.3642, 0.0103),
        (lambda size, void: compressed(size, void, 9), 0.5026, 0.3546, 0.0187),
    ],
    ids=["linear", "compressible, poured", "compressible, vibrated"],
)
def test_the_broad_sand_from_the_narrow_one(model, loose, dense, error):
    predicted = {state: broad_from_narrow(model, state) for state in ("loose", "dense")}

    # Figures of an independent program, to four digits.
    assert predicted["loose"] == pytest.approx(loose, abs=1.1e-4)
    assert predicted["dense"] == pytest.approx(dense, abs=1.1e-4)
    assert mean_error(predicted) == pytest.approx(error, abs=1.1e-4)


def test_packing_is_three_times_nearer_the_broad_sand_than_plain_averaging():
    # A plain average says that the broad mix has the porosity of the narrow one.
    plain = mean_error({state: porosity(NARROW[state]) for state in ("loose", "dense")})

    for model in (linear, lambda size, void: compressed(size, void, 4.1)):
        assert mean_error({s: broad_from_narrow(model, s) for s in ("loose", "dense")}) < plain / 3


# --- loose stone and concrete: range checks ------------------------------------------------------


@pytest.mark.parametrize(
    ("stone", "printed_pct"),
    [("3/8 in", (41.0, 40.6, 41.0)), ("3/4 in", (45.2, 44.6)), ("1.5 in", (50.5,)), ("3 in", (48.7,))],
)
def test_the_voids_of_crushed_stone_of_the_tables_are_of_the_published_size(stone, printed_pct):
    # Gillette and Hill 1908, voids of crushed stone as shovelled. Crushed grit, gravel and limestone of the
    # tables lie between the smallest and the largest printed, widened by the 4 points between two tests
    # of one stone and by their being rounder or better graded.
    for key in ("GRIT", "GRAV", "LIMG"):
        void = 100 * MATERIALS[key].physics.void_fraction
        assert min(printed_pct) - 10 <= void <= max(printed_pct) + 10, (stone, key)


def test_farm_concrete_takes_about_two_thirds_of_its_parts():
    # 1:2:4 concrete for farm use: 1.34 + 2.70 + 5.34 cubic yards poured make 6, ratio 0.64. Wet and rammed,
    # so only the size of the effect can be compared. Sand and gravel of the tables; cement 50 times finer
    # than sand with half its volume voids (common practice, no source).
    sand, gravel = MATERIALS["SAND_M"].physics, MATERIALS["GRAV"].physics
    volumes = [1.34, 2.70, 5.34]
    voids = [0.5, sand.void_fraction, gravel.void_fraction]
    envelope = [v * (1 - e) for v, e in zip(volumes, voids, strict=True)]
    mixed = sum(envelope) / (1 - linear_packing_void_fraction(envelope, voids, [0.01, 0.5, 9.0]))

    assert mixed / sum(volumes) == pytest.approx(6 / 9.38, abs=0.08)


def test_a_bed_of_one_grain_alone_keeps_its_void():
    assert built([1.0], [0.47], [5.0]) == pytest.approx(0.47, abs=1e-12)
    assert math.isclose(linear_packing_void_fraction([1.0], [0.47], [5.0]), 0.47)
