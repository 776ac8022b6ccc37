"""The trade-off front: what is not beaten in everything at once."""

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


def unbeaten(costs: "Array") -> "NDArray[np.intp]":
    """Return the places of the rows that no other row beats.

    Parameters
    ----------
    costs : ndarray, shape (rows, aims)
        Smaller is better in each. A row beats another if it is nowhere worse and somewhere better.

    Returns
    -------
    ndarray
        In the order of the rows. Of equal rows all are kept.
    """
    left = np.lexsort(costs.T[::-1])  # whoever beats a row stands before it
    kept: list[int] = []
    while len(left):
        first = left[0]
        kept.append(int(first))
        best = costs[first]
        others = costs[left]
        beaten = (others >= best).all(axis=1) & (others > best).any(axis=1)
        beaten[0] = True
        left = left[~beaten]
    return np.array(sorted(kept), dtype=np.intp)
