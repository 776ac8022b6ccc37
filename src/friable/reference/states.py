"""How much loose moist material a measured litre stands for, by the state it is measured in."""

from friable.errors import BadText
from friable.reference.load import read_table
from friable.reference.materials import Material
from friable.science.estimate import Estimate
from friable.wording import gettext as _

SWELLING = "peat-like"  # what the table calls material of kind "fibrous"
ANY = "any"


def measuring_state_factor(material: Material | str, state: str) -> Estimate:
    """Return the litres of loose moist material that one litre measured in this state gives. [L/L]

    Parameters
    ----------
    material : Material or str
        The material; a key or kind (fibrous, organic, mineral, filler) where there is no more to go by.
    state : str
        "loose moist", "loose dry", "loose soaked", "tapped moist", "tapped dry" or "tapped soaked".

    Raises
    ------
    BadText
        If the state is none of these.
    """
    rows = [row for row in read_table("measuring_states") if row["state"] == state]
    if not rows:
        states = dict.fromkeys(row["state"] for row in read_table("measuring_states"))
        raise BadText(
            _("The state"),
            state,
            _("is unknown"),
            _("Use one of: {states}.").format(states=", ".join(states)),
        )
    key, kind = (material.key, material.kind) if isinstance(material, Material) else (material, material)
    for applies_to in (key, SWELLING if kind == "fibrous" else "", ANY):
        for row in rows:
            if row["applies_to"] == applies_to:
                return Estimate(
                    row.number("loose_moist_l_per_l"),
                    row.number("low"),
                    row.number("high"),
                    row["how_known"],
                    row["source"],
                )
    raise rows[0].refused(_("no row for any material in this state"))
