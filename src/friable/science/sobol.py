"""Scrambled Sobol points and standard normal deviates, number for number those of SciPy.

SciPy's own need nearly a second to import, which a command that answers in half a second cannot spend. The
sequence is therefore built here from the published direction numbers, with SciPy's scrambling and its use of
the random numbers; a test compares every bit. Beyond the direction numbers kept here, SciPy is asked.

Sources: Joe and Kuo, SIAM J. Sci. Comput. 30:2635, 2008 (direction numbers); Matousek, J. Complexity 14:527,
1998 (random linear scrambling with a digital shift); Antonov and Saleev, USSR Comput. Math. 19(1):252, 1979
(Gray code order); Moshier, Cephes Mathematical Library, 1989 (inverse of the normal distribution).
"""

import math
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Words = NDArray[np.uint32]

BITS = 30
MOST_HERE = 256  # dimensions in direction_numbers.txt
MOST_POWER = 16
_FILE = Path(__file__).with_name("direction_numbers.txt")
_PLACES = np.arange(BITS, dtype=np.uint32)


def scrambled_points(dimensions: int, power: int, seed: int) -> "Array":
    """Return the first 2**power points of a scrambled Sobol sequence, shape (2**power, dimensions). [0..1)

    Parameters
    ----------
    dimensions : int
        1 or more; beyond 256, SciPy is loaded.
    power : int
        0 to 16.
    seed : int
        Of NumPy's default generator: the same seed gives the same points.

    Raises
    ------
    BadQuantity
        If there is no dimension, or the power is outside 0 to 16.
    """
    if not dimensions >= 1:
        raise BadQuantity(_("number of dimensions"), dimensions, "", _("1 or more"))
    if not 0 <= power <= MOST_POWER:
        raise BadQuantity(_("power of two"), power, "", _("from 0 to {most}").format(most=MOST_POWER))
    generator = np.random.default_rng(seed)
    if dimensions > MOST_HERE:
        from scipy.stats import qmc

        return np.asarray(qmc.Sobol(dimensions, scramble=True, rng=generator).random_base2(power))
    generator = generator.spawn(1)[0]  # as SciPy does
    shift = generator.integers(2, size=(dimensions, BITS), dtype=np.uint32) @ (np.uint32(1) << _PLACES)
    lower = np.tril(generator.integers(2, size=(dimensions, BITS, BITS), dtype=np.uint32))
    steps = _scrambled(_directions(dimensions), lower)
    state = np.empty((1 << power, dimensions), dtype=np.uint32)
    state[0] = shift
    for level in range(power):
        # In Gray code order the upper half of 2**(level+1) points mirrors the lower one, one digit added.
        half = 1 << level
        state[half : 2 * half] = state[half - 1 :: -1][:half] ^ steps[:, level]
    return np.asarray(state * 2.0**-BITS)


@cache
def _read_directions() -> tuple[tuple[int, int, tuple[int, ...]], ...]:
    """Return degree, inner coefficients and first numbers of dimensions 2 and up."""
    rows = []
    for line in _FILE.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            degree, inner, *first = map(int, line.split()[1:])
            rows.append((degree, inner, tuple(first)))
    return tuple(rows)


def _directions(dimensions: int) -> "Words":
    """Return direction numbers as whole words of 30 bits, shape (dimensions, 30)."""
    words = np.empty((dimensions, BITS), dtype=np.uint32)
    words[0] = 1
    for row, (degree, inner, first) in enumerate(_read_directions()[: dimensions - 1], start=1):
        numbers = list(first)
        for at in range(degree, BITS):
            new = numbers[at - degree] ^ (numbers[at - degree] << degree)
            for back in range(1, degree):
                if inner >> (degree - 1 - back) & 1:
                    new ^= numbers[at - back] << back
            numbers.append(new)
        words[row] = numbers
    return words << _PLACES[::-1]


def _scrambled(words: "Words", lower: "Words") -> "Words":
    """Multiply each direction number, as a column of bits, by its lower triangular matrix modulo 2."""
    diagonal = np.arange(BITS)
    lower[:, diagonal, diagonal] = 1
    high_first = _PLACES[::-1]
    rows = lower @ (np.uint32(1) << high_first)  # each row of a matrix as one word
    parity = np.bitwise_count(rows[:, None, :] & words[:, :, None]) & 1
    return np.asarray(parity.astype(np.uint32) @ (np.uint32(1) << high_first))


# --- standard normal deviates -------------------------------------------------------------------

_ROOT_TWO_PI = 2.50662827463100050242
_TAIL = 0.13533528323661269189  # exp(-2)
_P0 = (-5.99633501014107895267e1, 9.80010754185999661536e1, -5.66762857469070293439e1,
       1.39312609387279679503e1, -1.23916583867381258016e0)  # fmt: skip
_Q0 = (1.0, 1.95448858338141759834e0, 4.67627912898881538453e0, 8.63602421390890590575e1,
       -2.25462687854119370527e2, 2.00260212380060660359e2, -8.20372256168333339912e1,
       1.59056225126211695515e1, -1.18331621121330003142e0)  # fmt: skip
_P1 = (4.05544892305962419923e0, 3.15251094599893866154e1, 5.71628192246421288162e1,
       4.40805073893200834700e1, 1.46849561928858024014e1, 2.18663306850790267539e0,
       -1.40256079171354495875e-1, -3.50424626827848203418e-2, -8.57456785154685413611e-4)  # fmt: skip
_Q1 = (1.0, 1.57799883256466749731e1, 4.53907635128879210584e1, 4.13172038254672030440e1,
       1.50425385692907503408e1, 2.50464946208309415979e0, -1.42182922854787788574e-1,
       -3.80806407691578277194e-2, -9.33259480895457427372e-4)  # fmt: skip
_P2 = (3.23774891776946035970e0, 6.91522889068984211695e0, 3.93881025292474443415e0,
       1.33303460815807542389e0, 2.01485389549179081538e-1, 1.23716634817820021358e-2,
       3.01581553508235416007e-4, 2.65806974686737550832e-6, 6.23974539184983293730e-9)  # fmt: skip
_Q2 = (1.0, 6.02427039364742014255e0, 3.67983563856160859403e0, 1.37702099489081330271e0,
       2.16236993594496635890e-1, 1.34204006088543189037e-2, 3.28014464682127739104e-4,
       2.89247864745380683936e-6, 6.79019408009981274425e-9)  # fmt: skip


def normal_deviates(share: "Array") -> "Array":
    """Return the standard normal deviates below which these shares of the distribution lie.

    Parameters
    ----------
    share : array
        Each above 0 and below 1; any shape.
    """
    flat = np.ravel(share)
    upper = flat > 1.0 - _TAIL
    y = np.where(upper, 1.0 - flat, flat)
    middle = y > _TAIL
    z = np.empty_like(flat)
    centred = y[middle] - 0.5
    square = centred * centred
    z[middle] = (centred + centred * (square * _polynomial(square, _P0) / _polynomial(square, _Q0))) * (
        _ROOT_TWO_PI
    )
    # The logarithm of the C library, one by one: NumPy's own may differ in the last bit.
    tails = ~middle
    x = np.sqrt(-2.0 * _logarithm(y[tails]))
    first = x - _logarithm(x) / x
    inverse = 1.0 / x
    near = inverse * _polynomial(inverse, _P1) / _polynomial(inverse, _Q1)
    far = inverse * _polynomial(inverse, _P2) / _polynomial(inverse, _Q2)
    out = first - np.where(x < 8.0, near, far)
    z[tails] = np.where(upper[tails], out, -out)
    return z.reshape(np.shape(share))


def _polynomial(x: "Array", coefficients: tuple[float, ...]) -> "Array":
    value = np.full_like(x, coefficients[0])
    for coefficient in coefficients[1:]:
        value = value * x + coefficient
    return value


def _logarithm(x: "Array") -> "Array":
    return np.array([math.log(one) for one in x.tolist()])
