"""What a recipe is: components in parts by volume, amendments by litre of finished mix."""

import math
from dataclasses import dataclass, field
from fractions import Fraction

from friable.errors import BadQuantity, BadRecipe, shown
from friable.wording import gettext as _

STATES = ("loose moist", "loose dry", "loose soaked", "tapped moist", "tapped dry", "tapped soaked")
USUAL_STATE = "loose moist"
MOST_DAYS = 3650  # ten years: far beyond any mix


@dataclass(frozen=True, slots=True)
class Component:
    """One material or mix in a recipe, and its parts by volume as it is measured."""

    name: str
    parts: Fraction
    state: str = USUAL_STATE

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise BadRecipe(_("A component has no name; write what it is, or leave the line out."))
        if not self.parts > 0:
            raise BadRecipe(
                _("{name} has {parts:g} parts; give more than 0, or leave it out.").format(
                    name=shown(self.name), parts=float(self.parts)
                )
            )
        if self.state not in STATES:
            raise BadRecipe(
                _("{name} is measured “{state}”; it must be one of: {states}.").format(
                    name=shown(self.name), state=shown(self.state), states=", ".join(STATES)
                )
            )


@dataclass(frozen=True, slots=True)
class Amendment:
    """A small addition, given by litre of finished mix. [g/L]

    `low_g_per_l` and `high_g_per_l` stand where the source prints a range; `typed` is how it was written.
    """

    name: str
    rate_g_per_l: float
    low_g_per_l: float | None = None
    high_g_per_l: float | None = None
    typed: str = ""
    caution: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise BadRecipe(_("An amendment has no name; write what it is, or leave the line out."))
        if not (self.rate_g_per_l > 0 and math.isfinite(self.rate_g_per_l)):
            raise BadQuantity(
                _("the rate of {name}").format(name=shown(self.name)), self.rate_g_per_l, "g/L", _("above 0")
            )


@dataclass(frozen=True, slots=True)
class Recipe:
    """A mix as it is written: components in the order of writing; a name may be another mix."""

    name: str
    components: tuple[Component, ...]
    amendments: tuple[Amendment, ...] = ()
    cautions: tuple[str, ...] = ()
    shrinkage: float | None = None  # share of the poured volume lost on mixing, when it was measured here
    incomplete: bool = False  # kept as a note, not fit for use
    top_dressing: str = ""
    not_for: str = ""  # plants it would harm, as the label says it
    use_within_days: int | None = None

    def __post_init__(self) -> None:
        if not self.components:
            raise BadRecipe(_("{name} has no components.").format(name=shown(self.name)))
        if self.shrinkage is not None and not 0 <= self.shrinkage < 1:
            raise BadQuantity(
                _("the shrinkage of {name}").format(name=shown(self.name)),
                self.shrinkage,
                "",
                _("at least 0 and below 1 (that is, 0 % to less than 100 %)"),
            )
        days = self.use_within_days
        if days is not None and not (1 <= days <= MOST_DAYS and days == int(days)):
            raise BadQuantity(
                _("the time within which {name} is used").format(name=shown(self.name)),
                days,
                _("days"),
                _("a whole number from 1 to {most}").format(most=MOST_DAYS),
                _("Leave it empty where the mix keeps."),
            )

    @property
    def total_parts(self) -> Fraction:
        """Sum of all parts."""
        return sum((c.parts for c in self.components), Fraction(0))


@dataclass(frozen=True, slots=True)
class RecipeBook:
    """Several recipes that may contain each other; `made` names the one that is made."""

    recipes: dict[str, Recipe] = field(default_factory=dict)
    made: str = ""


def book_of(recipe: Recipe) -> RecipeBook:
    """Return a book that holds one recipe."""
    return RecipeBook(recipes={recipe.name: recipe}, made=recipe.name)
