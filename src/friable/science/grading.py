"""Sub-grades: one material in a size band seen as five sizes of equal envelope volume."""

import math

from friable.errors import BadQuantity
from friable.wording import gettext as _

# Standard normal deviates in the middle of five equal shares.
MIDDLES = (-1.2816, -0.5244, 0.0, 0.5244, 1.2816)
NINETY_FIVE = 1.645  # the size band is read as 5th to 95th percentile
SPREAD = 0.75  # a sieve pair overstates the spread of sizes; scanned on published mixes, flat optimum


def sub_grades_mm(low_mm: float, middle_mm: float, high_mm: float) -> tuple[float, ...]:
    """Return five sizes that stand for a size band, finest first. [mm]

    Parameters
    ----------
    low_mm, middle_mm, high_mm : float
        5th percentile, median and 95th percentile of particle size by volume. [mm]

    Raises
    ------
    BadQuantity
        If the sizes do not rise, or are not above 0.

    Notes
    -----
    d_i = d50 exp(0.75 σ z_i), σ = ln(d50/low)/1.645 below the middle and ln(high/d50)/1.645 above it:
    a two-piece log-normal size distribution. Common practice for sieve data, no source for 0.75.
    """
    if not low_mm > 0:
        raise BadQuantity(_("lower particle size"), low_mm, "mm", _("above 0"))
    if not low_mm <= middle_mm:
        raise BadQuantity(
            _("middle particle size"),
            middle_mm,
            "mm",
            _("at least the lower size ({low:g} mm)").format(low=low_mm),
        )
    if not middle_mm <= high_mm < math.inf:
        raise BadQuantity(
            _("upper particle size"),
            high_mm,
            "mm",
            _("at least the middle size ({mid:g} mm)").format(mid=middle_mm),
        )
    below = math.log(middle_mm / low_mm) / NINETY_FIVE
    above = math.log(high_mm / middle_mm) / NINETY_FIVE
    return tuple(middle_mm * math.exp(SPREAD * (below if z < 0 else above) * z) for z in MIDDLES)
