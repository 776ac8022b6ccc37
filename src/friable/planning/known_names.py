"""What a written material name stands for in the tables, where volumes are all that is asked."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from friable.errors import AmbiguousName, BadRecipe, UnknownName
from friable.planning.recipe import USUAL_STATE
from friable.science.conversion import exact

if TYPE_CHECKING:
    from friable.reference.materials import Material

    Finder = Callable[[str], "Material"]


def finder(extra: "Sequence[Material]" = ()) -> "Finder":
    """Return a function from name to material, our own materials included."""
    from friable.reference.materials import find_material

    return lambda text: find_material(text, extra=extra)


def known_material(name: str, find: "Finder") -> "Material | None":
    """Return the material that a name stands for; None if it is not one thing of which figures are known."""
    try:
        return find(name)
    except (UnknownName, AmbiguousName, BadRecipe):
        return None


def loose_factor(material: "Material | None", state: str) -> Fraction | None:
    """Return loose moist litres for one litre measured in this state; None where no figure is known."""
    if state == USUAL_STATE:
        return Fraction(1)
    if material is None:
        return None
    from friable.reference.states import measuring_state_factor

    factor = measuring_state_factor(material, state)
    return None if factor is None else exact(factor.value)
