"""What a page shows of the best mixes: a sentence, the proof, tables, some recipes side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.http import QueryDict
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from friable.planning.reading import with_range
from friable.records.queries.at_hand import currency
from friable.reference.windows import FLAGS, label
from friable.runs.searches import Question
from friable.science.estimate import Estimate
from friable.web.finding.table import Column, RecipeTable
from friable.web.templatetags.friable import ranged, significant

if TYPE_CHECKING:
    from friable.planning.find_values import FindAnswer, Found

PER_HUNDRED = 100
SHARES = ("air_space", "container_capacity", "available_water", "easily_available_water", "total_porosity")


@dataclass(frozen=True, slots=True)
class Roads:
    """Where a recipe leads: to the Mixes page, to a batch, to a watering."""

    write: str
    make: str
    water: str


@dataclass(frozen=True, slots=True)
class Told:
    """A recipe with what is told of it in a table."""

    found: "Found"
    chance: str
    cost: str
    roads: Roads


class FoundView:
    """The answer of a search for a mix, as its page shows it."""

    def __init__(self, answer: "FindAnswer", question: Question, key: str, asked: QueryDict) -> None:
        self.answer, self.question, self._key, self._asked = answer, question, key, asked
        self.case = question.arguments["case"]
        self._pot, self._sign = _typed_pot(question), currency()

    @cached_property
    def table(self) -> RecipeTable:
        """The best recipes; where none lies within, the nearest."""
        return RecipeTable(
            [self._told(found) for found in self.answer.best or self.answer.nearest],
            self._columns(),
            self._asked,
            lambda told: told.found.text,
        )

    @cached_property
    def front(self) -> list[Told]:
        """The recipes none of which is beaten in chance, cost, weight and number of materials at once."""
        return [self._told(found) for found in self.answer.front]

    @property
    def best(self) -> "Told | None":
        """The best of all, if any lies within the windows."""
        return self._told(self.answer.best[0]) if self.answer.best else None

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        count = f"{self.answer.considered:,}"
        if self.answer.best:
            best = self.answer.best[0]
            if best.chance is None:
                return _("Best of {count} recipes: {recipe}.").format(count=count, recipe=best.text)
            return _("Best of {count} recipes: {recipe}; stays within the windows in {chance} draws.").format(
                count=count, recipe=best.text, chance=chance_said(best.chance)
            )
        if self.answer.nearest:
            return _("None of {count} recipes lies within every window; the nearest is {recipe}.").format(
                count=count, recipe=self.answer.nearest[0].text
            )
        return _(
            "None of {count} recipes keeps to the limits; loosen one of them, or take more materials."
        ).format(count=count)

    @property
    def windows(self) -> list[str]:
        """The windows that are asked for, each in words."""
        from friable.planning.windows import said

        return [said(window) for window in self.answer.windows]

    @property
    def watered(self) -> str:
        """Who waters and how often, where the windows are those of plants."""
        return self.question.typed.get("watered", ("",))[0]

    @property
    def beside(self) -> list[str]:
        """The recipes that stand side by side."""
        return [row.item.found.text for row in self.table.side_by_side]

    @property
    def compared(self) -> "list[tuple[str, list[str]]]":
        """Lines of figures of the recipes that stand side by side."""
        told = [row.item for row in self.table.side_by_side]
        lines = [
            (_("Chance"), [one.chance for one in told]),
            *((capital(name), [share_said(figure(one.found, name)) for one in told]) for name in SHARES),
            (
                _("Dry bulk density, g/cm³"),
                [ranged(one.found.figures.dry_bulk_density_g_cm3) for one in told],
            ),
            (_("Wet mix in the pot, kg"), [ranged(one.found.figures.wet_mass_kg) for one in told]),
            (_("Shrinkage on mixing"), [share_said(one.found.figures.shrinkage) for one in told]),
            (_("Cost of a litre"), [one.cost for one in told]),
            *flag_lines([one.found.flags for one in told]),
            (_("Tight"), [one.found.tight for one in told]),
            (_("Account"), [one.found.account for one in told]),
        ]
        return [(name, cells) for name, cells in lines if any(cells)]

    @property
    def compare_address(self) -> str:
        """Where the recipes that stand side by side are drawn in their pot."""
        return compare_address(self.beside, self._pot)

    def _told(self, found: "Found") -> Told:
        return Told(
            found,
            "" if found.chance is None else chance_said(found.chance),
            cost_said(found.cost_per_l, self._sign),
            roads(found.text, self._pot, self._key, found.figures.shrinkage),
        )

    def _columns(self) -> Sequence[Column]:
        return (
            Column("chance", _("Chance"), lambda told: told.found.chance, high_first=True),
            Column("air", _("Air"), lambda told: told.found.figures.air_space.value, high_first=True),
            Column(
                "water", _("Water"), lambda told: told.found.figures.container_capacity.value, high_first=True
            ),
            Column("weight", _("Wet, kg"), lambda told: told.found.figures.wet_mass_kg.value),
            Column("cost", _("Cost"), lambda told: told.found.cost_per_l),
            Column("kinds", _("Kinds"), lambda told: told.found.kinds),
        )


def chance_said(chance: float) -> str:
    """Return a chance by the hundred draws; what is not sure never reads as sure."""
    hundredths = round(PER_HUNDRED * chance)
    if 0 < chance < 1:
        hundredths = min(max(hundredths, 1), PER_HUNDRED - 1)
    return _("{count} of 100").format(count=hundredths)


def cost_said(cost_per_l: float | None, sign: str) -> str:
    """Return a cost with the sign of its currency; empty where it is not known."""
    return "" if cost_per_l is None else f"{sign}{significant(cost_per_l)}"


def share_said(estimate: Estimate) -> str:
    """Return a share with its range."""
    return with_range(estimate)


def figure(found: "Found", name: str) -> Estimate:
    """Return a figure of a recipe by its name."""
    return getattr(found.figures, name)


def flag_lines(flags: "Sequence[Any]") -> "list[tuple[str, list[str]]]":
    """Return a line for each flag, and for what a mix is made of."""
    from friable.planning.windows import figure_said, flag_word

    lines = [(capital(name), [flag_word(one[name]) for one in flags]) for name in FLAGS]
    for name in ("mineral_share", "peat_share", "years"):
        figures = [one[name] for one in flags]
        lines.append((capital(name), ["" if f is None else figure_said(name, f) for f in figures]))
    return lines


def capital(quantity: str) -> str:
    """Return the name of a quantity as a line of a table begins with it."""
    name = label(quantity)
    return name[:1].upper() + name[1:]


def roads(
    recipe: str, pot: str, key: str, shrinkage: Estimate | None = None, stands_in_for: str = ""
) -> Roads:
    """Return where a recipe leads; for a mix of ours that it stands in for, with its amendments."""
    to_make = {"recipe": recipe}
    if stands_in_for:
        to_make["stands_in_for"] = stands_in_for
    if shrinkage is not None:
        to_make["shrinkage"] = f"{round(100 * shrinkage.value)} %"
    return Roads(
        f"{reverse('mix-write')}?{urlencode({'recipe': recipe, 'container': pot})}",
        f"{reverse('find-make', args=[key])}?{urlencode(to_make)}",
        f"{reverse('watering')}?{urlencode({'mix': recipe, 'container': pot})}",
    )


def compare_address(recipes: Sequence[str], pot: str) -> str:
    """Return where recipes are drawn side by side in a pot."""
    mixes = {f"mix{place}": recipe for place, recipe in enumerate(recipes, start=1)}
    return f"{reverse('mix-compare')}?{urlencode({**mixes, 'pot1': pot})}"


def _typed_pot(question: Question) -> str:
    typed = "".join(question.typed.get("container", ())).strip()
    return typed or question.arguments["case"].container.describe()
