"""How one mix does in one stand: by the forecast that every page shows, its ranges, and its flags."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from friable.planning.chances import chance_within, figures_of
from friable.planning.collection_values import Mix
from friable.planning.fewest_card import added_to, flags_with_added, is_warned_off, mix_key, not_for
from friable.planning.fewest_values import Fit, Stand
from friable.planning.find_question import STEP
from friable.planning.windows import Figure, Verdict, mix_flags, verdicts
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand

FLAG_IN_STEPS = 4.0
EDGE = 1e-9  # of a figure: what lies on the end of a window lies within


def judge_by_chances(at_hand: "Sequence[AtHand]" = ()) -> Callable[[Mix, Stand], Fit]:
    """Return what judges a mix in a stand, with the prices and flags of what is at hand."""
    prices = {one.material.key: one.cost_per_l for one in at_hand}
    flags = {one.material.key: one.flags for one in at_hand}
    computed: dict[tuple[str, str], dict[str, Figure]] = {}

    def figures(mix: Mix, stand: Stand) -> dict[str, Figure]:
        key = mix_key(mix), repr(stand.container)
        if key not in computed:
            in_pot = figures_of(mix.parts, stand.container, pair_overlap_loss=mix.pair_overlap_loss)
            computed[key] = {
                **in_pot,
                **flags_with_added(mix_flags(mix.parts, flags), added_to(mix)),
                "cost_per_l": _cost(mix, prices, in_pot["shrinkage"]),
            }
        return computed[key]

    def judge(mix: Mix, stand: Stand) -> Fit:
        all_of = figures(mix, stand)
        found = verdicts(stand.windows, all_of)
        outside = [one for one in found if not _holds(one)]
        words = [_words(one, added_to(mix)) for one in outside]
        warned_off = is_warned_off(not_for(mix), stand.group)
        if warned_off:
            words.insert(0, _("its card says: not for {plants}").format(plants=not_for(mix)))
        chance = None
        if not words:
            chance = chance_within(
                mix.parts, stand.windows, stand.container, pair_overlap_loss=mix.pair_overlap_loss
            )
        return Fit(
            keeps=not words,
            chance=chance,
            outside=tuple(words),
            distance=sum(_far(one) for one in outside) + (FLAG_IN_STEPS if warned_off else 0.0),
            figures={window.quantity: all_of.get(window.quantity) for window in stand.windows},
        )

    return judge


def _holds(verdict: Verdict) -> bool:
    return verdict.is_within or (isinstance(verdict.figure, float) and _beyond(verdict) <= EDGE)


def _beyond(verdict: Verdict) -> float:
    """Return how far a number lies outside its window, in its own unit."""
    window, figure = verdict.window, verdict.figure
    if not isinstance(figure, (int, float)):
        return 0.0
    below = 0.0 if window.low is None else window.low - figure
    above = 0.0 if window.high is None else figure - window.high
    return max(below, above, 0.0)


def _far(verdict: Verdict) -> float:
    """Return how far outside in steps of five points; a flag, or what is not known, counts as four."""
    if verdict.side in ("below", "above"):
        return _beyond(verdict) / STEP
    return FLAG_IN_STEPS


def _words(verdict: Verdict, added: Sequence[str]) -> str:
    """Return how a figure lies outside; for lime and plant food with what is added to the mix."""
    if verdict.window.quantity in ("lime", "feed") and added:
        return _("{verdict} (added: {names})").format(verdict=verdict.words, names=", ".join(added))
    return verdict.words


def _cost(mix: Mix, prices: dict[str, float | None], shrinkage: float) -> float | None:
    """Return what a litre of finished mix costs; None where a price is not known."""
    total = sum(volume for _material, volume in mix.parts)
    poured = 0.0
    for material, volume in mix.parts:
        price = prices.get(material.key)
        if price is None:
            return None
        poured += price * volume / total
    return poured / (1 - shrinkage)
