"""Draws for a season: fixed by what is drawn and the number of the draw, by nothing else."""

import hashlib
import math
from typing import TYPE_CHECKING

import numpy as np

from friable.science.estimate import Estimate
from friable.science.ranges import split_normal
from friable.science.sobol import normal_deviates

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SEED = 20_261_125
LEAST_SHARE = 1e-3  # stands for none, where logarithms are drawn


def spread_evenly(name: str, draws: int) -> "Array":
    """Return standard normal deviates, one a draw, in an order that belongs to the name alone.

    They are the middles of equal shares of the distribution, so that even a few draws have the mean and
    nearly the spread of the whole (stratified sampling); with one draw it is the middle.
    """
    digest = hashlib.sha256(name.encode()).digest()
    order = np.random.Generator(np.random.PCG64([SEED, int.from_bytes(digest[:8], "big")])).permutation(draws)
    return np.asarray(normal_deviates((order + 0.5) / draws))


def drawn(name: str, draws: int, low: float, middle: float, high: float) -> "Array":
    """Return a quantity above 0, one value a draw: normal in its logarithm on either side of the middle."""
    z = spread_evenly(name, draws)
    return np.exp(split_normal(z, math.log(low), math.log(middle), math.log(high)))


def drawn_share(name: str, draws: int, share: Estimate) -> "Array":
    """Return a share of which the ends may be 0, one value a draw."""
    low, middle, high = (max(end, LEAST_SHARE) for end in (share.low, share.value, share.high))
    return drawn(name, draws, low, middle, high)
