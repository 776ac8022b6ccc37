"""Water to add to bring a heap to a moisture, under either meaning of per cent."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from friable.errors import BadQuantity, BadText, Refused
from friable.science.conversion import exact
from friable.wording import gettext as _

WET_MASS, WATER_TO_DRY = "wet-mass", "water-to-dry"
MEANINGS = (WET_MASS, WATER_TO_DRY)
MOST_WATER_TO_DRY = 20  # sphagnum moss holds about this many times its dry mass (from memory)
LARGEST_KG = 1_000_000


@dataclass(frozen=True, slots=True)
class WaterToAdd:
    """Water for a heap; one litre of water is counted as one kilogram. [L, kg]"""

    water_to_add_l: float
    meaning: str
    dry_mass_kg: float
    water_now_kg: float
    mass_after_kg: float
    advice: str

    def to_json(self) -> dict[str, Any]:
        """Return the answer under the names that programs read."""
        return {
            "water_to_add_l": self.water_to_add_l,
            "meaning": self.meaning,
            "dry_mass_kg": self.dry_mass_kg,
            "water_now_kg": self.water_now_kg,
            "mass_after_kg": self.mass_after_kg,
            "advice": self.advice,
        }


def water_to_add(
    mass_kg: float | Fraction, at: float | Fraction, to: float | Fraction, meaning: str = WET_MASS
) -> WaterToAdd:
    """Return the water that brings a moist heap from one moisture to another.

    Parameters
    ----------
    mass_kg : number
        As it lies on the scale, moist. [kg]
    at, to : number
        Moisture now and wanted: water as a share of the wet mass (“wet-mass”, below 1), or water
        for one of dry
        mass (“water-to-dry”, which may exceed 1).
    meaning : str
        “wet-mass” or “water-to-dry”: the same per cent are very different litres.

    Raises
    ------
    BadQuantity, BadText, Refused
        If a moisture is impossible, or the heap is wetter than wanted already.

    Examples
    --------
    >>> water_to_add(14, 0.3, 0.5).water_to_add_l
    5.6
    """
    if meaning not in MEANINGS:
        raise BadText(
            _("meaning"),
            meaning,
            _("is unknown"),
            _("Use {choices}.").format(choices=_(" or ").join(MEANINGS)),
        )
    if not 0 < mass_kg <= LARGEST_KG:
        raise BadQuantity(_("the mass"), float(mass_kg), "kg", _("above 0 and at most 1,000,000 kg"))
    for name, share in ((_("the moisture now"), at), (_("the moisture wanted"), to)):
        if meaning == WET_MASS and not 0 <= share < 1:
            raise BadQuantity(name, 100 * float(share), "%", _("from 0 to less than 100 % of the wet mass"))
        if meaning == WATER_TO_DRY and not 0 <= share <= MOST_WATER_TO_DRY:
            raise BadQuantity(
                name,
                100 * float(share),
                "%",
                _("from 0 to {most} % of the dry mass").format(most=100 * MOST_WATER_TO_DRY),
            )
    now, then, mass = exact(at), exact(to), exact(mass_kg)
    if then < now:
        raise Refused(
            _(
                "The heap is at {now:g} % already and {then:g} % is drier; spread it out to dry, "
                "add no water."
            ).format(now=float(100 * now), then=float(100 * then))
        )
    dry = mass * (1 - now) if meaning == WET_MASS else mass / (1 + now)
    after = dry / (1 - then) if meaning == WET_MASS else dry * (1 + then)
    return WaterToAdd(
        water_to_add_l=float(after - mass),
        meaning=meaning,
        dry_mass_kg=float(dry),
        water_now_kg=float(mass - dry),
        mass_after_kg=float(after),
        advice=_advice(meaning, then),
    )


def _advice(meaning: str, to: Fraction) -> str:
    if meaning == WET_MASS:
        other = to / (1 - to)
        said = _("Per cent of the wet mass; the same moisture is {other:.3g} % of the dry mass.")
    else:
        other = to / (1 + to)
        said = _("Per cent of the dry mass; the same moisture is {other:.3g} % of the wet mass.")
    how = _(
        "Add it in two or three goes while turning, rest it, overnight if it sheds water, and "
        "squeeze a handful."
    )
    return f"{said.format(other=float(100 * other))} {how}"
