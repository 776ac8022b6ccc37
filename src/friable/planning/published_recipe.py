"""A published recipe as one that can be made."""

from friable.planning.recipe import Amendment, Component, Recipe, RecipeBook
from friable.reference.materials import all_materials
from friable.reference.recipes import Conflict, PublishedAmendment, PublishedRecipe, published_recipes
from friable.wording import gettext as _


def published_book(published: PublishedRecipe) -> RecipeBook:
    """Return a published recipe and those inside it as a recipe book.

    A component whose grade the source leaves open keeps its printed name. An amendment without a mass, such
    as one in spoons, cannot be weighed and becomes a caution.
    """
    by_key = {recipe.key: recipe for recipe in published_recipes()}
    recipes: dict[str, Recipe] = {}
    waiting = [published]
    while waiting:
        one = waiting.pop()
        if one.name in recipes:
            continue
        waiting += [by_key[c.mix] for c in one.components if c.mix]
        recipes[one.name] = _recipe(one, {key: recipe.name for key, recipe in by_key.items()})
    return RecipeBook(recipes=recipes, made=published.name)


def conflicts_within(book: RecipeBook) -> dict[str, tuple[Conflict, ...]]:
    """Return where sources disagree on an amendment, by the name of the mix."""
    return {recipe.name: recipe.conflicts for recipe in published_recipes() if recipe.name in book.recipes}


def _recipe(published: PublishedRecipe, mix_names: dict[str, str]) -> Recipe:
    titles = {material.key: material.title for material in all_materials()}
    amendments, unweighed = [], []
    for amendment in published.amendments:
        weighed = _amendment(amendment)
        if weighed is None:
            unweighed.append(
                _("{name} is printed without a mass ({rate}); weigh what you add, and write it down.").format(
                    name=amendment.name, rate=_printed(amendment) or _("no rate")
                )
            )
        else:
            amendments.append(weighed)
    return Recipe(
        name=published.name,
        components=tuple(
            Component(mix_names.get(c.mix) or titles.get(c.material) or c.printed_name, c.parts, c.state)
            for c in published.components
        ),
        amendments=tuple(amendments),
        cautions=(*published.cautions, *unweighed),
        incomplete=published.incomplete,
        top_dressing=published.top_dressing,
    )


def _amendment(published: PublishedAmendment) -> Amendment | None:
    low, high = published.low_g_per_l, published.high_g_per_l
    if low is None:
        return None
    is_range = high is not None and high > low
    return Amendment(
        name=published.name,
        rate_g_per_l=low,
        low_g_per_l=low if is_range else None,
        high_g_per_l=high if is_range else None,
        typed=_printed(published),
        caution=_("Only {condition}.").format(condition=published.when) if published.when else "",
    )


def _printed(published: PublishedAmendment) -> str:
    low, high = published.rate_low, published.rate_high
    if low is None:
        return ""
    if high is None or high == low:
        return f"{low:g} {published.unit}"
    return _("{low:g} to {high:g} {unit}").format(low=low, high=high, unit=published.unit)
