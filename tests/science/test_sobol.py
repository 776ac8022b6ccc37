"""Scrambled Sobol points and normal deviates are, bit for bit, those of SciPy."""

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtri
from scipy.stats import qmc

from friable.errors import BadQuantity
from friable.science import ranges, sobol


def points_of_scipy(dimensions, power, seed):
    return qmc.Sobol(dimensions, scramble=True, rng=np.random.default_rng(seed)).random_base2(power)


@pytest.mark.parametrize("dimensions", [1, 2, 3, 6, 12, 40, 128, 256, 257])
@pytest.mark.parametrize("power", [0, 6, 10])
def test_points_are_those_of_scipy(dimensions, power):
    assert np.array_equal(
        sobol.scrambled_points(dimensions, power, ranges.SEED),
        points_of_scipy(dimensions, power, ranges.SEED),
    )


def test_the_most_points_are_those_of_scipy():
    assert np.array_equal(sobol.scrambled_points(5, 16, 7), points_of_scipy(5, 16, 7))


@given(
    dimensions=st.integers(min_value=1, max_value=64),
    power=st.integers(min_value=0, max_value=9),
    seed=st.integers(min_value=0, max_value=2**32),
)
def test_any_seed_and_number_of_dimensions_give_the_points_of_scipy(dimensions, power, seed):
    assert np.array_equal(
        sobol.scrambled_points(dimensions, power, seed), points_of_scipy(dimensions, power, seed)
    )


def test_every_direction_number_kept_here_is_that_of_scipy():
    known = np.load(Path(scipy.stats.__file__).with_name("_sobol_direction_numbers.npz"))
    rows = sobol._read_directions()

    assert len(rows) == sobol.MOST_HERE - 1
    for row, (degree, inner, first) in enumerate(rows, start=1):
        assert (1 << degree) + (inner << 1) + 1 == known["poly"][row]
        assert list(first) == known["vinit"][row, :degree].tolist()


def test_deviates_are_those_of_scipy_far_into_both_tails():
    middle = np.random.default_rng(3).random(20_000)
    share = np.concatenate([middle, 10.0 ** -np.arange(1, 300), 1 - 10.0 ** -np.arange(1, 16)])

    assert np.array_equal(sobol.normal_deviates(share), ndtri(share))


@given(st.floats(min_value=1e-300, max_value=1, exclude_max=True))
def test_any_deviate_is_that_of_scipy(share):
    assert sobol.normal_deviates(np.array([[share]]))[0, 0] == ndtri(share)


# Handbook of Mathematical Functions (Abramowitz and Stegun 1964), table 26.5: normal deviates, from memory.
@pytest.mark.parametrize(
    ("share", "deviate"), [(0.5, 0.0), (0.95, 1.644854), (0.975, 1.959964), (0.01, -2.326348)]
)
def test_known_percentiles(share, deviate):
    assert sobol.normal_deviates(np.array([share]))[0] == pytest.approx(deviate, abs=5e-7)


@pytest.mark.parametrize(
    ("dimensions", "power", "sentence"),
    [
        (0, 6, "number of dimensions is 0; it must be 1 or more."),
        (2, 17, "power of two is 17; it must be from 0 to 16."),
        (2, -1, "power of two is -1; it must be from 0 to 16."),
    ],
)
def test_what_cannot_be_drawn_is_refused(dimensions, power, sentence):
    with pytest.raises(BadQuantity) as refused:
        sobol.scrambled_points(dimensions, power, 1)

    assert str(refused.value) == sentence


def test_drawing_loads_nothing_of_scipy():
    script = "import sys; from friable.science import ranges; ranges.draws(12); print('scipy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)

    assert (done.returncode, done.stdout) == (0, "False\n"), done.stderr
