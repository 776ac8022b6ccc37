"""The one door to what can be written for a recipe, a recipe file or a container."""

from friable.planning.container_text import parse_container
from friable.planning.recipe_file import read_recipe_file
from friable.planning.recipe_text import parse_recipe
from friable.planning.typed_text import MAX_TEXT

__all__ = ["MAX_TEXT", "parse_container", "parse_recipe", "read_recipe_file"]
