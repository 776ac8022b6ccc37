"""Published recipes: looked at, and taken as a start."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from friable.planning.published_start import as_printed, asked_of, conflicts_of, published_start
from friable.reference.recipes import PublishedRecipe, published_recipes
from friable.web.guard import may


@may("see mixes")
def published(request: HttpRequest) -> HttpResponse:
    """List the published recipes by plant group."""
    recipes = sorted(published_recipes(), key=lambda recipe: (recipe.plant_group.casefold(), recipe.name))
    rows = [(one, as_printed(one), asked_of(one), conflicts_of(one)) for one in recipes]
    return render(request, "mixes/published.html", {"rows": rows})


def start_from(key: str):
    """Return the start that an address names, and its recipe; an address that names none is not found."""
    found: PublishedRecipe | None = next((one for one in published_recipes() if one.key == key), None)
    if found is None:
        raise Http404
    return found, published_start(found)
