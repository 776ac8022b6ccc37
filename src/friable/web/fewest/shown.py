"""What a page shows of the fewest mixes: mix by mix, what changes, what is asked of each group."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from friable.planning.reading import per_cent
from friable.runs.searches import Question
from friable.web.mixes.compare_forms import version_named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.fewest_values import FewestAnswer, KeptMix, Left, Served


@dataclass(frozen=True, slots=True)
class MixShown:
    """A mix that is kept, with what is in it and where it leads."""

    mix: "KeptMix"
    materials: str
    road: str
    road_title: str
    rows: "Sequence[ServedShown]"
    stays_for: str


@dataclass(frozen=True, slots=True)
class ServedShown:
    """Pots that a mix serves, with the figures that are asked of it."""

    served: "Served"
    chance: str
    figures: str
    now: str


@dataclass(frozen=True, slots=True)
class LeftShown:
    """Pots that are left on their mix."""

    left: "Left"
    mixes: str
    chance: str


class FewestView:
    """The answer as its page shows it."""

    def __init__(self, answer: "FewestAnswer", question: Question) -> None:
        self.answer, self.case = answer, question.arguments["case"]

    @cached_property
    def mixes(self) -> list[MixShown]:
        """The mixes that are kept."""
        return [self._mix(mix) for mix in self.answer.kept]

    @cached_property
    def no_window(self) -> list[LeftShown]:
        """Pots of which no window is known."""
        return [_left(one) for one in self.answer.no_window]

    @cached_property
    def no_figure(self) -> list[LeftShown]:
        """Pots of which nothing is asked of air and water."""
        return [_left(one) for one in self.answer.no_figure]

    @cached_property
    def cannot(self) -> list[LeftShown]:
        """Pots that no candidate keeps."""
        return [_left(one) for one in self.answer.cannot]

    @property
    def least_chance(self) -> str:
        """The least chance of all that is served."""
        least = self.answer.least_chance
        return "" if least is None else per_cent(least)

    @cached_property
    def asked(self) -> "list[tuple[str, str, list[str]]]":
        """Each group with its container, and what is asked of its mix, with sources."""
        from friable.planning.windows import said

        return [
            (stand.group.title, stand.container_as_typed, [said(window) for window in stand.windows])
            for stand in self.case.stands.stands
        ]

    def _mix(self, mix: "KeptMix") -> MixShown:
        candidate = mix.candidate
        version = None if candidate.origin == "found" else version_named(candidate.name)
        if version is not None:
            road, title = reverse("mix-detail", args=[version.mix_id]), _("Look at this mix")
        else:
            pot = mix.served[0].stand.container_as_typed if mix.served else ""
            road = f"{reverse('mix-write')}?{urlencode({'recipe': _typed(mix), 'container': pot})}"
            title = _("Write this mix")
        return MixShown(
            mix,
            ", ".join(f"{per_cent(share)} {title}" for title, share in candidate.shares),
            road,
            title,
            [_served(one) for one in mix.served],
            "; ".join(one.stand.title for one in mix.left),
        )


def _typed(mix: "KeptMix") -> str:
    """Return a recipe as it is typed: that of a found mix is its name."""
    candidate = mix.candidate
    if candidate.origin == "found":
        return candidate.name
    return " + ".join(f"{share * 100:.0f} {title}" for title, share in candidate.shares)


def _served(one: "Served") -> ServedShown:
    from friable.planning.windows import figure_said as said
    from friable.planning.windows import flag_word
    from friable.reference.windows import label

    figures = []
    for window in one.stand.windows:
        figure = one.figures.get(window.quantity)
        if figure is not None:
            words = flag_word(figure) if isinstance(figure, str) else said(window.quantity, figure)
            figures.append(f"{label(window.quantity)} {words}")
    return ServedShown(one, _chance(one.chance), ", ".join(figures), _now(one))


def _now(one: "Served") -> str:
    if one.stays:
        return _("stays on it")
    if not one.before:
        return _("not said")
    if one.why_not_before:
        return _("{mix}, where {why}").format(mix=one.before, why="; ".join(one.why_not_before))
    if one.before_chance is not None:
        return _("{mix}, {chance} there").format(mix=one.before, chance=_chance(one.before_chance))
    return one.before


def _left(one: "Left") -> LeftShown:
    return LeftShown(one, "; ".join(one.mixes), "" if one.chance is None else _chance(one.chance))


def _chance(chance: float) -> str:
    """Return a chance in per cent; what is not sure never reads as sure."""
    hundredths = round(100 * chance)
    if 0 < chance < 1:
        hundredths = min(max(hundredths, 1), 99)
    return _("{number} %").format(number=hundredths)
