"""How easily water moves through a medium: full of water, and at every suction.

Full: Kozeny-Carman from the voids left between the grains and a size that each material alone fixes. Less
than full: Mualem's integral over any curve of water against suction, so that it serves the sum of pore
families that a mix is. Sources, checks and how far off it is: docs/science/flow_media.md.
"""

import math
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.science.mixture import Blend
from friable.science.retention import GRAVITY_M_S2, WATER_DENSITY_KG_M3
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]

WATER_VISCOSITY_PA_S = 1.002e-3  # at 20 °C
KOZENY_CARMAN = 180.0  # 36 × 5, for rounded grains
CM_H_PER_MM2 = WATER_DENSITY_KG_M3 * GRAVITY_M_S2 / (KOZENY_CARMAN * WATER_VISCOSITY_PA_S) * 1e-6 * 3.6e5
CONNECTIVITY = 0.5  # Mualem's l
LEAST_POWER = 1.02  # of the water lost near no suction; at 1 the integral has no end


def sauter_mm(sub_sizes_mm: "ArrayLike") -> float:
    """Return the size of a grain with the same surface per volume as the whole grade. [mm]

    Equal envelope volumes of each sub-grade: the harmonic mean.
    """
    d = np.asarray(sub_sizes_mm, dtype=float)
    if not (d.size and np.all(d > 0)):
        raise BadQuantity(_("grain size"), float(d.min()) if d.size else math.nan, "mm", _("above 0"))
    return float(1 / np.mean(1 / d))


def saturated_conductivity_cm_h(
    void_fraction: "ArrayLike", sauter_mm: "ArrayLike", factor: "ArrayLike" = 1.0
) -> "Array":
    """Return the conductivity of a bed of grains full of water. [cm/h]

    Parameters
    ----------
    void_fraction : array_like
        Voids between the grains, share of the bulk volume, above 0 and below 1.
    sauter_mm : array_like
        Size of grain with the same surface per volume. [mm]
    factor : array_like
        What the bed really does of what the equation says. [no unit, above 0]

    Raises
    ------
    BadQuantity
        If a value leaves these bounds.

    Notes
    -----
    K = f ρg/(180 μ) ε³ d²/(1 − ε)², water at 20 °C   [carman1956]_
    """
    e, d, f = (np.asarray(x, dtype=float) for x in (void_fraction, sauter_mm, factor))
    if not np.all((e > 0) & (e < 1)):
        raise BadQuantity(
            _("void fraction"), float(e[~((e > 0) & (e < 1))].flat[0]), "", _("between 0 and 1")
        )
    for name, values, unit in ((_("grain size"), d, "mm"), (_("factor of the conductivity"), f, "")):
        if not np.all((values > 0) & np.isfinite(values)):
            bad = values[~((values > 0) & np.isfinite(values))]
            raise BadQuantity(name, float(bad.flat[0]), unit, _("above 0"))
    return np.asarray(f * CM_H_PER_MM2 * e**3 * d**2 / (1 - e) ** 2)


def hydraulic_size_mm(void_fraction: "ArrayLike", conductivity_cm_h: "ArrayLike") -> "Array":
    """Return the size of even, rounded grains that would conduct as a bed really does. [mm]

    Parameters
    ----------
    void_fraction : array_like
        Voids between the grains of the bed.
    conductivity_cm_h : array_like
        Of the bed full of water, as measured or believed. [cm/h]

    Notes
    -----
    The inverse of `saturated_conductivity_cm_h` with factor 1. It is smaller than the sieves say: dust, flat
    and rough pieces drag more, and in coarse beds the flow is no longer even.
    """
    k = np.asarray(conductivity_cm_h, dtype=float)
    if not np.all((k > 0) & np.isfinite(k)):
        bad = k[~((k > 0) & np.isfinite(k))]
        raise BadQuantity(_("saturated conductivity"), float(bad.flat[0]), "cm/h", _("above 0"))
    return np.sqrt(k / saturated_conductivity_cm_h(void_fraction, 1.0))


def mix_conductivity_cm_h(mix: Blend, hydraulic_size_mm: "ArrayLike") -> "Array":
    """Return the conductivity of a mix full of water. [cm/h], shape members

    Parameters
    ----------
    mix : Blend
    hydraulic_size_mm : array_like, shape (materials,)
        Of each material, in the order of the mix. [mm]

    Notes
    -----
    ε is what the packing leaves between the grains, 1/d = Σ X_k/d_k with X_k the shares of envelope volume:
    drag adds up by surface. A material alone returns its own.
    """
    d = np.asarray(hydraulic_size_mm, dtype=float)
    if not np.all((d > 0) & np.isfinite(d)):
        bad = d[~((d > 0) & np.isfinite(d))]
        raise BadQuantity(_("hydraulic size"), float(bad.flat[0]), "mm", _("above 0"))
    size = mix.solid.sum(axis=-1) / (mix.solid / d).sum(axis=-1)
    void = (mix.outer_void.sum(axis=-1) - mix.lost) / mix.volume
    return saturated_conductivity_cm_h(void, size)


def relative_conductivity(
    suction_cm: "ArrayLike",
    water: "ArrayLike",
    connectivity: float = CONNECTIVITY,
    air_entry_cm: float = 0.0,
    residual: float = 0.0,
    widest_cm: float = 0.0,
) -> "Array":
    """Return the conductivity at each suction as a share of that of the full medium.

    Parameters
    ----------
    suction_cm : array_like, shape (nodes,)
        From 0 upwards, at least three. [cm]
    water : array_like, shape (..., nodes)
        Water held at each, never rising. [m³ m⁻³]
    connectivity : float
        Mualem's l.
    air_entry_cm : float
        Pores that empty at a smaller suction are left out, and up to it the medium conducts as if full;
        1 to 2 cm where a curve is steep at no suction. [cm]   [vogel2000]_
    residual : float
        Water that never moves. [m³ m⁻³]
    widest_cm : float
        Pores that empty at a smaller suction count as if they emptied at this one: they still carry water,
        but the widest gaps between coarse pieces do not outweigh all others. [cm]   [iden2015]_

    Returns
    -------
    ndarray, shape (..., nodes)
        From 1 downwards.

    Raises
    ------
    BadQuantity
        If the suctions do not start at 0 and rise, the water rises or falls below the residual, or an option
        is not a number in its range.

    Notes
    -----
    K/Ks = S^l [∫₀^S dS/s / ∫₀¹ dS/s]²   [mualem1976]_. Between nodes either the water lost or the water held
    goes by a power of the suction, whichever is smaller, and the integral is exact for that; beyond the last
    node the water goes on by the last power.
    """
    s, theta = np.asarray(suction_cm, dtype=float), np.asarray(water, dtype=float)
    _refuse(
        s, theta, connectivity, {_("air entry suction"): air_entry_cm, _("widest pore"): widest_cm}, residual
    )
    held = theta - residual
    beyond = _integral_beyond(s, held)
    if widest_cm > 0:
        wide = s < widest_cm
        there, left = _between(s, held, widest_cm), _between(s, beyond, widest_cm)
        beyond[..., wide] = left + (held[..., wide] - there) / widest_cm

    full_held, full_integral = held[..., :1], beyond[..., :1]
    if air_entry_cm > 0:
        full_held = _between(s, held, air_entry_cm)
        full_integral = _between(s, beyond, air_entry_cm)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (held / full_held) ** connectivity * (beyond / full_integral) ** 2
    share = np.where(beyond > 0, share, 0.0)  # nothing left that moves
    return np.where(s <= air_entry_cm, 1.0, np.minimum(share, 1.0))


def _refuse(
    s: "Array", theta: "Array", connectivity: float, limits: dict[str, float], residual: float
) -> None:
    if s.ndim != 1 or len(s) < 3 or theta.shape[-1] != len(s):
        raise ValueError("at least three suctions in one row, and one water content for each")
    if not (s[0] == 0 and np.all(np.diff(s) > 0)):
        steps = np.diff(s)
        raise BadQuantity(
            _("step between suctions"), float(steps.min()), "cm", _("above 0, and the first suction 0")
        )
    if not np.all(np.diff(theta, axis=-1) <= 0):
        raise BadQuantity(
            _("change of water with suction"), float(np.diff(theta, axis=-1).max()), "m³/m³", _("0 or less")
        )
    least, most = float(theta.min()), float(theta[..., 0].min())
    if not 0 <= residual < most:
        raise BadQuantity(
            _("residual water content"), residual, "m³/m³", _("from 0 to below the full medium")
        )
    if not least >= residual:
        raise BadQuantity(_("water content"), least, "m³/m³", _("at least the residual water content"))
    for name, limit in limits.items():
        if not 0 <= limit < s[-1]:
            raise BadQuantity(name, limit, "cm", _("from 0 to below the largest suction"))
    if not math.isfinite(connectivity):
        raise BadQuantity(_("connectivity of the pores"), connectivity, "", _("a finite number"))


def _integral_beyond(s: "Array", held: "Array") -> "Array":
    """Return ∫ dθ/s over all pores that are still full at each suction."""
    s1, s2 = s[1:-1], s[2:]
    ratio = np.log(s2 / s1)
    lost = held[..., :1] - held
    lost1, lost2 = lost[..., 1:-1], lost[..., 2:]
    held1, held2 = held[..., 1:-1], held[..., 2:]
    with np.errstate(divide="ignore", invalid="ignore"):
        p = np.log(lost2 / lost1) / ratio
        by_lost = np.where(np.abs(p - 1) > 1e-6, p / (p - 1) * (lost2 / s2 - lost1 / s1), lost1 / s1 * ratio)
        q = np.log(held1 / held2) / ratio
        by_held = q / (q + 1) * (held1 / s1 - held2 / s2)
    even = (held1 - held2) * ratio / (s2 - s1)  # where no power fits: evenly in suction
    use_lost, use_held = (lost1 > 0) & (lost2 < held2), held2 > 0
    parts = np.where(use_lost, by_lost, np.where(use_held, by_held, even))

    with np.errstate(divide="ignore", invalid="ignore"):
        tail = np.where(use_held[..., -1], q[..., -1] / (q[..., -1] + 1) * held[..., -1] / s[-1], 0.0)
    beyond = np.empty_like(held)
    beyond[..., -1] = tail
    beyond[..., 1:-1] = tail[..., None] + np.cumsum(parts[..., ::-1], axis=-1)[..., ::-1]
    beyond[..., 0] = beyond[..., 1] + _integral_before(s, lost)
    return beyond


def _integral_before(s: "Array", lost: "Array") -> "Array":
    """Return ∫ dθ/s from no suction to the first node, by the power of the suction at which water goes there.

    The power is read over two doublings of the suction and straightened towards no suction: it falls as pores
    run out. Nodes closer than that would read the rounding of the water.
    """
    second, third = (min(int(np.searchsorted(s, times * s[1])), len(s) - 1) for times in (2, 4))
    first_lost, second_lost, third_lost = lost[..., 1], lost[..., second], lost[..., third]
    with np.errstate(divide="ignore", invalid="ignore"):
        power = np.log(second_lost / first_lost) / math.log(s[second] / s[1])
        if third > second:
            later = np.log(third_lost / second_lost) / math.log(s[third] / s[second])
            place, later_place = math.sqrt(s[1] * s[second]), math.sqrt(s[second] * s[third])
            power = power + np.maximum(power - later, 0.0) * place / (later_place - place) / 2
    power = np.maximum(np.where(first_lost > 0, power, 2.0), LEAST_POWER)
    return np.asarray(power / (power - 1) * first_lost / s[1])


def _between(s: "Array", values: "Array", at_cm: float) -> "Array":
    """Return values at a suction between nodes, evenly in the logarithms (evenly below the first node)."""
    place = int(np.searchsorted(s, at_cm))
    low, high = values[..., place - 1 : place], values[..., place : place + 1]
    if place == 1:
        return np.asarray(low + (high - low) * at_cm / s[1])
    part = math.log(at_cm / s[place - 1]) / math.log(s[place] / s[place - 1])
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(high > 0, low * (high / low) ** part, low + (high - low) * part)
