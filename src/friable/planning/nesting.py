"""Mixes within mixes: which is made, and in which order."""

from collections.abc import Mapping
from graphlib import CycleError, TopologicalSorter

from friable.errors import BadRecipe, shown
from friable.planning.recipe import Recipe
from friable.wording import gettext as _

MOST_NAMED = 5


def order_of_mixing(recipes: Mapping[str, Recipe]) -> list[str]:
    """Return the names of the mixes so that each stands after every mix that contains it.

    Raises
    ------
    BadRecipe
        If mixes contain each other in a ring.
    """
    used_by: dict[str, set[str]] = {name: set() for name in recipes}
    for name, recipe in recipes.items():
        for component in recipe.components:
            if component.name in recipes:
                used_by[component.name].add(name)
    try:
        return list(TopologicalSorter(used_by).static_order())
    except CycleError as ring:
        names = [shown(name) for name in reversed(ring.args[1])]
        if len(names) > MOST_NAMED:
            names = [*names[: MOST_NAMED - 1], "…", names[-1]]
        raise BadRecipe(
            _("These mixes contain each other in a ring: {ring}; take one of them out.").format(
                ring=" → ".join(names)
            )
        ) from None


def made_mix(recipes: Mapping[str, Recipe]) -> str:
    """Return the mix that no other contains.

    Raises
    ------
    BadRecipe
        If there are several, or none.
    """
    inside = {component.name for recipe in recipes.values() for component in recipe.components}
    tops = [name for name in recipes if name not in inside]
    if len(tops) > 1:
        listed = ", ".join(shown(name) for name in tops[:MOST_NAMED]) + (
            ", …" if len(tops) > MOST_NAMED else ""
        )
        raise BadRecipe(
            _(
                "{count} mixes are part of no other ({names}), so it is not clear which is made; "
                "keep one, or make the others part of it."
            ).format(count=len(tops), names=listed)
        )
    if not tops:
        raise BadRecipe(_("Every mix is part of another, so none can be the one that is made."))
    return tops[0]
