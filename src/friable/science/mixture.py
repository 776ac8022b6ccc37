"""The blending rule: what several materials poured together take, hold and let through.

Fine grains slip into the voids of coarse ones. Of the overlap that geometry asks for, a share (lambda) is
lost as volume, the rest becomes pores of the finer material; the largest pores of the entered material go
first. A material alone returns its own curve exactly. Equations and checks: docs/science/blending.md.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.science.ingredient import SUB_GRADES, Ingredient
from friable.science.packing import (
    COMPACTION_INDEX,
    PairTables,
    packed_volume,
    pair_tables,
    single_size_packing,
    sub_grade_demand,
)
from friable.science.retention import saturation
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]

LARGEST_SHARE_ENTERED = 0.97  # of the voids of a material; the rest always stays open
SWITCH_STEPS = np.linspace(0.0, 1.0, 101)
ROUNDING = 1e-12  # of the volume poured; less than this is no room wanted


@dataclass(frozen=True, slots=True)
class Grades:
    """The materials of a mix as arrays; the last axis is the material, axes before it are members.

    `scale` multiplies both alphas of a material: 1 is the curve as tabulated, above 1 is coarser-pored.
    """

    void: "Array"
    beta: "Array"
    internal: "Array"
    density_g_cm3: "Array"
    scale: "Array"
    alpha_ext: "Array"
    n_ext: "Array"
    alpha_int: "Array"
    n_int: "Array"
    pair_loss: "Array"  # (material, material): lambda of the pair
    tables: PairTables

    def filling(self, suction_cm: "ArrayLike") -> "Filling":
        """Return how full each pore family of each material is at each suction. [cm]"""
        s = np.atleast_1d(np.asarray(suction_cm, dtype=float))
        if not np.all(s >= 0):
            raise BadQuantity(_("suction"), float(s[~(s >= 0)].flat[0]), "cm", _("0 or more"))
        outer = saturation(s[:, None], (self.scale * self.alpha_ext)[..., None, :], self.n_ext)
        inner = saturation(s[:, None], (self.scale * self.alpha_int)[..., None, :], self.n_int)
        return Filling(outer, inner)


@dataclass(frozen=True, slots=True)
class Filling:
    """Filled share of the voids between grains and of the pores inside; members + (suctions, materials)."""

    outer: "Array"
    inner: "Array"


@lru_cache(maxsize=512)
def _middle(ingredients: tuple[Ingredient, ...]) -> Grades:
    def column(name: str) -> "Array":
        return np.array([getattr(i, name) for i in ingredients], dtype=float)

    loss = column("overlap_loss")
    return Grades(
        void=column("void_fraction"),
        beta=(1 + 1 / COMPACTION_INDEX) * (1 - column("void_fraction_single_size")),
        internal=column("internal_porosity"),
        density_g_cm3=column("dry_bulk_density_g_cm3"),
        scale=np.ones(len(ingredients)),
        alpha_ext=column("alpha_ext_per_cm"),
        n_ext=column("n_ext"),
        alpha_int=column("alpha_int_per_cm"),
        n_int=column("n_int"),
        pair_loss=np.minimum(loss[:, None], loss[None, :]),
        tables=pair_tables(tuple(i.sub_sizes_mm for i in ingredients)),
    )


def grades(
    ingredients: Sequence[Ingredient], pair_overlap_loss: Mapping[frozenset[str], float] | None = None
) -> Grades:
    """Return the arrays of a list of materials, each once, at the middle of their ranges.

    Parameters
    ----------
    ingredients : sequence of Ingredient
        Each material once, in any order; the results follow this order.
    pair_overlap_loss : mapping from a pair of keys to lambda, optional
        Replaces lambda of that pair, as learned from one measured mix volume.

    Raises
    ------
    ValueError
        If a material stands twice.
    """
    keys = [i.key for i in ingredients]
    if len(set(keys)) != len(keys):
        raise ValueError("a material stands twice; merge the lines first")
    middle = _middle(tuple(ingredients))
    if not pair_overlap_loss:
        return middle
    loss = middle.pair_loss.copy()
    for pair, value in pair_overlap_loss.items():
        if not 0 <= value <= 1:
            raise BadQuantity(_("overlap loss of a pair"), value, "", _("from 0 to 1"))
        places = [keys.index(k) for k in pair if k in keys]
        if len(places) == 2:
            loss[places[0], places[1]] = loss[places[1], places[0]] = value
    return replace_grades(middle, pair_loss=loss)


def replace_grades(old: Grades, **changes: "Array") -> Grades:
    """Return the grades with some arrays changed."""
    fields = {name: getattr(old, name) for name in Grades.__slots__}
    return Grades(**(fields | changes))


@dataclass(frozen=True, slots=True)
class Blend:
    """A mix per litre or any other unit poured; leading axes are members, the last is the material."""

    poured: "Array"  # V_k
    solid: "Array"  # S_k, envelope volumes
    outer_void: "Array"  # U_k, loose void of each part
    entered: "Array"  # G_k, share of U_k taken by finer parts
    bulked: "Array"  # C_k, space that stays as pores of part k
    demand: "Array"  # what each sub-grade would need if it carried the packing
    lost: "Array"  # L, volume lost
    unplaced: "Array"  # overlap that found no room under the cap, dropped
    volume: "Array"  # V_mix
    total_porosity: "Array"
    dry_bulk_density_g_cm3: "Array"
    shrinkage: "Array"

    @property
    def supporting(self) -> "NDArray[np.intp]":
        """Index of the material that carries the structure."""
        return np.asarray(self.demand.argmax(axis=-1) // SUB_GRADES)


def blend(volumes: "ArrayLike", grades_: Grades) -> Blend:
    """Pour loose volumes together.

    Parameters
    ----------
    volumes : array_like, shape (..., materials)
        Loose volume of each material; 0 leaves it out. Any one unit.
    grades_ : Grades
        Broadcasts against `volumes`.

    Raises
    ------
    BadQuantity
        If a volume is negative or not a number, or none is above 0.
    """
    v = np.asarray(volumes, dtype=float)
    if not np.all(v >= 0):
        raise BadQuantity(_("loose volume"), float(v[~(v >= 0)].flat[0]), "L", _("0 or more"))
    poured_total = v.sum(axis=-1)
    if not (np.all(poured_total > 0) and np.all(np.isfinite(poured_total))):
        raise BadQuantity(_("loose volume in all"), float(np.min(poured_total)), "L", _("above 0 and finite"))

    v = np.broadcast_to(v, np.broadcast_shapes(v.shape, grades_.void.shape))
    poured_total = v.sum(axis=-1)
    outer_void = v * grades_.void
    solid = v - outer_void
    demand = sub_grade_demand(solid, grades_.beta, grades_.tables)
    inner_pores = (solid * grades_.internal).sum(axis=-1)

    entered, moved, unplaced = _share_overlap(v, outer_void, solid, poured_total, grades_)
    lost = (moved * grades_.pair_loss).sum(axis=(-2, -1))
    bulked = (moved * (1 - grades_.pair_loss)).sum(axis=-2)

    volume = poured_total - lost
    return Blend(
        poured=v,
        solid=solid,
        outer_void=outer_void,
        entered=entered,
        bulked=bulked,
        demand=np.where(np.repeat(v > 0, SUB_GRADES, axis=-1), demand, -np.inf),
        lost=lost,
        unplaced=unplaced,
        volume=volume,
        total_porosity=(outer_void.sum(axis=-1) - lost + inner_pores) / volume,
        dry_bulk_density_g_cm3=(v * grades_.density_g_cm3).sum(axis=-1) / volume,
        shrinkage=lost / poured_total,
    )


def _share_overlap(
    v: "Array", outer_void: "Array", solid: "Array", poured_total: "Array", g: Grades
) -> tuple["Array", "Array", "Array"]:
    """Return what each part loses to others (G_k), from whom to whom (G_kj), and what found no room."""
    weight = outer_void[..., :, None] * v[..., None, :] * g.tables.entered
    by_part = weight.sum(axis=-1)
    total_weight = by_part.sum(axis=-1)
    if v.shape[-1] == 1 or not total_weight.any():
        nothing = np.zeros_like(v)
        return nothing, np.zeros_like(weight), np.zeros_like(poured_total)

    overlap = np.maximum(0.0, poured_total - packed_volume(solid, g.beta, g.tables))
    overlap = np.where(total_weight > 0, overlap, 0.0)
    most = LARGEST_SHARE_ENTERED * outer_void
    entered = _ratio(overlap[..., None] * by_part, total_weight[..., None])
    full = np.zeros(v.shape, dtype=bool)
    for _round in range(v.shape[-1]):
        over = entered > most * (1 + 1e-12)
        if not over.any():
            break
        full |= over
        left = overlap - np.where(full, most, 0.0).sum(axis=-1)
        open_weight = np.where(full, 0.0, by_part)
        spread = _ratio(left[..., None] * open_weight, open_weight.sum(axis=-1)[..., None])
        entered = np.where(full, most, spread)
    moved = weight * _ratio(entered, by_part)[..., None]
    left = overlap - entered.sum(axis=-1)
    return entered, moved, np.where(left > ROUNDING * poured_total, left, 0.0)


def _ratio(upper: "Array", lower: "Array") -> "Array":
    """Divide, with 0 where the divisor is 0 (a part that takes no part in the sharing)."""
    return np.divide(
        upper, lower, out=np.zeros(np.broadcast_shapes(upper.shape, lower.shape)), where=lower > 0
    )


def water_held(mix: Blend, grades_: Grades, filling: Filling) -> "Array":
    """Return the water that a mix holds at the suctions of a filling.

    Parameters
    ----------
    mix : Blend
    grades_ : Grades
        The same as the blend was made from.
    filling : Filling
        From `grades_.filling(suctions)`.

    Returns
    -------
    ndarray, shape members + (suctions,)
        Water per volume of finished mix. [m³ m⁻³]

    Notes
    -----
    V θ(s) = Σ V_k (1 - e_k) φ_k S_int,k(s) + Σ { min[U_k S_ext,k(s), U_k - G_k] + C_k S_ext,k(s) }.
    The min() takes the largest pores of an entered part away first: finer grains sit where there is room.
    """
    inner_pores = (mix.solid * grades_.internal)[..., None, :]
    void = mix.outer_void[..., None, :]
    left = np.minimum(void * filling.outer, void - mix.entered[..., None, :])
    held = inner_pores * filling.inner + left + mix.bulked[..., None, :] * filling.outer
    return np.asarray(held.sum(axis=-1) / mix.volume[..., None])


def plain_average_water(volumes: "ArrayLike", grades_: Grades, filling: Filling) -> "Array":
    """Return the water of the plain volume average of the parts: no shrinkage, no filling of gaps."""
    v = np.asarray(volumes, dtype=float)
    share = v / v.sum(axis=-1, keepdims=True)
    outer_pores = (share * grades_.void)[..., None, :]
    inner_pores = (share * (1 - grades_.void) * grades_.internal)[..., None, :]
    return np.asarray((outer_pores * filling.outer + inner_pores * filling.inner).sum(axis=-1))


def switch_share(mix: Blend, grades_: Grades) -> float | None:
    """Return the loose share of the supporting material at which another takes over; None if none does.

    Parameters
    ----------
    mix : Blend
        One member; the other parts keep their proportion to each other.
    grades_ : Grades
        The same as the blend was made from.
    """
    v = mix.poured
    share = v / v.sum()
    main = int(mix.supporting)
    others = np.where(np.arange(len(v)) == main, 0.0, share)
    if not others.sum() > 0:
        return None
    alone = np.zeros_like(share)
    alone[main] = 1.0
    others = others / others.sum()

    def demand(at: "Array") -> "Array":
        solid = at * (1 - grades_.void)
        return sub_grade_demand(solid, grades_.beta, grades_.tables).reshape(len(v), SUB_GRADES)

    with_main, with_others = demand(alone), demand(others)  # demand is linear in the shares
    rest = others > 0

    def lead(x: "Array") -> "Array":
        """Demand of the main material less the largest of the others, at each share x of the main one."""
        at = x[:, None, None] * with_main + (1 - x)[:, None, None] * with_others
        return np.asarray(at[:, main].max(axis=1) - at[:, rest].max(axis=(1, 2)))

    high, low = float(share[main]), 0.0
    for _narrowing in range(2):
        x = high + (low - high) * SWITCH_STEPS
        ahead = lead(x)
        behind = np.flatnonzero(ahead <= 0)
        if not len(behind) or behind[0] == 0:
            return None if high == float(share[main]) and low == 0.0 else (low + high) / 2
        first = behind[0]
        high, low = float(x[first - 1]), float(x[first])
    return float(high + (low - high) * ahead[first - 1] / (ahead[first - 1] - ahead[first]))


def overlap_loss_from_volume(
    ingredients: tuple[Ingredient, Ingredient], volumes_l: tuple[float, float], measured_mix_l: float
) -> float:
    """Return lambda of a pair from one measured mix volume.

    Raises
    ------
    BadQuantity
        If the measured volume is above the sum of the parts, or below what full loss of the overlap leaves.
    """
    whole = blend(volumes_l, grades(ingredients, {frozenset(i.key for i in ingredients): 1.0}))
    poured = sum(volumes_l)
    smallest = float(whole.volume)
    if not smallest - 1e-9 <= measured_mix_l <= poured:
        raise BadQuantity(
            _("measured mix volume"),
            measured_mix_l,
            "L",
            _("at most the sum of the parts ({poured:.3g} L) and at least {smallest:.3g} L").format(
                poured=poured, smallest=smallest
            ),
            _(
                "Measure again in the same way, without pressing; if it stays so, write the loss as the "
                "shrinkage of the mix."
            ),
        )
    room = poured - smallest
    if room <= 0:
        raise BadQuantity(
            _("overlap of this pair"),
            0.0,
            "L",
            _("above 0"),
            _("These two do not fill each other's gaps; nothing to learn."),
        )
    return min(1.0, (poured - measured_mix_l) / room)


@lru_cache(maxsize=512)
def _beta_by_void(sub_sizes_mm: tuple[float, ...]) -> tuple["Array", "Array"]:
    """Tabulate beta of one size against the void fraction of the whole grade; error below 1e-5."""
    void = np.linspace(0.02, 0.98, 481)
    return void, single_size_packing(void, pair_tables((sub_sizes_mm,)))


def with_beta(old: Grades, void: "Array", ingredients: Sequence[Ingredient]) -> "Array":
    """Return beta for changed void fractions, so that each material alone still returns its own.

    Parameters
    ----------
    old : Grades
        At the middle of the ranges.
    void : ndarray, shape (members, materials)
    """
    columns = []
    for k, ingredient in enumerate(ingredients):
        grid, beta = _beta_by_void(ingredient.sub_sizes_mm)
        columns.append(old.beta[k] * np.interp(void[..., k], grid, beta) / np.interp(old.void[k], grid, beta))
    return np.stack(columns, axis=-1)
