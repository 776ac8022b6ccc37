"""Which recipes there are: whole parts of so many materials, every proportion once."""

from functools import lru_cache
from math import comb, gcd
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


@lru_cache(maxsize=64)
def compositions(parts: int, kinds: int, *, exactly: bool = False) -> "NDArray[np.int64]":
    """Return the ways to share out whole parts over so many materials, each getting some.

    Parameters
    ----------
    parts : int
        In all: up to so many, each proportion once and in its smallest numbers (1 : 1, not 2 : 2); exactly
        so many with `exactly`, as they come.
    kinds : int

    Returns
    -------
    ndarray, shape (ways, kinds)
        In the order of a dictionary. There are C(parts - 1, kinds - 1) in exactly so many parts.
    """
    found = _ways(parts, kinds, exactly)
    kept = [way for way in found if exactly or gcd(*way) == 1]
    table = np.array(kept, dtype=np.int64).reshape(len(kept), kinds)
    table.setflags(write=False)
    return table


def _ways(parts: int, kinds: int, exactly: bool) -> list[tuple[int, ...]]:
    if kinds == 1:
        return [(parts,)] if exactly else [(n,) for n in range(1, parts + 1)]
    return [
        (first, *rest)
        for first in range(1, parts - kinds + 2)
        for rest in _ways(parts - first, kinds - 1, exactly)
    ]


def choice(number: int, among: int, chosen: int) -> list[int]:
    """Return the places of the choice with this number, in the order of a dictionary, from 0 on."""
    places, place = [], 0
    for left in range(chosen, 0, -1):
        while (skipped := comb(among - place - 1, left - 1)) <= number:
            number -= skipped
            place += 1
        places.append(place)
        place += 1
    return places
