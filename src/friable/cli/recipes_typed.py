"""The recipe of a command: written out, or in a file."""

from typing import TYPE_CHECKING

from friable.cli.typed_files import read_text
from friable.errors import BadRecipe
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.recipe import RecipeBook


def read_book(recipe: str, file: str, published: str = "") -> "RecipeBook":
    """Return the recipe that was written out, the book in a file, or a published one.

    Raises
    ------
    BadRecipe
        If none or more than one are given.
    """
    if sum(bool(text.strip()) for text in (recipe, file, published)) > 1:
        raise BadRecipe(_("The recipe is given more than once: written out, by a file or by name; keep one."))
    if published:
        from friable.planning.published_recipe import published_book
        from friable.planning.typed_text import MAX_CELL, plain
        from friable.reference.recipes import find_recipe

        return published_book(find_recipe(plain(published, "--published", 2 * MAX_CELL)))
    if file:
        from friable.planning.recipe_file import read_recipe_file

        return read_recipe_file(read_text(file, _("recipe file")))
    if not recipe.strip():
        raise BadRecipe(
            _(
                "No recipe is given; write one such as “5 pine bark nursery + 1 perlite coarse”, or "
                "name a file."
            )
        )
    from friable.planning.recipe import book_of
    from friable.planning.recipe_text import parse_recipe

    return book_of(parse_recipe(recipe))
