"""Geometry of a pot section in centimetres: walls, shares of the width at each height, wet zones."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.wording import gettext as _

SHARE_SLACK = 1e-6  # rounding in sums of shares


class ProfilePoint(Protocol):
    """Water and air at one height above the floor of the container. [cm; shares of bulk volume]"""

    @property
    def height_cm(self) -> float: ...
    @property
    def water(self) -> float: ...
    @property
    def water_low(self) -> float: ...
    @property
    def water_high(self) -> float: ...
    @property
    def air(self) -> float: ...


@dataclass(frozen=True, slots=True)
class Level:
    """One height of the medium: the local inside width and how it is shared. [cm; shares of 1]"""

    height_cm: float
    width_cm: float
    water: float
    water_low: float
    water_high: float
    air: float

    @property
    def solid(self) -> float:
        """Share of solid matter."""
        return max(0.0, 1 - self.water - self.air)


def inside_width_cm(container: Container, height_cm: float) -> float:
    """Return the inside width of the section at a height, along the length of the container. [cm]"""
    share = height_cm / container.height_cm
    return container.bottom_length_cm + (container.top_length_cm - container.bottom_length_cm) * share


def levels(container: Container, profile: Sequence[ProfilePoint]) -> tuple[Level, ...]:
    """Return the medium from its bottom to the fill line.

    The first and the last point are carried to the bottom of the medium and to the fill line where the
    profile ends short of them; what lies outside the medium is not drawn.

    Raises
    ------
    BadQuantity
        If a share is not from 0 to 1, water and air exceed 1, or the profile has fewer than two heights
        in the medium or heights that do not rise.
    """
    bottom, top = container.drainage_layer_cm, container.fill_height_cm
    slack = 1e-6 * container.height_cm
    points = [p for p in profile if bottom - slack <= p.height_cm <= top + slack]
    if len(points) < 2:
        raise BadQuantity(_("the number of heights in the profile"), len(points), "", _("2 or more"))
    last = -1.0
    for point in points:
        if not point.height_cm > last:
            raise BadQuantity(_("height"), point.height_cm, "cm", _("above the height before it"))
        last = point.height_cm
        for name, share in ((_("water"), point.water), (_("air"), point.air)):
            if not -SHARE_SLACK <= share <= 1 + SHARE_SLACK:
                raise BadQuantity(name, share, "", _("from 0 to 1"))
        if not point.water + point.air <= 1 + SHARE_SLACK:
            raise BadQuantity(_("water and air together"), point.water + point.air, "", _("at most 1"))
    made = [_level(container, p, p.height_cm) for p in points]
    if made[0].height_cm > bottom + slack:
        made.insert(0, _level(container, points[0], bottom))
    if made[-1].height_cm < top - slack:
        made.append(_level(container, points[-1], top))
    return tuple(made)


def wet_zones(medium: Sequence[Level], wet_below: float) -> tuple[tuple[float, float], ...]:
    """Return the stretches of height in which air is below a threshold, lowest first. [cm]

    Between two heights air is taken as linear.
    """
    zones: list[tuple[float, float]] = []
    for low, high in pairwise(medium):
        wet_low, wet_high = low.air < wet_below, high.air < wet_below
        if not (wet_low or wet_high):
            continue
        start, end = low.height_cm, high.height_cm
        if wet_low != wet_high:
            share = (wet_below - low.air) / (high.air - low.air)
            crossing = start + share * (end - start)
            start, end = (start, crossing) if wet_low else (crossing, end)
        if zones and abs(zones[-1][1] - start) < 1e-9:
            zones[-1] = (zones[-1][0], end)
        elif end > start:
            zones.append((start, end))
    return tuple(zones)


def level_at(medium: Sequence[Level], height_cm: float) -> Level:
    """Return the medium at one height, linear between the heights given."""
    if height_cm <= medium[0].height_cm:
        return medium[0]
    for low, high in pairwise(medium):
        if height_cm <= high.height_cm:
            share = (height_cm - low.height_cm) / (high.height_cm - low.height_cm)

            def between(a: float, b: float, share: float = share) -> float:
                return a + share * (b - a)

            return Level(
                height_cm,
                between(low.width_cm, high.width_cm),
                between(low.water, high.water),
                between(low.water_low, high.water_low),
                between(low.water_high, high.water_high),
                between(low.air, high.air),
            )
    return medium[-1]


def cut(medium: Sequence[Level], low_cm: float, high_cm: float) -> list[Level]:
    """Return the part of the medium between two heights."""
    inner = [m for m in medium if low_cm < m.height_cm < high_cm]
    return [level_at(medium, low_cm), *inner, level_at(medium, high_cm)]


def root_ball_outline(root_ball: Container, fill_height_cm: float) -> tuple[float, float, float, float]:
    """Return bottom, top, bottom width and top width of a root ball set at the fill line. [cm]"""
    depth = root_ball.fill_height_cm
    return (
        fill_height_cm - depth,
        fill_height_cm,
        inside_width_cm(root_ball, 0),
        inside_width_cm(root_ball, depth),
    )


def root_ball_fits(root_ball: Container, container: Container) -> bool:
    """Say whether a root ball stands inside the medium, by its section."""
    bottom, top, bottom_width, top_width = root_ball_outline(root_ball, container.fill_height_cm)
    return (
        bottom >= container.drainage_layer_cm - 1e-9
        and bottom_width <= inside_width_cm(container, max(0.0, bottom)) + 1e-9
        and top_width <= inside_width_cm(container, top) + 1e-9
    )


def _level(container: Container, point: ProfilePoint, height_cm: float) -> Level:
    return Level(
        height_cm,
        inside_width_cm(container, height_cm),
        min(max(point.water, 0.0), 1.0),
        point.water_low,
        point.water_high,
        min(max(point.air, 0.0), 1.0),
    )
