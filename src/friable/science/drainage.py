"""Water in a container after free drainage: suction equals the height above the drainage face."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.science.mixture import Blend, Grades
from friable.science.retention import CAPILLARY_CONSTANT_CM2, RetentionCurve, water_content
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

NODES = 64
TABLE_NODES = 256
TABLE_POINTS = 2049
# Radius of the pore throats of a coarse layer as a share of the grain radius: common practice, no source.
THROAT_OF_GRAIN_LOW, THROAT_OF_GRAIN_MIDDLE, THROAT_OF_GRAIN_HIGH = 0.2, 0.3, 0.4


@dataclass(frozen=True, slots=True)
class Column:
    """Points along the medium of a drained container and the share of its volume that each stands for."""

    heights_cm: "Array"  # above the floor of the container
    suctions_cm: "Array"
    weights: "Array"  # sum to 1


@lru_cache(maxsize=512)
def drained_column(container: Container, suction_at_base_cm: float = 0.0, nodes: int = NODES) -> Column:
    """Return quadrature points for the medium of a container that has drained.

    Parameters
    ----------
    container : Container
    suction_at_base_cm : float
        Suction at the underside of the medium: 0 over open holes, more above a drainage layer. [cm]
    nodes : int

    Notes
    -----
    Gauss-Legendre in t with height = h t², which crowds the points where coarse media change most.
    64 points are within 1e-5 of adaptive quadrature for every tabulated material.
    """
    if not 0 <= suction_at_base_cm < math.inf:
        raise BadQuantity(_("suction at the base"), suction_at_base_cm, "cm", _("0 or more"))
    x, w = np.polynomial.legendre.leggauss(nodes)
    t = (x + 1) / 2
    above_base = container.medium_height_cm * t**2
    heights = container.drainage_layer_cm + above_base
    weights = w * t * container.area_cm2(heights)
    return Column(heights, suction_at_base_cm + above_base, weights / weights.sum())


def drained_mean(curve: RetentionCurve, container: Container, suction_at_base_cm: float = 0.0) -> float:
    """Return the mean water content of a medium in a drained container. [m³ m⁻³]

    Closed form for n = 2 over open holes, quadrature otherwise.   [milks1989]_ (idea; algebra worked here)

    Examples
    --------
    >>> pot = Container(shape="round", top_length_cm=10, top_width_cm=10, bottom_length_cm=10,
    ...                 bottom_width_cm=10, height_cm=5)
    >>> medium = RetentionCurve(saturated=0.85, residual=0.15, alpha_per_cm=0.15, n=2)
    >>> round(drained_mean(medium, pot), 5)
    0.79694
    """
    simple = curve.n == 2 and curve.second_share == 0 and suction_at_base_cm == 0
    if simple and container.drainage_layer_cm == 0:
        return _closed_form(curve, container)
    column = drained_column(container, suction_at_base_cm)
    return float(water_content(column.suctions_cm, curve) @ column.weights)


def _closed_form(curve: RetentionCurve, container: Container) -> float:
    """∫ A S dz / V for n = 2, with I_k = ∫ z^k S dz and q = √(1 + α²H²).

    I0 = asinh(αH)/α, I1 = (q - 1)/α², I2 = (αHq - asinh αH)/2α³.
    """
    a, h = curve.alpha_per_cm, container.medium_height_cm
    q, arc = math.hypot(1, a * h), math.asinh(a * h)
    i0, i1, i2 = arc / a, (q - 1) / a**2, (a * h * q - arc) / (2 * a**3)
    length, width = container.bottom_length_cm, container.bottom_width_cm
    long_k = (container.top_length_cm - length) / container.height_cm
    wide_k = (container.top_width_cm - width) / container.height_cm
    filled = length * width * i0 + (length * wide_k + width * long_k) * i1 + long_k * wide_k * i2
    volume = length * width * h + (length * wide_k + width * long_k) * h**2 / 2 + long_k * wide_k * h**3 / 3
    return curve.residual + (curve.saturated - curve.residual) * filled / volume


def water_entry_suction_cm(grain_size_mm: float, throat_of_grain: float = THROAT_OF_GRAIN_MIDDLE) -> float:
    """Return the suction at which water can enter a dry coarse layer. [cm]

    Capillary law with a throat of 0.2 to 0.4 grain radius: about 0.7 to 3 cm for 5 to 10 mm gravel.
    """
    if not 0 < grain_size_mm < math.inf:
        raise BadQuantity(_("grain size of the drainage layer"), grain_size_mm, "mm", _("above 0"))
    return CAPILLARY_CONSTANT_CM2 / (throat_of_grain * grain_size_mm / 20)


@lru_cache(maxsize=256)
def _mean_of_smaller(
    container: Container, suction_at_base_cm: float, alpha_per_cm: float, n: float
) -> tuple["Array", float]:
    """Return the pot mean of min(S, c) for c = 0 ... 1, and the pot mean of S."""
    column = drained_column(container, suction_at_base_cm, TABLE_NODES)
    filled = (1 + (alpha_per_cm * column.suctions_cm) ** n) ** (1 / n - 1)
    caps = np.linspace(0.0, 1.0, TABLE_POINTS)
    return np.minimum(filled[None, :], caps[:, None]) @ column.weights, float(filled @ column.weights)


def drained_many(
    mix: Blend, grades: Grades, container: Container, suction_at_base_cm: float = 0.0
) -> "Array":
    """Return container capacity for many mixes of the same materials at the middle of their ranges.

    Parameters
    ----------
    mix : Blend
        Members are mixes.
    grades : Grades
        One member: every curve the same in all mixes.

    Returns
    -------
    ndarray, shape members
        [m³ m⁻³]

    Notes
    -----
    The pot mean of min[S(h), 1 - G/U] depends on one number for each material, so it is tabulated once and
    height and taper cost nothing afterwards; interpolation error about 1e-6.
    """
    held = np.zeros(mix.volume.shape)
    caps = np.linspace(0.0, 1.0, TABLE_POINTS)
    column = drained_column(container, suction_at_base_cm)
    inner = column.weights @ grades.filling(column.suctions_cm).inner
    for k in range(mix.poured.shape[-1]):
        table, mean = _mean_of_smaller(
            container,
            suction_at_base_cm,
            float(grades.alpha_ext[k] * grades.scale[k]),
            float(grades.n_ext[k]),
        )
        void = mix.outer_void[..., k]
        open_share = 1 - np.divide(mix.entered[..., k], void, out=np.zeros_like(void), where=void > 0)
        held += void * np.interp(open_share, caps, table)
        held += mix.bulked[..., k] * mean + mix.solid[..., k] * grades.internal[k] * inner[k]
    return np.asarray(held / mix.volume)
