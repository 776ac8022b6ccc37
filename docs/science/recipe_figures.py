"""Every published recipe that can be computed, in the container it is meant for: figures with ranges."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from friable.planning.container_text import parse_container
from friable.planning.forecast import forecast
from friable.planning.mix_parts import mix_parts
from friable.planning.published_recipe import published_book
from friable.planning.windows import mix_flags
from friable.reference.materials import Material, all_materials
from friable.reference.recipe_containers import MIX, RecipeUse, recipe_uses
from friable.reference.recipes import PublishedRecipe, published_recipes
from friable.science.estimate import Estimate

SAMPLES = 256
FORECAST = (
    "air_space", "container_capacity", "total_porosity", "available_water", "easily_available_water",
    "dry_bulk_density_g_cm3",
)  # fmt: skip
WET = "wet_density_kg_l"


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of one reading of a recipe; a flag stands as a word, without ends."""

    recipe: str
    container: str
    reading: str  # how open words were read; "" where none is open
    quantity: str
    value: str
    low: str = ""
    high: str = ""


def computed() -> Iterator[tuple[PublishedRecipe, RecipeUse]]:
    """Return the recipes that can be computed, each with its use, in the order of the table."""
    uses = {use.recipe: use for use in recipe_uses()}
    for recipe in published_recipes():
        if not uses[recipe.key].left_out:
            yield recipe, uses[recipe.key]


def readings(recipe: PublishedRecipe, use: RecipeUse) -> Iterator[tuple[str, PublishedRecipe]]:
    """Return every way in which the open words of a recipe may be read, told, and the recipe so read."""
    named = dict(use.readings)
    titles = {material.key: material.title for material in all_materials()}
    mixes = {other.key: other.name for other in published_recipes()}
    asked = [component.printed_name for component in recipe.components if component.asks]
    for choice in product(*(named[name] for name in asked)):
        read = dict(zip(asked, choice, strict=True))
        yield (
            "; ".join(mixes[key.removeprefix(MIX)] if MIX in key else titles[key] for key in choice),
            replace(
                recipe,
                components=tuple(
                    component
                    if not component.asks
                    else replace(component, mix=read[component.printed_name].removeprefix(MIX))
                    if MIX in read[component.printed_name]
                    else replace(component, material=read[component.printed_name])
                    for component in recipe.components
                ),
            ),
        )


def parts_of(recipe: PublishedRecipe) -> list[tuple[Material, float]]:
    """Return the materials of a recipe without open words, mixes within it multiplied out."""
    return mix_parts(published_book(recipe))


def rows() -> Iterator[Row]:
    """Work out every figure anew."""
    for recipe, use in computed():
        pot = parse_container(use.container)
        for reading, read in readings(recipe, use):
            parts = parts_of(read)
            answer = forecast(parts, pot, samples=SAMPLES)
            figures = {name: getattr(answer, name) for name in FORECAST}
            figures[WET] = _per_litre(answer.wet_mass_kg, pot.medium_volume_l)
            for name, one in figures.items():
                ends = (_four(one.value), _four(one.low), _four(one.high))
                yield Row(recipe.key, use.container, reading, name, *ends)
            for name, figure in mix_flags(parts).items():
                told = "" if figure is None else figure if isinstance(figure, str) else _four(figure)
                yield Row(recipe.key, use.container, reading, name, told)


def _per_litre(mass_kg: Estimate, litres: float) -> Estimate:
    value, low, high = mass_kg.value / litres, mass_kg.low / litres, mass_kg.high / litres
    return Estimate(value, low, high, mass_kg.how_known, mass_kg.source)


def _four(figure: float) -> str:
    return f"{figure:.4f}"
