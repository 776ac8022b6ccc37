"""What the flow of water needs to know of a mix: water and conductivity against suction, and their range.

Water is that of the blending rule, conductivity that of `friable.science.conductivity`. The range of a mix is
a handful of drawn media, each of a piece: a member that is denser holds more and conducts less.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning.forecast import merge_parts
from friable.reference.conductivity import saturated_conductivity_cm_h as tabulated_conductivity_cm_h
from friable.reference.materials import all_materials
from friable.science import ranges
from friable.science.conductivity import (
    hydraulic_size_mm,
    mix_conductivity_cm_h,
    relative_conductivity,
    saturated_conductivity_cm_h,
    sauter_mm,
)
from friable.science.flow.medium import TABLE_SUCTIONS_CM, Medium, on_the_mean
from friable.science.mixture import Grades, blend, grades, water_held
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material

    Array = NDArray[np.float64]

WIDEST_PORE_CM = 2.0  # wider ones conduct as these; set on what is published of moss and raw humus
CONDUCTIVITY_RANGE = 7.0  # the 95th percentile over the middle, and the middle over the 5th
MOST_DRAWS = 1024


@dataclass(frozen=True, slots=True, eq=False)
class MediumFigures:
    """A medium for the flow of water, with what its weight and air are worked from."""

    medium: Medium
    total_porosity: float
    dry_bulk_density_g_cm3: float


def media(
    parts: "Sequence[tuple[Material, float]]",
    *,
    draws: int = 0,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> tuple[MediumFigures, ...]:
    """Return the medium of a mix at the middle of all ranges, then as many drawn ones as asked for.

    Parameters
    ----------
    parts : sequence of (Material, loose volume)
        In any order and any one unit of volume.
    draws : int
        Members drawn from the ranges, the same at every call; 16 or 32 stand for the whole range well.
    pair_overlap_loss : mapping, optional
        lambda of pairs of keys learned from measured mix volumes.

    Raises
    ------
    BadRecipe, BadQuantity
        If the parts are empty or impossible, or the number of draws is not from 0 to 1024.

    Notes
    -----
    Draws are the first of a scrambled Sobol sequence (a power of two of them is evenly spread), two columns
    for each material as in `ranges.input_names` and one for the conductivity. That one shifts the whole
    curve: divided by `CONDUCTIVITY_RANGE` at the 5th percentile, multiplied by it at the 95th. Estimated from
    published conductivities, docs/science/flow_media.md.
    """
    if not 0 <= draws <= MOST_DRAWS:
        raise BadQuantity(
            _("number of drawn media"), draws, "", _("from 0 to {most}").format(most=MOST_DRAWS)
        )
    merged = merge_parts(parts)
    ingredients = tuple(material.physics for material, _share in merged)
    total = sum(share for _material, share in merged)
    volumes = np.array([share / total for _material, share in merged])
    size = np.array([_hydraulic_size_mm(material) for material, _share in merged])
    middle = grades(ingredients, pair_overlap_loss)
    found = _figures(volumes, middle, size, np.ones(1))
    if draws:
        inputs = 2 * len(ingredients) + 1
        z = ranges.draws(inputs, max(draws, ranges.FEWEST_SAMPLES))[:draws]
        drawn = ranges.sampled_grades(middle, ingredients, z[:, :-1])
        spread = np.exp(z[:, -1] / ranges.NINETY_FIVE * math.log(CONDUCTIVITY_RANGE))
        found += _figures(volumes, drawn, size, spread)
    return tuple(found)


def layer_medium(material: "Material", *, water_entry_cm: float | None = None) -> Medium:
    """Return one material by itself, for a drainage layer.

    Parameters
    ----------
    material : Material
    water_entry_cm : float, optional
        Suction beyond which the layer lets no water through (broken films); None lets the curve run on
        (continuous films). [cm]

    Raises
    ------
    BadQuantity
        If the suction of water entry is not above 0.
    """
    medium = media([(material, 1.0)])[0].medium
    if water_entry_cm is None:
        return medium
    if not 0 < water_entry_cm < math.inf:
        raise BadQuantity(_("suction of water entry"), water_entry_cm, "cm", _("above 0"))
    through = np.where(medium.suction_cm <= water_entry_cm, medium.conductivity_cm_h, 0.0)
    return Medium(water=medium.water, conductivity_cm_h=through)


def _hydraulic_size_mm(material: "Material") -> float:
    """Return the size that makes a material alone conduct as tabulated, or else as its kind does."""
    own = tabulated_conductivity_cm_h(material.key)
    if own is not None:
        return float(hydraulic_size_mm(_tabulated_void(material.key), own.value))
    return math.sqrt(_factor_of_kind(material.kind)) * sauter_mm(material.physics.sub_sizes_mm)


@lru_cache(maxsize=512)
def _tabulated_void(key: str) -> float:
    """Voids that the tabulated conductivity goes with; a material measured here may lie looser or denser."""
    return next(m.physics.void_fraction for m in all_materials() if m.key == key)


@lru_cache(maxsize=16)
def _factor_of_kind(kind: str) -> float:
    """Share of Kozeny-Carman that the tabulated materials of a kind reach, middle of the logarithms."""
    logs = []
    for material in all_materials():
        own = tabulated_conductivity_cm_h(material.key)
        if own is not None and material.kind == kind:
            size = sauter_mm(material.physics.sub_sizes_mm)
            by_grains = saturated_conductivity_cm_h(material.physics.void_fraction, size)
            logs.append(math.log(own.value / float(by_grains)))
    return math.exp(sum(logs) / len(logs))


def _figures(volumes: "Array", curves: Grades, size: "Array", spread: "Array") -> list[MediumFigures]:
    mix = blend(volumes, curves)
    held = np.atleast_2d(water_held(mix, curves, curves.filling(TABLE_SUCTIONS_CM)))
    water = np.minimum.accumulate(held, axis=-1)  # falls but for rounding
    full = np.atleast_1d(mix_conductivity_cm_h(mix, size)) * spread
    conductivity = full[:, None] * relative_conductivity(TABLE_SUCTIONS_CM, water, widest_cm=WIDEST_PORE_CM)
    water, conductivity = (on_the_mean(curve, TABLE_SUCTIONS_CM) for curve in (water, conductivity))
    porosity, density = np.atleast_1d(mix.total_porosity), np.atleast_1d(mix.dry_bulk_density_g_cm3)
    return [
        MediumFigures(Medium(water=w, conductivity_cm_h=np.minimum.accumulate(k)), float(p), float(d))
        for w, k, p, d in zip(water, conductivity, porosity, density, strict=True)
    ]
