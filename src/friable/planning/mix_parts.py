"""A recipe as materials and loose volumes, mixes within it multiplied out."""

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from friable.planning.known_names import finder, loose_factor
from friable.planning.nested_amounts import poured_amounts
from friable.planning.recipe import RecipeBook

if TYPE_CHECKING:
    from friable.reference.materials import Material


def mix_parts(
    book: RecipeBook, find: "Callable[[str], Material] | None" = None
) -> "list[tuple[Material, float]]":
    """Return the materials of the mix that is made, and what one litre of it takes of each. [L, loose moist]

    Raises
    ------
    UnknownName, AmbiguousName
        If a name is not one material.
    """
    look_up = find or finder()
    found: dict[str, Material] = {}
    factors: dict[tuple[str, str], Fraction] = {}

    def identity(name: str) -> str:
        material = look_up(name)
        found.setdefault(material.key, material)
        return material.key

    def factor(name: str, state: str) -> Fraction:
        material = look_up(name)
        loose = loose_factor(material, state)
        factors[material.key, state] = Fraction(1) if loose is None else loose
        return factors[material.key, state]

    poured = poured_amounts(book.recipes, book.made, Fraction(1), identity=identity, loose_factor=factor)
    loose_l: dict[str, Fraction] = {}
    for (key, state), volume in poured.volumes_l.items():
        loose_l[key] = loose_l.get(key, Fraction(0)) + volume * factors[key, state]
    return [(found[key], float(volume)) for key, volume in loose_l.items()]
