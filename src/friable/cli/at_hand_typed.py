"""Materials, groups and windows as a command names them: typed, counted in stock, or all."""

import sys
from typing import TYPE_CHECKING

from friable.cli.names_here import find_material, look_up_here, records_exist
from friable.errors import BadText, Refused
from friable.planning.typed_text import MAX_TEXT
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.reference.materials import Material
    from friable.reference.plant_groups import PlantGroup

STOCK, ALL = "stock", "all"


def typed_at_hand(text: str) -> "tuple[AtHand, ...]":
    """Return the materials that a list names: “stock”, “all”, or names with commas between.

    Without a list: what is counted in stock, or every material where nothing was ever counted.

    Raises
    ------
    UnknownName, AmbiguousName
        If a name is not one material.
    Refused
        If stock is asked for and none is counted.
    """
    wanted = text.strip()
    if len(wanted) > MAX_TEXT:
        raise BadText("--materials", text, _("is too long"), _("Name the materials with commas between."))
    here = _all_here()
    if not wanted or wanted.casefold() == STOCK:
        counted = tuple(item for item in here if item.stock_l)
        if counted:
            return counted
        if wanted:
            raise Refused(_("Nothing is counted in stock; name the materials, or use --materials all."))
        return here
    if wanted.casefold() == ALL:
        return here
    known = {item.material.key: item for item in here}
    found = {}
    for name in wanted.split(","):
        if name.strip():
            material = find_material(name.strip())
            found[material.key] = known.get(material.key) or _bare(material)
    if not found:
        raise BadText("--materials", text, _("names none"), _("Name the materials with commas between."))
    return tuple(found.values())


def find_group(text: str) -> "PlantGroup":
    """Return a plant group with the windows that hold here."""
    from friable.reference.plant_groups import find_plant_group

    group = find_plant_group(text)
    if not records_exist():
        return group
    return look_up_here(text, lambda: _group_here(group))


def say_preparing(seconds: int) -> None:
    """Say on standard error why the first search takes longer."""
    sys.stderr.write(
        _("The search is prepared for this machine, once after installing; up to {seconds} s.").format(
            seconds=seconds
        )
        + "\n"
    )
    sys.stderr.flush()


def _bare(material: "Material") -> "AtHand":
    from friable.planning.at_hand import AtHand
    from friable.reference.material_flags import material_flags

    return AtHand(material=material, flags=material_flags(material))


def _all_here() -> "tuple[AtHand, ...]":
    from friable.reference.materials import all_materials

    if records_exist():
        return look_up_here(STOCK, _stored)
    return tuple(_bare(material) for material in all_materials())


def _stored() -> "tuple[AtHand, ...]":
    from friable.records.queries.at_hand import at_hand

    return at_hand()


def _group_here(group: "PlantGroup") -> "PlantGroup":
    from friable.records.queries.windows import groups

    return next(known for known in groups() if known.key == group.key)
