"""What the materials alone say, tabulated once for a search."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.science.drainage import Column
from friable.science.ingredient import SUB_GRADES
from friable.science.mixture import Grades

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEPS = 2048


def flat_tables(grades: Grades, probes: Sequence[Column], sums: "Array", real: type) -> tuple["Array", ...]:
    """Return the tables of the inner loops, flat and in one precision.

    Parameters
    ----------
    grades : Grades
        One member: the materials at the middle of their ranges.
    probes : sequence of Column
    sums : ndarray, shape (sums, materials)
        What adds up by volume poured: dry bulk density, cost.
    real : numpy.float32 or numpy.float64

    Returns
    -------
    tuple
        demand (sub-grades, materials), core, void, entering, loss (materials, materials), inner (probes,
        materials), plain (1 + sums, materials), kept (probes, materials, 2049), means (probes, materials).

    Notes
    -----
    The mean of min[S, c] over a probe depends on the material and on c alone; between 2,049 values of c it
    is taken as straight, which is within 1e-6.
    """
    solid = 1 - grades.void
    by_poured = grades.tables.rigid * solid + grades.tables.loose * (solid / grades.beta)
    caps = np.linspace(0.0, 1.0, STEPS + 1)
    inner, kept, means = [], [], []
    for probe in probes:
        filling = grades.filling(probe.suctions_cm)
        inner.append(solid * grades.internal * (probe.weights @ filling.inner))
        means.append(probe.weights @ filling.outer)
        kept.append([_cut_off(outer, probe.weights, caps) for outer in filling.outer.T])
    plain = np.vstack([grades.void + solid * grades.internal, sums])
    tables = (
        by_poured,
        solid / grades.beta / SUB_GRADES,
        grades.void,
        grades.tables.entered,
        grades.pair_loss,
        np.array(inner),
        plain,
        np.array(kept),
        np.array(means),
    )
    return tuple(np.ascontiguousarray(table, dtype=real).ravel() for table in tables)


def _cut_off(filled: "Array", weights: "Array", caps: "Array") -> "Array":
    """Return the mean of min(S, c) at each c, exactly, by sums over the points in order of their filling."""
    order = np.argsort(filled)
    values, share = filled[order], weights[order]
    below = np.concatenate([[0.0], np.cumsum(values * share)])
    above = np.concatenate([[0.0], np.cumsum(share)])
    place = np.searchsorted(values, caps)
    return np.asarray(below[place] + caps * (above[-1] - above[place]))
