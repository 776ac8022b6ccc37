"""What a load means for the person who lifts it."""

from friable.errors import BadQuantity
from friable.wording import gettext as _

# Load constant of the revised lifting equation, the most under ideal conditions. [kg]   [niosh2021]
LOAD_CONSTANT_KG = 23.0


def wet_mass_note(kg: float) -> str:
    """Return one sentence on lifting this mass.

    Raises
    ------
    BadQuantity
        If the mass is negative or not a number.

    Notes
    -----
    23 kg is a ceiling, reached only close to the body, at knuckle height, without a twist and seldom.
    [niosh2021]. Rules of the workplace and of the country come first.
    """
    if not 0 <= kg < 1e9:
        raise BadQuantity(_("the mass to lift"), kg, "kg", _("0 or more"))
    if kg <= LOAD_CONSTANT_KG / 2:
        return _(
            "{kg:.3g} kg when wet; less with reach, twist or many lifts, as your workplace rules say."
        ).format(kg=kg)
    if kg <= LOAD_CONSTANT_KG:
        return _(
            "{kg:.3g} kg when wet: near the {most:g} kg that the lifting equation allows under "
            "ideal conditions; "
            "keep it close, do not twist, or lift with another, and follow your workplace rules."
        ).format(kg=kg, most=LOAD_CONSTANT_KG)
    loads = -int(-kg // LOAD_CONSTANT_KG)
    return _(
        "{kg:.3g} kg when wet, above the {most:g} kg that the lifting equation allows under ideal "
        "conditions: "
        "split it into {loads} loads or more, or use a trolley, and follow your workplace rules."
    ).format(kg=kg, most=LOAD_CONSTANT_KG, loads=loads)
