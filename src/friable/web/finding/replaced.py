"""What a page shows of the recipes that come nearest without a material."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.http import QueryDict
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from friable.records.queries.at_hand import currency
from friable.runs.searches import Question
from friable.web.finding.shown import (
    SHARES,
    Roads,
    capital,
    compare_address,
    cost_said,
    flag_lines,
    roads,
    share_said,
)
from friable.web.finding.table import Column, RecipeTable
from friable.web.templatetags.friable import ranged, significant, span

if TYPE_CHECKING:
    from friable.planning.replacing_values import Candidate, ReplaceAnswer


@dataclass(frozen=True, slots=True)
class Stand:
    """A recipe that could stand in, with what is told of it."""

    candidate: "Candidate"
    cost: str
    water_lasts: str
    water_lasts_between: str
    roads: Roads

    @property
    def distance(self) -> str:
        """How far off it is."""
        return f"{self.candidate.distance.value:.2f}"


class ReplacedView:
    """The answer of a search for a replacement, as its page shows it."""

    def __init__(self, answer: "ReplaceAnswer", question: Question, key: str, asked: QueryDict) -> None:
        self.answer, self.question, self._key, self._asked = answer, question, key, asked
        self.case = question.arguments["case"]
        self._sign = currency()
        self._mix = "".join(question.typed.get("mix", ()))
        pots = [text for text in question.typed.get("pot1", ()) if text]
        self._pot = pots[0] if pots else answer.containers[0].describe()

    @cached_property
    def table(self) -> RecipeTable:
        """The candidates, nearest first."""
        return RecipeTable(
            [self._stand(candidate) for candidate in self.answer.candidates],
            self._columns(),
            self._asked,
            lambda stand: stand.candidate.text,
        )

    @property
    def best(self) -> Stand | None:
        """The nearest of all."""
        return self._stand(self.answer.candidates[0]) if self.answer.candidates else None

    @property
    def cost_before(self) -> str:
        """What a litre of the mix costs as it is."""
        return cost_said(self.answer.candidates[0].cost_before, self._sign) if self.answer.candidates else ""

    @property
    def gone(self) -> str:
        """What goes, in words."""
        return ", ".join(material.title for material in self.answer.gone)

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        if not self.answer.candidates:
            return _("Nothing at hand can stand in for {materials} within these limits.").format(
                materials=self.gone
            )
        return _("Without {materials}, the nearest of {count} recipes is {recipe}.").format(
            materials=self.gone,
            count=f"{self.answer.considered:,}",
            recipe=self.answer.candidates[0].text,
        )

    @property
    def beside(self) -> list[str]:
        """The mix as it is, and the recipes that stand beside it."""
        return [_("As it is: {recipe}").format(recipe=self.answer.text), *self._ticked_texts]

    @property
    def compared(self) -> "list[tuple[str, list[str]]]":
        """Lines of figures in the first container: the mix as it is, then those that were ticked."""
        ticked = [row.item.candidate for row in self.table.side_by_side]
        before = self.answer.before[0]
        flags = [ticked[0].flags_before, *(one.flags for one in ticked)]
        lines = [
            (_("How far off"), ["", *(f"{one.distance.value:.2f}" for one in ticked)]),
            *(
                (
                    capital(name),
                    [share_said(getattr(before, name)), *(share_said(one.figures[name]) for one in ticked)],
                )
                for name in SHARES
            ),
            (
                _("Wet mix in the pot, kg"),
                [ranged(before.wet_mass_kg), *(ranged(one.figures["wet_mass_kg"]) for one in ticked)],
            ),
            (
                _("Cost of a litre"),
                [
                    cost_said(ticked[0].cost_before, self._sign),
                    *(cost_said(one.cost_per_l, self._sign) for one in ticked),
                ],
            ),
            *flag_lines(flags),
            (_("What changes"), ["", *(" ".join(one.changes) for one in ticked)]),
            (_("What to watch"), ["", *(" ".join(one.watch) for one in ticked)]),
        ]
        return [(name, cells) for name, cells in lines if any(cells)]

    @property
    def compare_address(self) -> str:
        """Where the mix and those beside it are drawn in the first container."""
        return compare_address([self.answer.text, *self._ticked_texts][:4], self._pot)

    @property
    def _ticked_texts(self) -> list[str]:
        return [row.item.candidate.text for row in self.table.side_by_side]

    def _stand(self, candidate: "Candidate") -> Stand:
        lasts = candidate.pots[0].water_lasts
        return Stand(
            candidate,
            cost_said(candidate.cost_per_l, self._sign),
            _("× {value}").format(value=significant(lasts.value)),
            span(lasts),
            roads(candidate.text, self._pot, self._key, stands_in_for=self._mix),
        )

    def _columns(self) -> Sequence[Column]:
        return (
            Column("distance", _("How far off"), lambda stand: stand.candidate.distance.value),
            Column(
                "air", capital("air_space"), lambda stand: stand.candidate.figures["air_space"].value, True
            ),
            Column("lasts", _("Water lasts"), lambda stand: stand.candidate.pots[0].water_lasts.value, True),
            Column("weight", _("Wet, kg"), lambda stand: stand.candidate.figures["wet_mass_kg"].value),
            Column("cost", _("Cost"), lambda stand: stand.candidate.cost_per_l),
        )
