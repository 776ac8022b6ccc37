"""What the flow solvers know of a medium: water held and conductivity against suction, as a table.

Nodes lie at suctions w - 1 with w = 2^k (1 + j/16): sixteen even steps in each doubling of w, which is the
suction plus 1 cm, so that the place in the table can be read from the bits of w, without a logarithm. Between
nodes both are linear in suction.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

DOUBLINGS, STEPS = 17, 16
COMPRESSIBILITY_PER_CM = 1e-5  # specific storage of a full cell: keeps it solvable
LEAST_SLOPE_PER_CM = 1e-9  # of the water held: keeps a flat stretch of a curve solvable
LEAST_CONDUCTIVITY_CM_H = 1e-12
FIELDS = 8  # of an entry: intercept and slope in pressure head of water, conductivity and uptake; integral
DRY_SURFACE_CM = 3000.0  # suction of a surface that hardly evaporates: from it the integral counts


def table_suctions_cm(steps: int = STEPS) -> "Array":
    """Return the suctions of the nodes, from 0 to 131,071 cm, with this many steps in a doubling. [cm]"""
    node = np.arange(DOUBLINGS * steps + 1)
    return np.asarray(2.0 ** (node // steps) * (1 + (node % steps) / steps) - 1)


TABLE_SUCTIONS_CM = table_suctions_cm()


def on_the_mean(values: "Array", suction_cm: "Array") -> "Array":
    """Return node values whose straight lines hold, on the mean over an interval, what the curve holds.

    A chord of a curve that bends upward lies above it, by f'' h²/12 on the mean: that is taken from the
    inner nodes. Measured: docs/science/flow.md, “Time”.

    Parameters
    ----------
    values : ndarray, shape (..., nodes)
        A falling curve at the nodes.
    suction_cm : ndarray, shape (nodes)
    """
    steps = np.diff(suction_cm)
    slopes = np.diff(values, axis=-1) / steps
    before, after = steps[:-1], steps[1:]
    bend = 2 * np.diff(slopes, axis=-1) / (before + after)
    down = bend * (before**2 + after**2) / 24
    drop = -np.diff(values, axis=-1)  # a node moves by no more than a fifth of the way to its neighbour
    shifted = np.array(values, dtype=float)
    shifted[..., 1:-1] -= np.clip(down, -drop[..., :-1] / 5, drop[..., 1:] / 5)
    return shifted


ENTRIES = len(TABLE_SUCTIONS_CM)  # one for the full medium, then one for each interval


@dataclass(frozen=True, slots=True, eq=False)
class Medium:
    """Water [m³ m⁻³] and conductivity [cm/h] of one medium at the nodes of a table of suctions. [cm]

    Raises
    ------
    BadQuantity
        If water or conductivity rise with suction anywhere, leave what is possible, or are not numbers.
    """

    water: "Array"
    conductivity_cm_h: "Array"
    suction_cm: "Array" = None  # type: ignore[assignment]  # the usual nodes, put in below

    def __post_init__(self) -> None:
        if self.suction_cm is None:
            object.__setattr__(self, "suction_cm", TABLE_SUCTIONS_CM)
        for name, values, unit in (
            (_("water held by a medium"), self.water, "m³/m³"),
            (_("conductivity of a medium"), self.conductivity_cm_h, "cm/h"),
        ):
            if values.shape != self.suction_cm.shape:
                raise ValueError(f"{name} needs {len(self.suction_cm)} values, one at each node")
            if not np.all(values >= 0):
                raise BadQuantity(name, float(values[~(values >= 0)].flat[0]), unit, _("0 or more"))
            if not np.all(np.diff(values) <= 1e-12 * values[0]):
                rises = float(np.diff(values).max())
                raise BadQuantity(
                    _("step of {name} with suction").format(name=name), rises, unit, _("0 or less")
                )
        if not 0 < self.water[0] <= 1:
            raise BadQuantity(
                _("water held by a medium at no suction"),
                float(self.water[0]),
                "m³/m³",
                _("above 0, at most 1"),
            )
        if not 0 < self.conductivity_cm_h[0] < math.inf:
            raise BadQuantity(
                _("saturated conductivity"), float(self.conductivity_cm_h[0]), "cm/h", _("above 0")
            )

    @property
    def saturated(self) -> float:
        """Water held at no suction. [m³ m⁻³]"""
        return float(self.water[0])

    def water_at(self, suction_cm: "Array") -> "Array":
        """Return the water held at suctions of 0 or more, linear between nodes. [m³ m⁻³]"""
        return np.asarray(np.interp(suction_cm, self.suction_cm, self.water))

    def conductivity_at(self, suction_cm: "Array") -> "Array":
        """Return the conductivity at suctions of 0 or more, linear between nodes. [cm/h]"""
        return np.asarray(np.interp(suction_cm, self.suction_cm, self.conductivity_cm_h))


@dataclass(frozen=True, slots=True)
class Uptake:
    """Suctions between which roots take up water. [cm]

    Nothing up to `wet`, rising to all at `easy`, all to `hard`, falling to nothing at `wilting`.
    Form after [feddes1978]_.
    """

    wet_cm: float
    easy_cm: float
    hard_cm: float
    wilting_cm: float

    def __post_init__(self) -> None:
        if not 0 <= self.wet_cm <= self.easy_cm <= self.hard_cm < self.wilting_cm < math.inf:
            raise BadQuantity(
                _("wilting suction of a plant"),
                self.wilting_cm,
                "cm",
                _("above the suctions where uptake falls, is full and begins"),
            )

    def share_at(self, suction_cm: "Array") -> "Array":
        """Return the share of the wanted water that roots get at each suction. [0..1]"""
        if self.easy_cm > self.wet_cm:
            rising = (suction_cm - self.wet_cm) / (self.easy_cm - self.wet_cm)
        else:
            rising = np.where(suction_cm >= self.wet_cm, 1.0, 0.0)
        falling = (self.wilting_cm - suction_cm) / (self.wilting_cm - self.hard_cm)
        return np.asarray(np.clip(np.minimum(rising, falling), 0.0, 1.0))


NO_ROOTS = Uptake(0.0, 1.0, 2.0, 3.0)


def solver_table(medium: Medium, uptake: Uptake = NO_ROOTS) -> "Array":
    """Return the lines between the nodes as the solvers read them.

    Returns
    -------
    ndarray, shape (intervals + 1, 8)
        Entry 0 stands for the full medium under pressure, entry k for the k-th interval: water = a + C h,
        conductivity = c + D h, share of uptake = e + G h, integral of the conductivity from a dry surface
        up to here = p + c h + D h²/2 [cm²/h], with h the pressure head (minus the suction). [cm]
    """
    s, h = medium.suction_cm, -medium.suction_cm
    steps = np.diff(s)
    k = np.maximum(medium.conductivity_cm_h, LEAST_CONDUCTIVITY_CM_H)
    entries = np.zeros((len(s), FIELDS))
    entries[0, :4] = medium.water[0], COMPRESSIBILITY_PER_CM, medium.conductivity_cm_h[0], 0.0
    for field, values, least in ((0, medium.water, LEAST_SLOPE_PER_CM), (2, k, 0.0)):
        slope = np.maximum((values[:-1] - values[1:]) / steps, least)
        entries[1:, field] = values[:-1] - slope * h[:-1]
        entries[1:, field + 1] = slope
    entries[:, 4:6] = _uptake_lines(uptake, len(s) // DOUBLINGS)
    line, slope = entries[1:, 2], entries[1:, 3]
    from_dry = np.zeros(len(s))
    from_dry[:-1] = np.cumsum(((k[:-1] + k[1:]) / 2 * steps)[::-1])[::-1]
    entries[0, 6] = from_dry[0]
    entries[1:, 6] = from_dry[:-1] - (line + slope * h[:-1] / 2) * h[:-1]
    dry = int(np.searchsorted(s, DRY_SURFACE_CM, side="right"))
    entries[:, 6] -= (
        entries[dry, 6] - (entries[dry, 2] - entries[dry, 3] * DRY_SURFACE_CM / 2) * DRY_SURFACE_CM
    )
    return entries


@lru_cache(maxsize=256)
def _uptake_lines(uptake: Uptake, steps: int) -> "Array":
    """Return intercept and slope in pressure head of the share of uptake, for each entry of a table."""
    s = table_suctions_cm(steps)
    share = uptake.share_at(s)
    slope = (share[:-1] - share[1:]) / np.diff(s)
    lines = np.zeros((len(s), 2))
    lines[0, 0] = share[0]
    lines[1:, 0], lines[1:, 1] = share[:-1] + slope * s[:-1], slope
    return lines


def van_genuchten_medium(
    *,
    saturated: float,
    residual: float,
    alpha_per_cm: float,
    n: float,
    saturated_conductivity_cm_h: float,
    connectivity: float = 0.5,
    steps: int = STEPS,
) -> Medium:
    """Return a medium from the closed forms of van Genuchten and Mualem.   [vangenuchten1980]_

    S = [1 + (αs)^n]^-m, K = Ks S^l [1 - (1 - S^(1/m))^m]², m = 1 - 1/n.
    """
    suction = table_suctions_cm(steps)
    m = 1 - 1 / n
    filled = (1 + (alpha_per_cm * suction) ** n) ** -m
    # 1 - S^(1/m) = x / (1 + x) with x = (αs)^n, written so that nothing cancels in a dry medium
    x = (alpha_per_cm * suction) ** n
    inner = -np.expm1(m * np.log1p(-1 / (1 + x), where=x > 0, out=np.full_like(x, -np.inf)))
    conductivity = saturated_conductivity_cm_h * filled**connectivity * inner**2
    return Medium(
        water=on_the_mean(residual + (saturated - residual) * filled, suction),
        conductivity_cm_h=on_the_mean(conductivity, suction),
        suction_cm=suction,
    )
