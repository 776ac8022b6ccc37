"""A published recipe as one would type it, to start a mix of one's own from."""

from dataclasses import dataclass
from fractions import Fraction

from friable.errors import FriableError, Refused, shown
from friable.planning.notation import parse_recipe
from friable.planning.published_recipe import published_book
from friable.planning.recipe import USUAL_STATE, Amendment, Recipe
from friable.planning.units_in import figures, rate_g_per_l
from friable.reference.recipes import Conflict, PublishedRecipe, published_recipes
from friable.reference.sources import cited
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True)
class PublishedStart:
    """What a published recipe says, as it is typed; `asked` are components whose material is left open."""

    recipe: Recipe
    text: str  # in one line; empty where a printed name forbids it
    rates: tuple[str, ...]  # of the amendments, as they are typed
    asked: tuple[str, ...]
    conflicts: tuple[str, ...]
    source: str


def published_start(published: PublishedRecipe) -> PublishedStart:
    """Return a published recipe as a start.

    Raises
    ------
    Refused
        If it is incomplete as published: it can be looked at, not used.
    """
    if published.incomplete:
        raise Refused(
            _("“{name}” is incomplete as published; it can be looked at, not used.").format(
                name=shown(published.name)
            )
        )
    recipe = published_book(published).recipes[published.name]
    return PublishedStart(
        recipe=recipe,
        text=_text(recipe),
        rates=tuple(_rate(amendment) for amendment in recipe.amendments),
        asked=asked_of(published),
        conflicts=conflicts_of(published),
        source=cited(published.source),
    )


def asked_of(published: PublishedRecipe) -> tuple[str, ...]:
    """Return the components for which someone has to say what is meant: open grades, and other mixes."""
    names = {recipe.key: recipe.name for recipe in published_recipes()}
    return tuple(
        names.get(component.mix) or component.printed_name
        for component in published.components
        if component.asks or component.mix
    )


def conflicts_of(published: PublishedRecipe) -> tuple[str, ...]:
    """Return where sources give different rates, one sentence an amendment."""
    return tuple(_conflict(conflict) for conflict in published.conflicts)


def written(parts: Fraction) -> str:
    """Return parts as one types them: “5”, “3.3”, “1/3”."""
    exact = f"{float(parts):g}"
    return exact if Fraction(exact) == parts else str(parts)


def as_printed(published: PublishedRecipe) -> str:
    """Return the components as printed, in one line to be read."""
    return " + ".join(
        f"{written(component.parts)} × {component.printed_name}" for component in published.components
    )


def _conflict(conflict: Conflict) -> str:
    rates = "; ".join(
        f"{figures(rate)} {unit}" + (f" ({note})" if note else "") + f" [{cited(source)}]"
        for rate, unit, note, source in conflict.rates
    )
    return _("Sources differ on {amendment}: {rates}.").format(amendment=conflict.amendment, rates=rates)


def _text(recipe: Recipe) -> str:
    text = " + ".join(
        f"{written(component.parts)} {component.name}"
        + ("" if component.state == USUAL_STATE else f" ({component.state})")
        for component in recipe.components
    )
    try:
        return text if parse_recipe(text).components == recipe.components else ""
    except FriableError:
        return ""


def _rate(amendment: Amendment) -> str:
    """Return the rate as printed if it can be typed so, else in grams by litre."""
    try:
        rate_g_per_l(amendment.typed)
    except FriableError:
        return _("{rate} g/L").format(rate=figures(amendment.rate_g_per_l))
    return amendment.typed
