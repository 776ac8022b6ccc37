"""Whether a root ball fits into the next pot, and how much room it takes."""

import math

from friable.errors import Refused
from friable.science.containers import ROUND_SHAPES, Container
from friable.wording import gettext as _

ROUNDING_CM = 1e-9


def root_ball_l(old: Container) -> float:
    """Return the volume of a root ball that keeps the shape of its old pot, without a drainage layer. [L]"""
    return old.medium_volume_l


def check_fit(old: Container, new: Container) -> None:
    """Refuse a root ball that does not go into the new container with its top at the fill line.

    Raises
    ------
    Refused
        If it is too high, too wide at its top or foot, or leaves no room for new mix.

    Notes
    -----
    Walls are straight, so a ball that fits at its top and at its foot fits between them.
    """
    names = {"old": old.describe(), "new": new.describe()}
    height = old.medium_height_cm
    if height > new.medium_height_cm + ROUNDING_CM:
        raise Refused(
            _(
                "The root ball from {old} is {height:.3g} cm high and there is room for {room:.3g} "
                "cm in {new}; "
                "choose a deeper container, or shake some of the old mix off and pot it bare root."
            ).format(height=height, room=new.medium_height_cm, **names)
        )
    for where, at_old, at_new in (
        (_("top"), old.fill_height_cm, new.fill_height_cm),
        (_("foot"), old.drainage_layer_cm, new.fill_height_cm - height),
    ):
        over = _too_wide_by_cm(old, at_old, new, at_new)
        if over > ROUNDING_CM:
            raise Refused(
                _(
                    "The root ball from {old} is {over:.2g} cm too wide at its {where} for {new}; "
                    "choose a wider container, or pot it bare root."
                ).format(over=over, where=where, **names)
            )
    if not new.medium_volume_l - root_ball_l(old) > ROUNDING_CM:
        raise Refused(
            _(
                "The root ball from {old} fills {new} completely, with no room for new mix; choose "
                "a larger one."
            ).format(**names)
        )


def _too_wide_by_cm(old: Container, at_old: float, new: Container, at_new: float) -> float:
    length, width = _sides(old, at_old)
    room_length, room_width = _sides(new, at_new)
    if old.shape in ROUND_SHAPES:
        return length - min(room_length, room_width)
    if new.shape in ROUND_SHAPES:
        return math.hypot(length, width) - room_length
    return max(
        max(length, width) - max(room_length, room_width), min(length, width) - min(room_length, room_width)
    )


def _sides(container: Container, height_cm: float) -> tuple[float, float]:
    share = height_cm / container.height_cm
    length = container.bottom_length_cm + (container.top_length_cm - container.bottom_length_cm) * share
    width = container.bottom_width_cm + (container.top_width_cm - container.bottom_width_cm) * share
    return length, width
