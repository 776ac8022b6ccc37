"""What a bucket, a scale and a jug give: the sums behind what is measured at the bench."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.errors import BadQuantity, Refused
from friable.wording import gettext as _

WATER_KG_PER_L = 1.0  # to 0.3 % between 4 and 25 degrees; far below what a bench scale shows
GRAMS_IN_KG = 1000.0
CUBIC_CM_IN_L = 1000.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """Middle, lowest and highest of several weighings of one volume. [g/cm3]"""

    dry_bulk_density_g_cm3: float
    dry_bulk_density_low_g_cm3: float
    dry_bulk_density_high_g_cm3: float


def litres_of_water(full_kg: float, empty_kg: float = 0.0) -> float:
    """Return the volume of a container from its mass filled with water and empty. [L]

    Raises
    ------
    Refused
        If it is no heavier full than empty.
    """
    if not full_kg > empty_kg >= 0:
        raise Refused(
            _(
                "{full:.4g} kg full and {empty:.4g} kg empty leave no water; weigh it empty, then filled "
                "with water, on the same scale."
            ).format(full=full_kg, empty=empty_kg)
        )
    return (full_kg - empty_kg) / WATER_KG_PER_L


def dry_bulk_density(volume_l: float, masses_kg: Sequence[float]) -> Weighed:
    """Return the dry bulk density of a material from weighings of the same loose volume.

    Raises
    ------
    BadQuantity
        If the volume or a mass is not above 0.
    """
    if not volume_l > 0:
        raise BadQuantity(_("the loose volume"), volume_l, "L", _("above 0"))
    for mass_kg in masses_kg:
        if not mass_kg > 0:
            raise BadQuantity(_("the dry mass"), mass_kg, "kg", _("above 0"))
    if not masses_kg:
        raise Refused(_("Nothing was weighed; give the dry mass of at least one fill."))
    each = [mass_kg * GRAMS_IN_KG / (volume_l * CUBIC_CM_IN_L) for mass_kg in masses_kg]
    return Weighed(sum(each) / len(each), min(each), max(each))
