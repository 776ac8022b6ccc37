"""How far two mixes are apart in the containers they are used in: the distance that a stand-in is judged by.

Air and water by thirds of the height, the water left at 50 and 100 cm of suction (how it dries), the wet
weight, and the flags. One unit is what a forecast is off by: 5 points of the volume, or 0.1 kg in a litre.
The distance is the root mean square of all of them, containers counted alike; every step by which lime, feed,
dust or hygiene get worse adds a fifth. These scales are our judgement; no source weighs them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from friable.errors import BadRecipe
from friable.planning.forecast import merge_parts, suctions_under
from friable.planning.replacing_values import THIRDS, Distance
from friable.reference.windows import FLAGS, WORDS_OF
from friable.science.drainage import Column
from friable.science.mixture import blend, grades, water_held
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material
    from friable.science.containers import Container

    Array = NDArray[np.float64]

POINTS = 0.05  # what a forecast of air or water is off by on published mixes
KG_PER_L = 0.1
FLAG_STEP = 0.2
DRYING_CM = (50.0, 100.0)
NODES = 24  # in each third
POROSITY, DENSITY, FIRST_PROBE = 0, 1, 2
AIR, WATER, DRYING, WEIGHT = "air", "water", "drying", "weight"
KINDS_OF_TERM = (AIR, WATER, DRYING, WEIGHT)


@dataclass(frozen=True, slots=True, eq=False)
class Behaviour:
    """What is compared: terms that are linear in porosity, dry density and the water of each probe.

    A term's gain is the root of its weight over its scale: the distance is the root of the sum of squares of
    gain times difference.
    """

    probes: tuple[Column, ...]
    coefficients: "Array"  # (terms, 2 + probes)
    gains: "Array"
    kinds: tuple[str, ...]  # of each term: air, water, drying, weight
    thirds: "Array"  # (containers, 3, 2 + probes): water of each third


def behaviour(containers: "Sequence[Container]", layer_material: "Material | None" = None) -> Behaviour:
    """Return what is compared in these containers.

    Raises
    ------
    BadRecipe
        If there is no container, or a drainage layer has no material.
    """
    if not containers:
        raise BadRecipe(_("No container is named; say which pots the mix is used in."))
    probes = [Column(np.zeros(1), np.array([suction]), np.ones(1)) for suction in DRYING_CM]
    of_pot = []  # probes and their share of the volume, by container and third
    for container in containers:
        bases = suctions_under(container, layer_material)
        places, shares = [], []
        for third in range(len(THIRDS)):
            column_of_base = [_third(container, base, third) for base in bases]
            places.append(range(len(probes), len(probes) + len(bases)))
            shares.append(column_of_base[0][1])
            probes += [column for column, _volume in column_of_base]
        of_pot.append((places, np.array(shares) / sum(shares)))
    wide = FIRST_PROBE + len(probes)
    thirds = np.zeros((len(containers), len(THIRDS), wide))
    terms, weights, scales, kinds = [], [], [], []
    figures = 2 * len(THIRDS) + len(DRYING_CM) + 1
    for place in range(len(DRYING_CM)):
        terms.append(_unit(wide, FIRST_PROBE + place))
        weights.append(1 / figures)
        scales.append(POINTS)
        kinds.append(DRYING)
    for pot, (places, volumes) in enumerate(of_pot):
        wet = _unit(wide, DENSITY)
        for third, of_third in enumerate(places):
            for place in of_third:
                thirds[pot, third, FIRST_PROBE + place] = 1 / len(of_third)
            water = thirds[pot, third]
            wet = wet + volumes[third] * water
            terms += [_unit(wide, POROSITY) - water, water]
            scales += [POINTS, POINTS]
            kinds += [AIR, WATER]
        terms.append(wet)
        scales.append(KG_PER_L)
        kinds.append(WEIGHT)
        weights += [1 / figures / len(containers)] * (2 * len(THIRDS) + 1)
    gains = np.sqrt(np.array(weights)) / np.array(scales)
    return Behaviour(tuple(probes), np.array(terms), gains, tuple(kinds), thirds)


def measured(
    parts: "Sequence[tuple[Material, float]]",
    of: Behaviour,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> "tuple[Array, float]":
    """Return what a mix does and its shrinkage, at the middle of its ranges.

    What it does: porosity, dry density [g/cm3] and the water of each probe.
    """
    merged = merge_parts(parts)
    curves = grades(tuple(material.physics for material, _share in merged), pair_overlap_loss)
    volumes = np.array([share for _material, share in merged])
    mix = blend(volumes / volumes.sum(), curves)
    suctions = np.concatenate([probe.suctions_cm for probe in of.probes])
    held = water_held(mix, curves, curves.filling(suctions))
    ends = np.cumsum([len(probe.weights) for probe in of.probes])[:-1]
    waters = [
        float(water @ probe.weights) for water, probe in zip(np.split(held, ends), of.probes, strict=True)
    ]
    figures = np.array([float(mix.total_porosity), float(mix.dry_bulk_density_g_cm3), *waters])
    return figures, float(mix.shrinkage)


def distance(
    of: Behaviour,
    before: "Array",
    after: "Array",
    flags_before: Mapping[str, Any],
    flags: Mapping[str, Any],
) -> Distance:
    """Return how far a mix is from another; both as `measured` and flags as `mix_flags` give them."""
    off = of.gains * (of.coefficients @ (after - before))
    added = FLAG_STEP * steps_worse(flags_before, flags)
    by_kind = {}
    for kind in KINDS_OF_TERM:
        here = [place for place, name in enumerate(of.kinds) if name == kind]
        scale = KG_PER_L if kind == WEIGHT else POINTS
        weight = of.gains[here] ** 2 * scale**2
        by_kind[kind] = float(np.sqrt((off[here] ** 2).sum() / weight.sum()))
    return Distance(value=float(np.sqrt((off**2).sum())) + added, flags=added, **by_kind)


def steps_worse(before: Mapping[str, Any], after: Mapping[str, Any]) -> int:
    """Return by how many steps lime, feed, dust and hygiene get worse together; better counts for nothing."""
    return sum(
        max(0, WORDS_OF[flag].index(after[flag]) - WORDS_OF[flag].index(before[flag])) for flag in FLAGS
    )


def _unit(wide: int, place: int) -> "Array":
    row = np.zeros(wide)
    row[place] = 1.0
    return row


def _third(container: "Container", suction_at_base_cm: float, third: int) -> tuple[Column, float]:
    """Return points along a third of the height, and what is proportional to its volume."""
    x, w = np.polynomial.legendre.leggauss(NODES)
    height = container.medium_height_cm / len(THIRDS)
    t = (x + 1) / 2
    # Points crowd towards the floor in the lowest third, where coarse media change most.
    above, weights = (height * t**2, w * t) if third == 0 else (height * (third + t), w / 2)
    heights = container.drainage_layer_cm + above
    weights = weights * container.area_cm2(heights)
    volume = float(weights.sum()) * height
    return Column(heights, suction_at_base_cm + above, weights / weights.sum()), volume
