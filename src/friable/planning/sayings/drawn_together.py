"""Recipes of the same materials in one pot, drawn together, so that a difference has a range of its own."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning.forecast import ENSEMBLE_NODES, RULE, merge_parts
from friable.science import ranges
from friable.science.drainage import NODES, drained_column
from friable.science.estimate import Estimate
from friable.science.mixture import LARGEST_SHARE_ENTERED, Blend, Grades, blend, grades, water_held
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.sayings.values import Medium
    from friable.reference.materials import Material
    from friable.science.containers import Container

    Array = NDArray[np.float64]

# Forecasts of air miss by about this much on published mixes (docs/science/checks.md): a smaller
# difference between two of them is no finding.
TELLS_APART = 0.05
# The same mix in two places shares its errors; less than this is not noticed. Common practice, no source.
SAME_MIX_APART = 0.02
WET_BELOW_AIR = 0.10
# Suctions at which the wet zone of a medium is looked for; deeper pots than this are none.
ZONE_CM = np.concatenate(
    [np.linspace(0.0, 5.0, 101), np.linspace(5.25, 40.0, 140), np.geomspace(41, 1000, 60)]
)


@dataclass(frozen=True, slots=True)
class Varied:
    """One figure of several recipes: at the middle of all ranges, and for each draw (draws, recipes)."""

    middle: "Array"
    members: "Array | None"

    def of(self, place: int) -> Estimate:
        """Return the figure of one recipe with its range."""
        drawn = None if self.members is None else self.members[:, place]
        return estimate(float(self.middle[place]), drawn)

    def change(self, place: int, since: int = 0) -> Estimate:
        """Return by how much it is above that of another recipe, draw by draw."""
        drawn = None if self.members is None else self.members[:, place] - self.members[:, since]
        return estimate(float(self.middle[place] - self.middle[since]), drawn)


def estimate(value: float, drawn: "Array | None", source: str = RULE) -> Estimate:
    """Return a computed figure with the 5th and 95th percentile of its draws."""
    if drawn is None:
        return Estimate.exact(value, "computed", source)
    low, high = ranges.range_of(drawn)
    return Estimate(value, min(value, float(low)), max(value, float(high)), "computed", source)


@dataclass(frozen=True, slots=True)
class InPot:
    """Figures of several recipes of the same materials in one container."""

    air: Varied
    water: Varied
    porosity: Varied
    density: Varied  # g/cm3
    shrinkage: Varied

    @property
    def wet_density(self) -> Varied:
        """Mass of a litre that stands in the pot, with its water. [kg/L]"""
        drawn = None
        if self.density.members is not None and self.water.members is not None:
            drawn = self.density.members + self.water.members
        return Varied(self.density.middle + self.water.middle, drawn)


def shares_of(
    media: "Sequence[Medium]", rows: Sequence[Sequence[float]]
) -> "tuple[list[Material], Array, dict[frozenset[str], float]]":
    """Return the materials of several media, and the loose volume of each in every row of media.

    Parameters
    ----------
    media : sequence of Medium
    rows : sequence of sequences of float
        Loose volume of each medium, one row a recipe; any one unit.
    """
    merged = [merge_parts(medium.parts) for medium in media]
    materials = {material.key: material for parts in merged for material, _share in parts}
    keys = sorted(materials)
    each = np.zeros((len(media), len(keys)))
    for place, parts in enumerate(merged):
        total = sum(share for _material, share in parts)
        for material, share in parts:
            each[place, keys.index(material.key)] = share / total
    losses: dict[frozenset[str], float] = {}
    for medium in media:
        losses.update(medium.pair_overlap_loss)
    return [materials[key] for key in keys], np.asarray(rows, dtype=float) @ each, losses


def in_pot(
    media: "Sequence[Medium]",
    rows: Sequence[Sequence[float]],
    container: "Container",
    samples: int,
    *,
    denser: Sequence[float] | None = None,
) -> InPot:
    """Forecast several recipes of the same media in one container after watering and drainage.

    Parameters
    ----------
    media : sequence of Medium
    rows : sequence of sequences of float
        Loose volume of each medium, one row a recipe.
    container : Container
        Without a drainage layer.
    samples : int
        Draws for the ranges; 0 gives the middle only.
    denser : sequence of float, optional
        By how much each recipe is pressed: its density over that of a loose fill. 1 is loose.

    Notes
    -----
    A single recipe gives what `forecast` gives. Pressing takes the widest pores first, in proportion to
    the voids between the grains that are open; grains and the pores inside them stay as they are.
    """
    materials, volumes, losses = shares_of(media, rows)
    ingredients = tuple(material.physics for material in materials)
    middle = grades(ingredients, losses)
    press = np.ones(len(volumes)) if denser is None else np.asarray(denser, dtype=float)
    centre = _figures(_pressed(blend(volumes, middle), press), middle, container, NODES)
    drawn: list[Array | None] = [None] * len(centre)
    if samples:
        z = ranges.draws(2 * len(ingredients), samples)
        sampled = ranges.sampled_grades(middle, ingredients, z)
        mixed = _pressed(blend(volumes[:, None, :], sampled), press[:, None])
        drawn = [figure.T for figure in _figures(mixed, sampled, container, ENSEMBLE_NODES)]
    return InPot(*(Varied(one, members) for one, members in zip(centre, drawn, strict=True)))


def _figures(mix: Blend, curves: Grades, container: "Container", nodes: int) -> "list[Array]":
    column = drained_column(container, 0.0, nodes)
    water = water_held(mix, curves, curves.filling(column.suctions_cm)) @ column.weights
    air = mix.total_porosity - water
    return [air, water, mix.total_porosity, mix.dry_bulk_density_g_cm3, mix.shrinkage]


def _pressed(mix: Blend, denser: "Array") -> Blend:
    """Return the blend pressed to a multiple of its loose density."""
    if np.all(denser == 1):
        return mix
    if not np.all(denser >= 1):
        raise BadQuantity(_("density when pressed"), float(denser.min()), _("times loose"), _("1 or more"))
    wanted = mix.volume * (1 - 1 / denser)
    opened = np.maximum(0.0, mix.outer_void - mix.entered)
    room = opened.sum(axis=-1)
    if np.any(wanted > LARGEST_SHARE_ENTERED * room):
        most = float(1 / (1 - LARGEST_SHARE_ENTERED * (room / mix.volume).min()))
        raise BadQuantity(
            _("density when pressed"),
            float(denser.max()),
            _("times loose"),
            _("at most {most:.3g}, where the voids between the grains are used up").format(most=most),
        )
    taken = opened * (wanted / room)[..., None]
    volume = mix.volume - wanted
    return replace(
        mix,
        entered=mix.entered + taken,
        volume=volume,
        total_porosity=(mix.total_porosity * mix.volume - wanted) / volume,
        dry_bulk_density_g_cm3=mix.dry_bulk_density_g_cm3 * denser,
    )


def wet_zone(
    medium: "Medium",
    samples: int,
    *,
    with_shares: "Sequence[tuple[Medium, float]]" = (),
    air_limit: float = WET_BELOW_AIR,
) -> Estimate:
    """Return how high above open holes a drained medium keeps less air than the limit. [cm]

    Parameters
    ----------
    medium : Medium
    samples : int
    with_shares : sequence of (Medium, share)
        What else is in it, as a share of the whole.
    air_limit : float

    Notes
    -----
    Suction is the height above the holes, so this is the suction at which the air reaches the limit; the
    pot does not come into it. A medium whose pores are all smaller than the limit is wet to any height:
    then it is the highest suction looked at, 1000 cm.
    """
    rest = 1 - sum(share for _medium, share in with_shares)
    media = [medium, *(other for other, _share in with_shares)]
    row = [rest, *(share for _medium, share in with_shares)]
    materials, volumes, losses = shares_of(media, [row])
    ingredients = tuple(material.physics for material in materials)
    middle = grades(ingredients, losses)
    centre = float(_zone(volumes[0], middle, air_limit))
    drawn = None
    if samples:
        z = ranges.draws(2 * len(ingredients), samples)
        drawn = _zone(volumes[0], ranges.sampled_grades(middle, ingredients, z), air_limit)
    return estimate(centre, drawn)


def _zone(volumes: "Array", curves: Grades, air_limit: float) -> "Array":
    mix = blend(volumes, curves)
    air = mix.total_porosity[..., None] - water_held(mix, curves, curves.filling(ZONE_CM))
    reached = air >= air_limit
    place = np.where(reached.any(axis=-1), reached.argmax(axis=-1), len(ZONE_CM) - 1)
    before = np.maximum(place - 1, 0)
    upper = np.take_along_axis(air, place[..., None], axis=-1)[..., 0]
    lower = np.take_along_axis(air, before[..., None], axis=-1)[..., 0]
    step = np.where(upper > lower, upper - lower, 1.0)
    part = np.clip((air_limit - lower) / step, 0.0, 1.0)
    return np.asarray(ZONE_CM[before] + part * (ZONE_CM[place] - ZONE_CM[before]))
