"""The bench porosity test: water in, water out, and what it says of another depth."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from friable.errors import BadQuantity, Refused
from friable.science.containers import Container
from friable.science.drainage import drained_mean
from friable.science.estimate import Estimate
from friable.science.retention import RetentionCurve
from friable.wording import gettext as _

SMALLEST_ALPHA_PER_CM, LARGEST_ALPHA_PER_CM = 1e-5, 1e4
BISECTIONS = 45
MOST_RESIDUAL = 0.9
LOW, MIDDLE, HIGH = 0.05, 0.5, 0.95
LITTLE_L = 1e-9


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What the test says of the same mix in another container."""

    container: Container
    air_space: Estimate
    container_capacity: Estimate

    def to_json(self) -> dict[str, Any]:
        """Return the figures under the names that programs read."""
        return {
            "container": self.container.describe(),
            "column_height_cm": self.container.medium_height_cm,
            "air_space": dict(self.air_space.to_json()),
            "container_capacity": dict(self.container_capacity.to_json()),
        }


@dataclass(frozen=True, slots=True)
class PotTest:
    """A bench test, valid for the depth in which it was made. Shares of the volume below the fill line."""

    container: Container
    volume_l: float
    total_porosity: float
    air_space: float
    container_capacity: float
    column_height_cm: float
    advice: str
    also_in: Elsewhere | None = None

    def to_json(self) -> dict[str, Any]:
        """Return the test under the names that programs read."""
        return {
            "total_porosity": self.total_porosity,
            "air_space": self.air_space,
            "container_capacity": self.container_capacity,
            "column_height_cm": self.column_height_cm,
            "volume_l": self.volume_l,
            "valid_for": self.container.describe(),
            "also_in": self.also_in.to_json() if self.also_in else None,
            "advice": self.advice,
        }


def read_pot_test(
    container: Container, water_in_l: float, drained_l: float, also_in: Container | None = None
) -> PotTest:
    """Return porosity, air and water from water poured in and water drained out.

    Parameters
    ----------
    container : Container
        The pot of the test, with its headspace.
    water_in_l : float
        To fill every pore of the dry mix to the fill line, holes closed. [L]
    drained_l : float
        Caught after the holes were opened. [L]
    also_in : Container, optional
        Another container for which the air is wanted.

    Raises
    ------
    BadQuantity, Refused
        If more water went in than the pot holds, or more came out than went in.

    Notes
    -----
    Total porosity = water in / volume; air space = drained / volume; container capacity = the difference.
    """
    volume = container.medium_volume_l
    if not 0 < water_in_l < math.inf:
        raise BadQuantity(_("the water poured in"), water_in_l, "L", _("above 0"))
    if not 0 <= drained_l < math.inf:
        raise BadQuantity(_("the water drained"), drained_l, "L", _("0 or more"))
    if water_in_l >= volume - LITTLE_L:
        raise Refused(
            _(
                "{water:.4g} L went into a pot that holds {volume:.4g} L to its fill line with the "
                "mix in it; "
                "measure the pot or the water again."
            ).format(water=water_in_l, volume=volume)
        )
    if drained_l > water_in_l:
        raise Refused(
            _(
                "{drained:.4g} L drained out of {water:.4g} L poured in; more cannot come out than went in, "
                "so start with dry mix and measure both again."
            ).format(drained=drained_l, water=water_in_l)
        )
    porosity, air = water_in_l / volume, drained_l / volume
    test = PotTest(
        container=container,
        volume_l=volume,
        total_porosity=porosity,
        air_space=air,
        container_capacity=porosity - air,
        column_height_cm=container.medium_height_cm,
        advice=_(
            "Valid for a column of {height:.3g} cm only: the same mix holds more water and less air in a "
            "shallower container. The test counts from dry mix; what was moist before counts as solid."
        ).format(height=container.medium_height_cm),
    )
    if also_in is None:
        return test
    return PotTest(
        container=test.container,
        volume_l=test.volume_l,
        total_porosity=test.total_porosity,
        air_space=test.air_space,
        container_capacity=test.container_capacity,
        column_height_cm=test.column_height_cm,
        advice=test.advice,
        also_in=elsewhere(test, also_in),
    )


def elsewhere(test: PotTest, other: Container) -> Elsewhere:
    """Return air and water of the tested mix in another container, with a band.

    Raises
    ------
    Refused
        If nothing drained or nothing stayed, as then the test says nothing of how water is held.

    Notes
    -----
    One parameter is fitted: for every material of the tables the shape of its drainage between grains (n) and
    the share of its water that sits inside grains are taken over, and alpha is chosen so that the mean water
    content over the tested column is the measured one. Each such curve is then drained in the
    other container.
    The value is the median over the shapes, the band their 5th and 95th percentile.
    """
    if not min(test.air_space, test.container_capacity) > LITTLE_L:
        raise Refused(
            _(
                "The test drained nothing or everything, which says nothing about another depth; "
                "make the test in that container."
            )
        )
    waters = sorted(_water_elsewhere(test, other, n, inside) for n, inside in plausible_shapes())
    low, value, high = (_percentile(waters, share) for share in (LOW, MIDDLE, HIGH))
    source = _(
        "pot test of {height:.3g} cm, drained in the other depth with the curve shapes of the tables"
    ).format(height=test.column_height_cm)
    porosity = test.total_porosity
    return Elsewhere(
        container=other,
        air_space=Estimate(porosity - value, porosity - high, porosity - low, "computed", source),
        container_capacity=Estimate(value, low, high, "computed", source),
    )


@cache
def plausible_shapes() -> tuple[tuple[float, float], ...]:
    """Return n and the share of container capacity inside grains, for every material of the tables."""
    from friable.reference.materials import all_materials

    shapes = []
    for material in all_materials():
        physics = material.physics
        inside = (1 - physics.void_fraction) * physics.internal_porosity
        share = inside / material.container_capacity_7p6cm.value
        shapes.append((physics.n_ext, min(MOST_RESIDUAL, share)))
    return tuple(shapes)


def _water_elsewhere(test: PotTest, other: Container, n: float, inside: float) -> float:
    def curve(alpha_per_cm: float) -> RetentionCurve:
        return RetentionCurve(
            saturated=test.total_porosity,
            residual=inside * test.container_capacity,
            alpha_per_cm=alpha_per_cm,
            n=n,
        )

    low, high = math.log(SMALLEST_ALPHA_PER_CM), math.log(LARGEST_ALPHA_PER_CM)
    for _step in range(BISECTIONS):
        middle = (low + high) / 2
        if drained_mean(curve(math.exp(middle)), test.container) > test.container_capacity:
            low = middle
        else:
            high = middle
    return drained_mean(curve(math.exp((low + high) / 2)), other)


def _percentile(ordered: Sequence[float], share: float) -> float:
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])
