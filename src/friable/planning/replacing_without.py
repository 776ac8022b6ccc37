"""Which materials a typed word means when something has run out or is to be given up."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from friable.errors import AmbiguousName, BadText, Refused, UnknownName
from friable.planning.known_names import finder
from friable.planning.typed_text import plain
from friable.reference.material_flags import material_flags
from friable.reference.materials import all_materials
from friable.reference.words import tokens
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.planning.known_names import Finder
    from friable.reference.materials import Material

    Parts = Sequence[tuple[Material, float]]

PEAT = frozenset({"peat"})


def without(
    text: str, mix: "Parts", at_hand: "Iterable[AtHand]" = (), find: "Finder | None" = None
) -> frozenset[str]:
    """Return the keys of the materials that a text takes away, several parted by commas.

    Parameters
    ----------
    text : str
        “peat” is every material that is peat; a name, as “perlite”, is every grade of it; name and grade, or
        an alias, is that grade alone. A word that fits several materials means the one in the mix.
    mix : sequence of (Material, loose volume)
    at_hand : iterable of AtHand
        Other materials that must go where a name says so.
    find : callable, optional
        From a name to a material.

    Raises
    ------
    UnknownName, AmbiguousName, BadText
        If a name is none, or several.
    Refused
        If none of what it means is in the mix.
    """
    what = _("what the mix must do without")
    names = [" ".join(name.split()) for name in plain(text, what).split(",")]
    if not any(names):
        raise BadText(what, text, _("is empty"), _("Write it as “perlite coarse”, or “peat”."))
    in_mix = [material for material, _share in mix]
    own = [one.material for one in at_hand]
    known = {material.key: material for material in (*all_materials(), *own, *in_mix)}
    found: set[str] = set()
    for name in names:
        if name:
            meant = _meant(name, list(known.values()), in_mix, find or finder(own))
            if not meant & {material.key for material in in_mix}:
                raise Refused(
                    _("The mix has no {name}; it is made of {materials}.").format(
                        name=name, materials=", ".join(material.title for material in in_mix)
                    )
                )
            found |= meant
    return frozenset(found)


def peat_free(mix: "Parts", at_hand: "Iterable[AtHand]" = ()) -> frozenset[str]:
    """Return the keys of every material that is peat.

    Raises
    ------
    Refused
        If the mix has none.
    """
    return without(next(iter(PEAT)), mix, at_hand)


def _meant(name: str, known: "Sequence[Material]", in_mix: "Sequence[Material]", find: "Finder") -> set[str]:
    words = tokens(name)
    if words == PEAT:
        return {material.key for material in known if material_flags(material).peat}
    grades = {material.key for material in known if words and words == tokens(material.name)}
    if grades:
        return grades
    try:
        return {find(name).key}
    except AmbiguousName:
        here = [material for material in in_mix if words <= tokens(material.title)]
        if len({material.name for material in here}) > 1:
            raise
        return {material.key for material in here}
    except UnknownName:
        if any(material.key == name for material in known):
            return {name}
        raise
