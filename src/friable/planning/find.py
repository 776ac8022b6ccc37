"""Find a mix: every recipe that a bucket can measure, held against the windows of a pot."""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.at_hand import AtHand
from friable.planning.find_question import Asked, asked_of, limits_asked
from friable.planning.find_values import (
    CHANCES_OF,
    DRAWS,
    Cancelled,
    FindAnswer,
    FindCase,
    Found,
    Opening,
)
from friable.planning.find_words import account, opening_of, tight_words
from friable.planning.forecast import forecast
from friable.planning.front import unbeaten
from friable.planning.windows import mix_flags
from friable.science.mixture import blend
from friable.science.search.draws import counts_within, exact_figures
from friable.science.search.screen import Stopped, screened
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material

    Array = NDArray[np.float64]

EVERY_KIND = 100  # chances also of so many recipes of each number of materials
EDGE = 1e-9
TELLING = np.array([0.01, 0.01, 1.0, 0.01])  # of chance, kg/L, materials, money a litre
MOST_NEAREST = 10


@dataclass(frozen=True, slots=True, eq=False)
class _Judged:
    """Recipes with their exact figures; a row each."""

    parts: "NDArray[np.uint8]"  # a number for each material
    figures: "Array"
    depths: "Array"  # (recipes, ends)
    chance: "Array"  # NaN where it was not worked out

    @property
    def margin(self) -> "Array":
        return np.asarray(self.depths.min(axis=1))

    def only(self, places: "NDArray[np.intp]") -> "_Judged":
        return _Judged(self.parts[places], self.figures[places], self.depths[places], self.chance[places])


def find(
    case: FindCase,
    *,
    best: int = 20,
    draws: int = DRAWS,
    threads: int = 2,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> FindAnswer:
    """Find the recipes that most surely keep a pot within its windows.

    Parameters
    ----------
    case : FindCase
    best : int
        Recipes to return.
    draws : int
        Draws of the ranges for a chance; 0 works out none and orders by the depth within the windows.
    threads : int
    progress : callable, optional
        Takes the recipes done and all.
    cancelled : callable, optional
        Asked now and then whether to stop.

    Raises
    ------
    Refused, BadQuantity
        If the wish is impossible.
    Cancelled
        If `cancelled` said so.

    Notes
    -----
    Every recipe of whole parts, in its smallest numbers, is computed by the blending rule at the middle of
    the ranges, or ruled out by a limit that is linear in the parts. Of those within every window the deepest
    get their chance from the same draws as a forecast of each alone. Order: chance, then fewer materials,
    fewer parts, name.
    """
    begun = time.perf_counter()
    asked = asked_of(case, keep=CHANCES_OF)
    try:
        found = screened(asked.question, threads=threads, progress=progress, cancelled=cancelled)
        judged = _judge(asked, found.parts)
        within = np.flatnonzero(judged.margin >= -EDGE)
        chosen = _with_chance(asked, judged.only(_deepest(judged, within)), draws, threads, cancelled)
    except Stopped as stopped:
        raise Cancelled from stopped
    ordered = chosen.only(_order(chosen, asked.at_hand))
    nearest: _Judged = ordered.only(np.arange(0))
    openings: tuple[Opening, ...] = ()
    if not len(within):
        out = judged.only(np.argsort(-judged.margin, kind="stable")[:MOST_NEAREST])
        nearest = _with_chance(asked, out, draws, threads, cancelled)
        openings = _openings(asked, found.missed_parts, found.missed_by)
    front = _front(ordered, asked)
    return FindAnswer(
        considered=found.considered,
        pruned=found.pruned,
        feasible=max(found.within, len(within)) if len(within) >= CHANCES_OF else len(within),
        chances_of=len(ordered.parts),
        draws=draws,
        best=_told(case, asked, ordered.only(np.arange(min(best, len(ordered.parts)))), draws),
        front=_told(case, asked, ordered.only(front), draws),
        nearest=_told(case, asked, nearest, draws),
        openings=openings,
        windows=case.windows,
        container=case.container,
        warnings=(*asked.left_out, *_warnings(case, found.considered, found.pruned)),
        seconds=time.perf_counter() - begun,
    )


def _judge(asked: Asked, parts: "NDArray[np.uint8]") -> _Judged:
    """Work out the figures of what the search returned once more, exactly."""
    question = asked.question
    figures = exact_figures(question, parts)
    depths = question.gain * (figures @ question.forms.T - question.wanted)
    return _Judged(parts, figures, depths, np.full(len(parts), np.nan))


def _deepest(judged: _Judged, within: "NDArray[np.intp]") -> "NDArray[np.intp]":
    """Return the deepest of those within, and the deepest of each number of materials."""
    by_depth = within[np.argsort(-judged.margin[within], kind="stable")]
    kinds = (judged.parts[by_depth] > 0).sum(axis=1)
    chosen = [by_depth[:CHANCES_OF]]
    chosen += [by_depth[kinds == k][:EVERY_KIND] for k in np.unique(kinds)]
    return np.unique(np.concatenate(chosen))


def _with_chance(
    asked: Asked,
    judged: _Judged,
    draws: int,
    threads: int,
    cancelled: Callable[[], bool] | None,
) -> _Judged:
    if not draws or not len(judged.parts):
        return judged
    counts = counts_within(
        judged.parts,
        [item.material.physics for item in asked.at_hand],
        asked.question.grades,
        asked.probes_of_draws,
        asked.forms_of_draws,
        draws=draws,
        threads=threads,
        cancelled=cancelled,
    )
    return _Judged(judged.parts, judged.figures, judged.depths, counts / draws)


def _order(judged: _Judged, at_hand: Sequence[AtHand]) -> "NDArray[np.intp]":
    """Return the order: chance (or depth), fewer materials, fewer parts, name."""
    first = np.where(np.isnan(judged.chance), judged.margin, judged.chance)
    keys = np.column_stack(
        [-first, (judged.parts > 0).sum(axis=1), judged.parts.sum(axis=1, dtype=int).astype(float)]
    )
    order = np.lexsort(keys.T[::-1])
    new = np.ones(len(order), dtype=bool)
    new[1:] = (keys[order][1:] != keys[order][:-1]).any(axis=1)
    starts = [*np.flatnonzero(new).tolist(), len(order)]
    for start, end in pairwise(starts):  # names are needed among equals alone
        if end - start > 1:
            equals = order[start:end].tolist()
            order[start:end] = sorted(equals, key=lambda i: _name(recipe_of(at_hand, judged.parts[i])))
    return order


def _name(recipe: "Sequence[tuple[Material, int]]") -> str:
    return " + ".join(f"{parts} {material.title}" for material, parts in recipe)


def recipe_of(at_hand: Sequence[AtHand], row: "NDArray[np.uint8]") -> "tuple[tuple[Material, int], ...]":
    """Return the materials of a row with their parts, most first, then by title."""
    parts = [(at_hand[m].material, int(row[m])) for m in np.flatnonzero(row).tolist()]
    return tuple(sorted(parts, key=lambda part: (-part[1], part[0].title)))


def _front(ordered: _Judged, asked: Asked) -> "NDArray[np.intp]":
    """Return the unbeaten in chance, wet weight, number of materials, and cost where it is known.

    What differs by less than can be told apart (a draw in a hundred, 10 g or a hundredth of money a litre)
    counts as equal, and of equals the first stands for all.
    """
    if not len(ordered.parts):
        return np.arange(0)
    first = np.where(np.isnan(ordered.chance), ordered.margin, ordered.chance)
    sums = len(asked.question.sums)
    wet = ordered.figures[:, 1] + ordered.figures[:, 1 + sums]
    aims = [-first, wet, (ordered.parts > 0).sum(axis=1)]
    prices = np.array([np.nan if i.cost_per_l is None else i.cost_per_l for i in asked.at_hand])
    if not np.isnan(prices[ordered.parts.any(axis=0)]).any():
        aims.append(np.array([_cost(asked, row) for row in ordered.parts]))
    rounded = np.round(np.column_stack(aims) / TELLING[: len(aims)])
    _rows, firsts = np.unique(rounded, axis=0, return_index=True)
    alone = np.sort(firsts)  # of equals the first in order
    return alone[unbeaten(rounded[alone])]


def _cost(asked: Asked, row: "NDArray[np.uint8]") -> float | None:
    """Return the cost of a litre of finished mix; None where a price is not known."""
    used = np.flatnonzero(row).tolist()
    prices = [asked.at_hand[m].cost_per_l for m in used]
    if any(price is None for price in prices):
        return None
    volumes = row / row.sum()
    poured = sum(float(volumes[m]) * float(p or 0.0) for m, p in zip(used, prices, strict=True))
    return poured / float(blend(volumes, asked.question.grades).volume)


def _told(case: FindCase, asked: Asked, judged: _Judged, draws: int) -> tuple[Found, ...]:
    """Return recipes with everything that is told of them."""
    flags_by_key = {item.material.key: item.flags for item in asked.at_hand}
    told = []
    for place, row in enumerate(judged.parts):
        recipe = recipe_of(asked.at_hand, row)
        parts = [(material, float(amount)) for material, amount in recipe]
        figures = forecast(
            parts,
            case.container,
            samples=draws,
            layer_material=case.layer_material,
            pair_overlap_loss=case.pair_overlap_loss or None,
        )
        nearest = int(judged.depths[place].argmin())
        depth = judged.depths[place, nearest] / abs(asked.question.gain[nearest])
        tight = tight_words(asked.ends[nearest], float(depth))
        chance = None if np.isnan(judged.chance[place]) else float(judged.chance[place])
        flags = mix_flags(parts, flags_by_key)
        told.append(
            Found(
                parts=recipe,
                chance=chance,
                margin=float(judged.margin[place]),
                figures=figures,
                cost_per_l=_cost(asked, row),
                flags=flags,
                tight=tight,
                account=account(figures, flags, chance, tight),
            )
        )
    return tuple(told)


def _openings(asked: Asked, rows: "NDArray[np.uint8]", by: "Array") -> tuple[Opening, ...]:
    """Return the ends that, relaxed alone, would let a recipe in; the least relaxation first."""
    found = []
    for end, row, depth in zip(asked.ends, rows, by, strict=True):
        if np.isfinite(depth):
            exact = _judge(asked, row[None, :])
            place = asked.ends.index(end)
            outside = float(exact.depths[0, place] / abs(asked.question.gain[place]))
            found.append((outside, opening_of(end, outside, _name(recipe_of(asked.at_hand, row)))))
    found.sort(key=lambda pair: -pair[0])
    return tuple(opening for _outside, opening in found)


def _warnings(case: FindCase, considered: int, pruned: int) -> list[str]:
    said = []
    if case.layer_material is not None:
        said.append(_("With a drainage layer, the figures are the middle of both ways it may work."))
    if considered == pruned:
        said.append(
            _("Limits rule out every recipe before it is computed ({limits}); loosen one of them.").format(
                limits=", ".join(limits_asked(case)) or _("parts and kinds")
            )
        )
    return said
