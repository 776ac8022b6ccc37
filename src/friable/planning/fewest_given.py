"""Mixes to choose from besides those in use: out of a recipe file."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from friable.errors import BadRecipe
from friable.planning.collection_values import Mix
from friable.planning.fewest_card import with_card
from friable.planning.mix_parts import mix_parts
from friable.planning.recipe import RecipeBook
from friable.planning.recipe_file import read_mixes
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material


def mixes_given(text: str, find: "Callable[[str], Material] | None" = None) -> tuple[Mix, ...]:
    """Return the complete mixes of a recipe file that are part of no other.

    Raises
    ------
    BadFile, BadRecipe, BadText, BadQuantity, UnknownName, AmbiguousName
        If the file cannot be read, a mix cannot be made, or none is left.
    """
    recipes = read_mixes(text)
    inside = {component.name for recipe in recipes.values() for component in recipe.components}
    found = tuple(
        with_card(
            Mix(name, tuple(mix_parts(RecipeBook(recipes, name), find))), _within(RecipeBook(recipes, name))
        )
        for name, recipe in recipes.items()
        if name not in inside and not recipe.incomplete
    )
    if not found:
        raise BadRecipe(_("The recipe file holds no complete mix to choose; write one that can be made."))
    return found


def _within(book: RecipeBook) -> RecipeBook:
    """Return a book with only the mix that is made and those within it, at any depth."""
    wanted = [book.made]
    for name in wanted:
        wanted += [c.name for c in book.recipes[name].components if c.name in book.recipes]
    return RecipeBook({name: book.recipes[name] for name in wanted}, book.made)
