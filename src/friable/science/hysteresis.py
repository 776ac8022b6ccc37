"""Water against suction on the way down and on the way up: a medium wets along another curve than it dries.

Between the main drying and the main wetting curve every turn starts a branch that is one of the two,
stretched to pass through the turn. Loops close: a branch leads back to the turn before it, and from there the
way goes on as if the loop had not been. Equations, sources and checks: docs/science/flow_media.md.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]
    Filled = Callable[[Array], Array]

WETTING_SCALE = 2.0  # alpha of the wetting curve over that of the drying curve, about  [koolparker1987]_
MOST_TURNS = 16  # one within the other that are remembered
NEAR = 1e-12  # turns closer than this in S are one


def wetting_scan(
    filled: "ArrayLike", filled_at_turn: "ArrayLike", water_at_turn: "ArrayLike", saturated: "ArrayLike"
) -> "Array":
    """Return the water on the way up from a turn on the main drying curve. [m³ m⁻³]

    Parameters
    ----------
    filled : array_like
        S of the main wetting curve at the suctions asked for, from 0 to 1.
    filled_at_turn, water_at_turn : array_like
        S of the main wetting curve at the suction of the turn, and the water there.
    saturated : array_like
        Water of the full medium.

    Raises
    ------
    BadQuantity
        If the turn lies at no suction, where there is no way up.

    Notes
    -----
    θ = θr' + (θs − θr') S_w(s),  θr' = [θ_D − θs S_w(s_D)]/[1 − S_w(s_D)]   [koolparker1987]_
    """
    turn = np.asarray(filled_at_turn, dtype=float)
    if not np.all((turn >= 0) & (turn < 1)):
        bad = turn[~((turn >= 0) & (turn < 1))]
        raise BadQuantity(_("filled share at the turn"), float(bad.flat[0]), "", _("from 0 to below 1"))
    full = np.asarray(saturated, dtype=float)
    residual = (np.asarray(water_at_turn, dtype=float) - full * turn) / (1 - turn)
    return np.asarray(residual + (full - residual) * np.asarray(filled, dtype=float))


def drying_scan(
    filled: "ArrayLike", filled_at_turn: "ArrayLike", water_at_turn: "ArrayLike", residual: "ArrayLike"
) -> "Array":
    """Return the water on the way down from a turn on the main wetting curve. [m³ m⁻³]

    Parameters
    ----------
    filled : array_like
        S of the main drying curve at the suctions asked for, from 0 to 1.
    filled_at_turn, water_at_turn : array_like
        S of the main drying curve at the suction of the turn, and the water there.
    residual : array_like
        Water that never moves.

    Raises
    ------
    BadQuantity
        If nothing of the drying curve is left at the turn.

    Notes
    -----
    θ = θr + (θs' − θr) S_d(s),  θs' = θr + (θ_W − θr)/S_d(s_W)   [koolparker1987]_
    """
    turn = np.asarray(filled_at_turn, dtype=float)
    if not np.all((turn > 0) & (turn <= 1)):
        bad = turn[~((turn > 0) & (turn <= 1))]
        raise BadQuantity(_("filled share at the turn"), float(bad.flat[0]), "", _("above 0, at most 1"))
    low = np.asarray(residual, dtype=float)
    height = (np.asarray(water_at_turn, dtype=float) - low) / turn
    return np.asarray(low + height * np.asarray(filled, dtype=float))


@dataclass(frozen=True, slots=True, eq=False)
class MainCurves:
    """The main drying and wetting curve of a medium.

    `filled` gives S of the main drying curve at suctions [cm], from 1 at none down to 0 at infinity; the main
    wetting curve is the same at `wetting_scale` times the suction: the same pores, entered through their
    wider part.
    """

    filled: "Filled"
    saturated: float
    residual: float = 0.0
    wetting_scale: float = WETTING_SCALE

    def __post_init__(self) -> None:
        if not 0 <= self.residual < self.saturated <= 1:
            raise BadQuantity(
                _("residual water content"), self.residual, "m³/m³", _("from 0 to below the full medium")
            )
        if not 1 <= self.wetting_scale < math.inf:
            raise BadQuantity(_("scale of the wetting curve"), self.wetting_scale, "", _("1 or more"))

    def drying(self, suction_cm: "ArrayLike") -> "Array":
        """Return the filled share S of the main drying curve."""
        s = np.asarray(suction_cm, dtype=float)
        finite = np.isfinite(s)
        return np.where(finite, self.filled(np.where(finite, s, 0.0)), 0.0)

    def wetting(self, suction_cm: "ArrayLike") -> "Array":
        """Return the filled share S of the main wetting curve."""
        return self.drying(np.asarray(suction_cm, dtype=float) * self.wetting_scale)


def curves_of_table(
    suction_cm: "ArrayLike", water: "ArrayLike", residual: float = 0.0, wetting_scale: float = WETTING_SCALE
) -> MainCurves:
    """Return the main curves of a medium whose drying curve is tabulated, even between nodes.

    Parameters
    ----------
    suction_cm, water : array_like, shape (nodes,)
        From no suction upwards [cm]; water held, never rising [m³ m⁻³].

    Raises
    ------
    BadQuantity
        If water rises with suction, or its bounds are impossible.
    """
    s, held = np.asarray(suction_cm, dtype=float), np.asarray(water, dtype=float)
    if not np.all(np.diff(held) <= 0):
        raise BadQuantity(
            _("change of water with suction"), float(np.diff(held).max()), "m³/m³", _("0 or less")
        )
    share = (held - residual) / (held[0] - residual)
    return MainCurves(
        filled=lambda at: np.asarray(np.interp(at, s, share)),
        saturated=float(held[0]),
        residual=residual,
        wetting_scale=wetting_scale,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Branches:
    """Where each of several bits of a medium is on its way: the last axis of every array is the bit.

    water = low + height × S, with S of the main curve of the direction. `turn_cm` and `turn_water` hold the
    turns that still matter, the outermost first: at index 0 the start, full or dry; at `last` the turn where
    the present branch began. It leads back to the turn before that.
    """

    up_at_first: "NDArray[np.bool_]"
    turn_cm: "Array"  # (turns, bits)
    turn_water: "Array"
    last: "NDArray[np.intp]"
    low: "Array"
    height: "Array"

    @property
    def wetting(self) -> "NDArray[np.bool_]":
        """Whether each bit is on a branch that goes up in water."""
        return np.asarray(self.up_at_first ^ (self.last % 2 == 1))

    def turn(self, back: int) -> tuple["Array", "Array"]:
        """Return suction and water of the last turn (0) or of the one before it (1)."""
        place = self.last - back
        bits = np.arange(len(self.last))
        known = np.maximum(place, 0)
        return self.turn_cm[known, bits], self.turn_water[known, bits]


def from_full(curves: MainCurves, count: int) -> Branches:
    """Return bits on the main drying curve, as after a thorough watering."""
    return _start(curves, np.zeros(count, dtype=bool))


def from_dry(curves: MainCurves, count: int) -> Branches:
    """Return bits on the main wetting curve, with nothing left but the residual water."""
    return _start(curves, np.ones(count, dtype=bool))


def _start(curves: MainCurves, up: "NDArray[np.bool_]") -> Branches:
    turn_cm, turn_water = np.zeros((MOST_TURNS, len(up))), np.zeros((MOST_TURNS, len(up)))
    turn_cm[0], turn_water[0] = np.where(up, np.inf, 0.0), np.where(up, curves.residual, curves.saturated)
    whole = np.full(len(up), curves.saturated - curves.residual)
    low = np.full(len(up), curves.residual)
    return Branches(up, turn_cm, turn_water, np.zeros(len(up), dtype=np.intp), low, whole)


def turned(
    curves: MainCurves, branches: Branches, at_cm: "ArrayLike", goes_up: "NDArray[np.bool_]"
) -> Branches:
    """Return the branches after each bit came to a suction and goes up in water, or down, from there.

    Parameters
    ----------
    curves : MainCurves
    branches : Branches
        As they were on the way to this suction.
    at_cm : array_like, shape (bits,)
        Suction reached. [cm]
    goes_up : ndarray of bool, shape (bits,)
        Whether it wets from here on. Bits that keep their direction keep their branch, or go on along an
        outer one if they have come to the end of theirs.

    Raises
    ------
    BadQuantity
        If a suction is negative or not a number.

    Notes
    -----
    The first branch off a main curve is Kool and Parker's. Every branch passes through its own turn and the
    one before, so that loops close; past that turn the branch outside the loop goes on. After `MOST_TURNS`
    turns one within the other the outermost loop is forgotten.
    """
    s = np.asarray(at_cm, dtype=float)
    if not np.all(s >= 0):
        raise BadQuantity(_("suction"), float(s[~(s >= 0)].flat[0]), "cm", _("0 or more"))
    out = _out_of_loops(curves, branches, s)
    water = water_on(curves, out, s)
    turn = goes_up != out.wetting
    if not turn.any():
        return out
    turn_cm, turn_water, last = out.turn_cm.copy(), out.turn_water.copy(), out.last.copy()
    full = turn & (last == MOST_TURNS - 1)
    for turns in (turn_cm, turn_water):
        turns[1:-2, full] = turns[3:, full]
    last = np.where(full, last - 2, last) + turn
    bits = np.flatnonzero(turn)
    turn_cm[last[bits], bits], turn_water[last[bits], bits] = s[bits], water[bits]
    return _with_lines(curves, Branches(out.up_at_first, turn_cm, turn_water, last, out.low, out.height))


def water_on(curves: MainCurves, branches: Branches, suction_cm: "ArrayLike") -> "Array":
    """Return the water of each bit that goes on in its direction to a suction. [m³ m⁻³]

    Nothing is checked in this inner loop. A bit that would have to turn is asked by way of `turned` first.
    """
    s = np.asarray(suction_cm, dtype=float)
    on = _out_of_loops(curves, branches, s)
    return np.asarray(on.low + on.height * _filled(curves, on.wetting, s))


def _filled(curves: MainCurves, up: "NDArray[np.bool_]", suction_cm: "Array") -> "Array":
    return np.where(up, curves.wetting(suction_cm), curves.drying(suction_cm))


def _out_of_loops(curves: MainCurves, branches: Branches, suction_cm: "Array") -> Branches:
    """Return the branches on which bits are at a suction, loops that they came out of left behind."""
    last, up = branches.last, branches.wetting  # two turns back is the same direction
    bits = np.arange(len(last))
    for _turns in range(MOST_TURNS // 2):
        end = branches.turn_cm[np.maximum(last - 1, 0), bits]
        past = (last >= 2) & np.where(up, suction_cm < end, suction_cm > end)
        if not past.any():
            break
        last = np.where(past, last - 2, last)
    if last is branches.last:
        return branches
    return _with_lines(
        curves,
        Branches(
            branches.up_at_first, branches.turn_cm, branches.turn_water, last, branches.low, branches.height
        ),
    )


def _with_lines(curves: MainCurves, branches: Branches) -> Branches:
    """Return the branches with low and height from the two turns that each passes through."""
    up = branches.wetting
    from_cm, from_water = branches.turn(0)
    to_cm, to_water = branches.turn(1)
    main = branches.last == 0
    filled_from, filled_to = _filled(curves, up, from_cm), _filled(curves, up, to_cm)
    between = filled_to - filled_from
    some = (np.abs(between) > NEAR) & ~main
    height = np.where(some, (to_water - from_water) / np.where(some, between, 1.0), 0.0)
    height = np.where(main, curves.saturated - curves.residual, height)
    low = np.where(main, curves.residual, from_water - height * filled_from)
    return Branches(branches.up_at_first, branches.turn_cm, branches.turn_water, branches.last, low, height)
