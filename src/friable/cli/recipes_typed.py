"""The recipe of a command: written out, or in a file."""

from typing import TYPE_CHECKING

from friable.cli.typed_files import read_text
from friable.errors import BadRecipe
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.recipe import RecipeBook


def read_book(recipe: str, file: str) -> "RecipeBook":
    """Return the recipe that was written out, or the book in a file.

    Raises
    ------
    BadRecipe
        If both or neither are given.
    """
    from friable.planning.notation import parse_recipe, read_recipe_file
    from friable.planning.quantities import book_of

    if recipe.strip() and file:
        raise BadRecipe(_("A recipe is written out and a file is named; give one of them."))
    if file:
        return read_recipe_file(read_text(file, _("recipe file")))
    if not recipe.strip():
        raise BadRecipe(
            _(
                "No recipe is given; write one such as “5 pine bark nursery + 1 perlite coarse”, or "
                "name a file."
            )
        )
    return book_of(parse_recipe(recipe))
