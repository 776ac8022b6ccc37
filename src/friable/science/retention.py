"""Water held by a medium against suction."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

SURFACE_TENSION_N_PER_M = 0.07275  # water at 20 °C
WATER_DENSITY_KG_M3 = 1000.0
GRAVITY_M_S2 = 9.807
CAPILLARY_CONSTANT_CM2 = 2 * SURFACE_TENSION_N_PER_M / (WATER_DENSITY_KG_M3 * GRAVITY_M_S2) * 1e4

AVAILABLE_DOWN_TO_CM = 15_000.0  # permanent wilting, by convention
EASILY_FROM_CM = 10.0
EASILY_TO_CM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RetentionCurve:
    """One family of pores, or two: a van Genuchten curve or Durner's weighted sum of two.

    With `second_share` above 0 that share of the drainable water follows the second alpha and n.
    """

    saturated: float  # m³ water per m³ bulk
    residual: float  # m³ water per m³ bulk
    alpha_per_cm: float
    n: float
    second_share: float = 0.0
    second_alpha_per_cm: float = 1.0
    second_n: float = 2.0

    def __post_init__(self) -> None:
        if not 0 <= self.residual < self.saturated <= 1:
            raise BadQuantity(
                _("residual water content"),
                self.residual,
                "m³/m³",
                _("at least 0 and below the saturated water content ({saturated:g} m³/m³, at most 1)").format(
                    saturated=self.saturated
                ),
            )
        for alpha in (self.alpha_per_cm, self.second_alpha_per_cm):
            if not 0 < alpha < math.inf:
                raise BadQuantity("alpha", alpha, "1/cm", _("above 0"))
        for n in (self.n, self.second_n):
            if not 1 < n < math.inf:
                raise BadQuantity("n", n, "", _("above 1"))
        if not 0 <= self.second_share <= 1:
            raise BadQuantity(_("share of the second pore family"), self.second_share, "", _("from 0 to 1"))


def saturation(suction_cm: "ArrayLike", alpha_per_cm: "ArrayLike", n: "ArrayLike") -> "NDArray[np.float64]":
    """Return the share of a pore family that still holds water.

    Parameters
    ----------
    suction_cm, alpha_per_cm, n : array_like, broadcast against each other
        Suction [cm], inverse of the suction at which the family empties [1/cm], and its evenness [no unit].

    Returns
    -------
    ndarray
        S = [1 + (alpha s)^n]^-(1 - 1/n), from 1 (full) to 0.   [vangenuchten1980]_

    Notes
    -----
    Arguments are not checked in this innermost loop; `RetentionCurve` and `Ingredient` check theirs.
    """
    n = np.asarray(n, dtype=float)
    with np.errstate(divide="ignore"):  # ln 0 = -inf stands for no suction, and leaves S = 1
        x = np.asarray(n * (np.log(alpha_per_cm) + np.log(suction_cm)))
    np.exp(x, out=x)  # (alpha s)^n; exponentials in place take half the time of powers
    x += 1
    np.log(x, out=x)
    x *= 1 / n - 1
    np.exp(x, out=x)
    return x


def water_content(suction_cm: "ArrayLike", curve: RetentionCurve) -> "NDArray[np.float64]":
    """Return the water that a medium holds against a suction.

    Parameters
    ----------
    suction_cm : array_like, shape (...)
        Suction as a height of water; 0 is the free water surface. [cm]
    curve : RetentionCurve
        Curve fitted to the medium.

    Returns
    -------
    ndarray, shape (...)
        Volume of water per bulk volume of medium. [m³ m⁻³]

    Raises
    ------
    BadQuantity
        If any suction is negative or not a number.

    Notes
    -----
    θ(s) = θr + (θs − θr) Σ wᵢ [1 + (αᵢ s)^nᵢ]^-(1 − 1/nᵢ)   [vangenuchten1980]_, sum form [durner1994]_

    Valid while the medium drains; it says nothing of re-wetting a dry medium.

    Examples
    --------
    >>> peat = RetentionCurve(saturated=0.9, residual=0.1, alpha_per_cm=0.1, n=2)
    >>> water_content([0, 10], peat).round(3).tolist()
    [0.9, 0.666]
    """
    s = np.asarray(suction_cm, dtype=float)
    if not np.all(s >= 0):
        bad = s[~(s >= 0)].flat[0]
        raise BadQuantity(_("suction"), float(bad), "cm", _("0 or more"))

    filled = saturation(s, curve.alpha_per_cm, curve.n)
    if curve.second_share:
        second = saturation(s, curve.second_alpha_per_cm, curve.second_n)
        filled = (1 - curve.second_share) * filled + curve.second_share * second
    return curve.residual + (curve.saturated - curve.residual) * filled
