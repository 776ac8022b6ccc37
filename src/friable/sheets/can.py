"""Amounts of water as someone with a can measures them out."""

import math

from friable.errors import BadQuantity
from friable.wording import gettext as _

SMALLEST_CAN_L, LARGEST_CAN_L = 0.5, 30.0
MOST_POTS_A_CAN = 200
QUARTERS = 4


def can_in_words(litres_each: float, can_l: float) -> str:
    """Return how much of a can a pot gets: "half a 5 L can each", "one 5 L can for 25 pots".

    The share is the nearest of those that a hand can judge: whole and quarter cans, thirds, or one can
    for so many pots; it lies within a fifth of the amount. Common practice, no source.

    Raises
    ------
    BadQuantity
        If the amount is not above 0, or the can is not from 0.5 to 30 L.
    """
    if not (litres_each > 0 and math.isfinite(litres_each)):
        raise BadQuantity(_("water for a pot"), litres_each, "L", _("above 0"))
    if not SMALLEST_CAN_L <= can_l <= LARGEST_CAN_L:
        raise BadQuantity(_("the can"), can_l, "L", _("from 0.5 to 30 L"))
    cans = litres_each / can_l
    can = _("{volume} L can").format(volume=f"{can_l:g}")
    if cans >= 1 - 1 / 8:
        quarters = round(QUARTERS * cans)
        return _whole_and_quarters(*divmod(quarters, QUARTERS), can)
    pots = min(MOST_POTS_A_CAN, _handy(1 / cans))
    parts = {
        3 / 4: _("three quarters of a {can} each"),
        2 / 3: _("two thirds of a {can} each"),
        1 / 2: _("half a {can} each"),
        1 / 3: _("a third of a {can} each"),
        1 / 4: _("a quarter of a {can} each"),
    }
    if 1 / cans <= QUARTERS + 0.5:
        nearest = min(parts, key=lambda share: abs(math.log(share / cans)))
        return parts[nearest].format(can=can)
    return _("one {can} for {pots} pots").format(can=can, pots=pots)


def litres_in_words(litres_each: float) -> str:
    """Return an amount of water for a pot to two figures: "0.18 L", "1.5 L", "12 L"."""
    if not (litres_each > 0 and math.isfinite(litres_each)):
        raise BadQuantity(_("water for a pot"), litres_each, "L", _("above 0"))
    if litres_each >= 10:
        return _("{number} L").format(number=f"{litres_each:.0f}")
    return _("{number} L").format(number=f"{float(f'{litres_each:.2g}'):g}")


def _whole_and_quarters(whole: int, quarters: int, can: str) -> str:
    part = ["", _(" and a quarter"), _(" and a half"), _(" and three quarters")][quarters]
    if whole == 1 and not quarters:
        return _("one {can} each").format(can=can)
    if whole == 1:
        return _("one {can}{part} each").format(can=can, part=part)
    return _("{whole} times a {can}{part} each").format(whole=whole, can=can, part=part)


def _handy(pots: float) -> int:
    """Round a number of pots to one that is easily counted off: fives from 20 on, tens from 50 on."""
    step = 1 if pots < 20 else 5 if pots < 50 else 10
    return step * round(pots / step)
