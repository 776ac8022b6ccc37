"""A recipe found, told in plain words: what it does in the pot, what was tight, what would open a window."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from friable.planning.find_question import End
from friable.planning.find_values import Opening
from friable.planning.windows import Figure, figure_said, flag_word
from friable.reference.windows import SHARES, label
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast

SMALL_SHRINKAGE = 0.02


def short_by(quantity: str, amount: float) -> str:
    """Return a difference of a quantity in words: “1.2 points”, “0.05 kg/L”."""
    if quantity in SHARES:
        return _("{points:.1f} points").format(points=100 * amount)
    return figure_said(quantity, amount)


def tight_words(end: End, depth: float) -> str:
    """Return which end is nearest, and by how much, in the unit of its quantity."""
    name = label(end.quantity)
    if depth >= 0:
        said = (
            _("{quantity} is {by} above its low end, {asked}")
            if end.end == "low"
            else _("{quantity} is {by} below its high end, {asked}")
        )
    else:
        said = (
            _("{quantity} is {by} short of its low end, {asked}")
            if end.end == "low"
            else _("{quantity} is {by} over its high end, {asked}")
        )
    return said.format(
        quantity=name, by=short_by(end.quantity, abs(depth)), asked=figure_said(end.quantity, end.asked)
    )


def account(told: "Forecast", flags: Mapping[str, Figure], chance: float | None, tight: str) -> str:
    """Return a plain account of a recipe in its pot."""
    sentences = [
        _("Holds {water:.0f} % water and {air:.0f} % air after draining; {carrier} carries it.").format(
            water=100 * told.container_capacity.value,
            air=100 * told.air_space.value,
            carrier=told.supported_by,
        )
    ]
    if told.shrinkage.value > SMALL_SHRINKAGE:
        sentences.append(
            _("Mixing loses {lost:.0f} % of the volume poured.").format(lost=100 * told.shrinkage.value)
        )
    sentences.append(_("Tight: {tight}.").format(tight=tight))
    if chance is not None:
        sentences.append(
            _("Over the ranges of its materials it stays within in {chance:.0f} of 100 draws.").format(
                chance=100 * chance
            )
        )
    if told.widest_input:
        sentences.append(_("What blurs it most: {input}.").format(input=told.widest_input))
    sentences += _of_flags(flags)
    sentences += told.warnings
    return " ".join(sentences)


def _of_flags(flags: Mapping[str, Figure]) -> list[str]:
    said = []
    if flags.get("lime") in ("yes", "sometimes"):
        said.append(
            _("Lime: {word}; not for plants that mind it.").format(word=flag_word(str(flags["lime"])))
        )
    if flags.get("hygiene") == "treat first":
        said.append(_("Treat it before seed or cuttings."))
    if flags.get("draws_nitrogen") in ("yes", "sometimes"):
        said.append(_("It draws nitrogen: feed and watch the leaves."))
    years = flags.get("years")
    if isinstance(years, float | int):
        said.append(_("Lasts {years} or more.").format(years=figure_said("years", years)))
    return said


def opening_of(end: End, depth: float, recipe: str) -> Opening:
    """Return what would open a limit: `depth` is how far the recipe is outside, below 0."""
    needed = end.asked + depth if end.end == "low" else end.asked - depth
    said = (
        _("If the low end of {quantity} came down from {asked} to {needed}, this would do: {recipe}.")
        if end.end == "low"
        else _("If the high end of {quantity} went up from {asked} to {needed}, this would do: {recipe}.")
    )
    return Opening(
        quantity=end.quantity,
        end=end.end,
        asked=end.asked,
        needed=needed,
        recipe=recipe,
        said=said.format(
            quantity=label(end.quantity),
            asked=figure_said(end.quantity, end.asked),
            needed=figure_said(end.quantity, needed),
            recipe=recipe,
        ),
    )


def answer_words(best: Sequence[str], chance: float | None, considered: int) -> str:
    """Return the answer in one sentence."""
    if not best:
        return _("None of {n} recipes stays within every window.").format(n=f"{considered:,}")
    return _(
        "Best of {n} recipes: {recipe}; it stays within the window in {chance:.0f} of 100 draws."
    ).format(n=f"{considered:,}", recipe=best[0], chance=100 * (chance or 0.0))
