"""How much room grains of several sizes take together.

Two models. The compressible packing model is the one the blending rule uses. The modified linear packing
model stays as a cross-check for all-mineral mixes, where the ideal Furnas limit is exact.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

COMPACTION_INDEX = 4.1  # K of a poured bed [delarrard1999]_, from memory
NEWTON_STEPS = 6


# --- compressible packing -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PairTables:
    """What the sizes alone say of every sub-grade i among the sub-grades of material m.

    In the compressible model 1/gamma_i = sum_m X_m [rigid_im + loose_im / beta_m]: linear in the parts, and
    the packing of sub-grade i itself drops out. rigid = share coarser - mean b; loose = mean b + mean a.
    """

    rigid: "NDArray[np.float64]"  # (sub-grades, materials)
    loose: "NDArray[np.float64]"  # (sub-grades, materials)
    entered: "NDArray[np.float64]"  # (materials entered, materials entering): mean of max(0, 1 - d_j/d_k)²


@lru_cache(maxsize=512)
def pair_tables(sizes_mm: tuple[tuple[float, ...], ...]) -> PairTables:
    """Tabulate loosening, wall effect and entering for materials given by their sub-grade sizes.

    Parameters
    ----------
    sizes_mm : tuple of tuples, materials by sub-grades
        Sub-grade sizes; every material has the same number. [mm]

    Notes
    -----
    Loosening by finer j: a_ij = sqrt(1 - (1 - d_j/d_i)^1.02); wall effect of coarser j:
    b_ij = 1 - (1 - d_i/d_j)^1.5   [delarrard1999]_ (form from memory). At equal size a = b = 1.
    """
    d = np.asarray(sizes_mm, dtype=float)
    own = d.reshape(-1)[:, None, None]  # sub-grade i
    other = d[None, :, :]  # sub-grade j of material m
    coarser = other > own
    with np.errstate(invalid="ignore"):
        wall = np.where(coarser, 1 - (1 - np.minimum(own / other, 1)) ** 1.5, 0.0)
        loosening = np.where(coarser, 0.0, np.sqrt(1 - (1 - np.minimum(other / own, 1)) ** 1.02))
    b, a = wall.mean(axis=2), loosening.mean(axis=2)
    into = np.maximum(0.0, 1 - d[None, :, None, :] / d[:, None, :, None]) ** 2  # (k, j, sub k, sub j)
    entered = into.mean(axis=(2, 3))
    np.fill_diagonal(entered, 0.0)
    for table in (rigid := coarser.mean(axis=2) - b, loose := a + b, entered):
        table.setflags(write=False)
    return PairTables(rigid, loose, entered)


def sub_grade_demand(
    envelope: "NDArray[np.float64]", beta: "NDArray[np.float64]", tables: PairTables
) -> "NDArray[np.float64]":
    """Return the volume that each sub-grade would need if it carried the packing. [volume, as envelope]

    Parameters
    ----------
    envelope : ndarray, shape (..., materials)
        Envelope ("solid") volume of each material.
    beta : ndarray, shape (..., materials)
        Virtual packing density of one size of each material.

    Returns
    -------
    ndarray, shape (..., sub-grades)
        sum S / gamma_i; the largest belongs to the sub-grade that carries the structure.
    """
    return np.asarray(envelope @ tables.rigid.T + (envelope / beta) @ tables.loose.T)


def packed_volume(
    envelope: "NDArray[np.float64]", beta: "NDArray[np.float64]", tables: PairTables
) -> "NDArray[np.float64]":
    """Return the volume that the grains take together by the compressible packing model.

    Parameters
    ----------
    envelope, beta : ndarray, shape (..., materials)
        As in `sub_grade_demand`; at least one envelope volume of each row above 0.

    Returns
    -------
    ndarray, shape (...)
        W that solves sum_i c_i / (W - P_i) = K with c_i = S_i / beta_i.   [delarrard1999]_

    Notes
    -----
    Newton on the reciprocal of the left side, which is concave and rises to the root from the start chosen
    here, so no safeguard is needed.
    """
    per_material = tables.rigid.shape[0] // envelope.shape[-1]
    c = np.repeat(envelope / beta / per_material, per_material, axis=-1)
    demand = np.where(c > 0, sub_grade_demand(envelope, beta, tables), 0.0)
    total = c.sum(axis=-1)
    start = (c * demand).sum(axis=-1) / total + total / COMPACTION_INDEX
    volume = np.maximum(start, (demand + c / COMPACTION_INDEX).max(axis=-1))
    for _step in range(NEWTON_STEPS):
        share = c / (volume[..., None] - demand)
        f = share.sum(axis=-1)
        slope = (share / (volume[..., None] - demand)).sum(axis=-1)
        volume = volume + f * (f / COMPACTION_INDEX - 1) / slope
    return np.asarray(volume)


def single_size_packing(void_fraction: "ArrayLike", tables: PairTables) -> "NDArray[np.float64]":
    """Return beta of one size such that the five sub-grades of a material leave its own void fraction.

    Parameters
    ----------
    void_fraction : array_like, shape (...)
        Void fraction of the whole grade, above 0 and below 1.
    tables : PairTables
        Tables of this one material.

    Returns
    -------
    ndarray, shape (...)
        beta; the single-size void fraction is 1 - beta K / (K + 1).
    """
    e = np.asarray(void_fraction, dtype=float)
    if not np.all((e > 0) & (e < 1)):
        raise BadQuantity(
            _("void fraction"), float(e[~((e > 0) & (e < 1))].flat[0]), "", _("between 0 and 1")
        )
    v = 1 / (1 - e)[..., None]
    rigid, loose = tables.rigid[:, 0], tables.loose[:, 0]
    count = len(rigid)
    # beta (v - rigid_i) - loose_i > 0 for every i; same Newton on the reciprocal, unknown beta
    gain = v - rigid
    beta = ((loose + 1 / (COMPACTION_INDEX * count)) / gain).max(axis=-1)
    for _step in range(4 * NEWTON_STEPS):
        term = 1 / (count * (beta[..., None] * gain - loose))
        f = term.sum(axis=-1)
        slope = (term**2 * count * gain).sum(axis=-1)
        beta = beta + f * (f / COMPACTION_INDEX - 1) / slope
    return np.asarray(beta)


# --- modified linear packing, cross-check -------------------------------------------------------


def displacement_by_coarse(r: "ArrayLike") -> "NDArray[np.float64]":
    """Return g(r): coarse grains displacing fine bulk; r = small/large size.   [yu1996]_"""
    r = np.asarray(r, dtype=float)
    return np.asarray((1 - r) ** 2.0 + 0.4 * r * (1 - r) ** 3.7)


def filling_by_fine(r: "ArrayLike") -> "NDArray[np.float64]":
    """Return f(r): fine grains slipping into coarse voids; r = small/large size.   [yu1996]_"""
    r = np.asarray(r, dtype=float)
    return np.asarray((1 - r) ** 3.3 + 2.8 * r * (1 - r) ** 2.7)


def linear_packing_void_fraction(
    envelope: "ArrayLike", void_fraction: "ArrayLike", size_mm: "ArrayLike"
) -> float:
    """Return the void fraction of a mix of single-sized rigid grains by the modified linear model.

    Parameters
    ----------
    envelope, void_fraction, size_mm : array_like, shape (grades,)
        Envelope volume of each grade [any one unit], its own void fraction, its size [mm].

    Raises
    ------
    BadQuantity
        If a void fraction is not between 0 and 1, a size or the total volume is not above 0.

    Notes
    -----
    v_i = v_i + Σ coarser [v_j - (v_j - 1) g(r_ij) - v_i] X_j + Σ finer [v_j - v_j f(r_ij) - v_i] X_j,
    v = max_i, e = 1 - 1/v   [yu1996]_. Exact in the limit of very unlike sizes [furnas1931]_; it reads the
    void of a poured bed too low near the switch, where real beds are rounder.
    """
    s, e, d = (np.atleast_1d(np.asarray(x, dtype=float)) for x in (envelope, void_fraction, size_mm))
    if not np.all((e > 0) & (e < 1)):
        raise BadQuantity(_("void fraction"), float(e[~((e > 0) & (e < 1))][0]), "", _("between 0 and 1"))
    if not np.all(d > 0):
        raise BadQuantity(_("grain size"), float(d[~(d > 0)][0]), "mm", _("above 0"))
    if not (np.all(s >= 0) and s.sum() > 0):
        raise BadQuantity(_("envelope volume"), float(s.min()), "L", _("0 or more, and above 0 in all"))

    share = s / s.sum()
    v = 1 / (1 - e)
    ratio = np.minimum(d[:, None], d[None, :]) / np.maximum(d[:, None], d[None, :])
    with_coarser = v[None, :] - (v[None, :] - 1) * displacement_by_coarse(ratio) - v[:, None]
    with_finer = v[None, :] - v[None, :] * filling_by_fine(ratio) - v[:, None]
    same = v[None, :] - v[:, None]
    pair = np.where(
        d[None, :] > d[:, None], with_coarser, np.where(d[None, :] < d[:, None], with_finer, same)
    )
    needed = v + pair @ share
    return float(1 - 1 / needed[share > 0].max())


def furnas_void_fraction(coarse_share: float, coarse_void: float, fine_void: float) -> float:
    """Return the void fraction of two very unlike sizes; the share is of envelope volume.

    Notes
    -----
    v = max[v_c y, y + v_f (1 - y)]   [furnas1931]_ (form from memory).
    """
    if not 0 <= coarse_share <= 1:
        raise BadQuantity(_("coarse share"), coarse_share, "", _("from 0 to 1"))
    for void in (coarse_void, fine_void):
        if not 0 < void < 1:
            raise BadQuantity(_("void fraction"), void, "", _("between 0 and 1"))
    v = max(coarse_share / (1 - coarse_void), coarse_share + (1 - coarse_share) / (1 - fine_void))
    return 1 - 1 / v


def threshold_coarse_share(coarse_void: float) -> float:
    """Return the loose share above which the coarse grains of a pair touch: 1/(1 + e).   [spomer1974]_"""
    if not 0 < coarse_void < 1:
        raise BadQuantity(_("void fraction of the coarse material"), coarse_void, "", _("between 0 and 1"))
    return 1 / (1 + coarse_void)
