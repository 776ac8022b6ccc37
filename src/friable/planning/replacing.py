"""Which recipes come closest to a mix that has to do without one of its materials.

Two kinds of candidates: direct swaps, one material put in the place of what goes, by the same parts; and the
nearest of all recipes of whole parts. docs/science/replacing.md
"""

from collections.abc import Callable
from dataclasses import replace as with_changes
from typing import TYPE_CHECKING

from friable.errors import Refused
from friable.planning.evidence import published_near
from friable.planning.replacing_changes import SAMPLES, forecasts, pot_changes
from friable.planning.replacing_distance import measured
from friable.planning.replacing_judge import Judge, in_order, rank, recipe_text, swapped, whole
from friable.planning.replacing_search import Searched, replace_by_loop, searched
from friable.planning.replacing_values import (
    RECIPE,
    SWAP,
    Candidate,
    Distance,
    OtherSwap,
    ReplaceAnswer,
    ReplaceCase,
)
from friable.planning.replacing_watch import changes_said, grades_said, sources_said, watch_said
from friable.planning.replacing_without import peat_free, without
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast
    from friable.reference.materials import Material

    Parts = tuple[tuple[Material, float], ...]
    Found = tuple[Parts, Distance]

BEST = 6  # swaps, and recipes, told in full

__all__ = ["BEST", "ReplaceCase", "peat_free", "replace", "replace_by_loop", "swaps", "without"]


def replace(
    case: ReplaceCase,
    *,
    best: int = BEST,
    search: bool = True,
    samples: int = SAMPLES,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> ReplaceAnswer:
    """Return what can stand in for a mix without some of its materials, nearest first.

    Parameters
    ----------
    case : ReplaceCase
    best : int
        How many swaps, and how many recipes, are told in full. A swap by the same name in another grade is
        told in full however far off it is; of the other swaps the distance stands in `other_swaps`. To the
        nearest recipes comes the nearest of every number of materials, and the nearest that keeps all that
        stays of the mix, in other parts.
    search : bool
        Look through all recipes; False: direct swaps alone.
    samples : int
        Draws for the ranges.
    progress, cancelled : callable, optional
        As the search takes them.

    Raises
    ------
    BadRecipe, BadQuantity
        If the mix, a container or a limit is impossible.
    Refused
        If nothing of the mix goes, or nothing at hand can stand in within the limits.
    Cancelled
        If `cancelled` said so.
    """
    judge = Judge(case)
    every = swaps(judge)
    same_name = {material.name for material in judge.gone}
    full = [one for place, one in enumerate(every) if place < best or one[1].name in same_name]
    told = {recipe_text(parts) for parts, _material, _distance in every}
    kept, considered, feasible = [], 0, 0
    if search:
        found = searched(judge, best + len(every), progress=progress, cancelled=cancelled)
        considered, feasible = found.considered, found.feasible
        kept = _told_of(found, _keeping_the_rest(judge, len(every), cancelled), told, best)
    if not full and not kept:
        raise Refused(
            _(
                "None of the {n} recipes of what is at hand can stand in within the limits; loosen one, or "
                "name more materials."
            ).format(n=f"{considered:,}")
        )
    pots = forecasts(
        judge.mix,
        case.containers,
        samples=samples,
        layer_material=case.layer_material,
        pair_overlap_loss=case.pair_overlap_loss,
    )
    candidates = [
        *(_candidate(judge, pots, parts, SWAP, off, samples) for parts, _material, off in full),
        *(_candidate(judge, pots, parts, RECIPE, off, samples) for parts, off in kept),
    ]
    candidates.sort(key=lambda one: rank(one.distance.value, one.parts))
    return ReplaceAnswer(
        text=recipe_text(in_order(whole(judge.mix))),
        gone=judge.gone,
        containers=case.containers,
        before=pots,
        candidates=tuple(candidates),
        other_swaps=tuple(
            OtherSwap(text=recipe_text(parts), material=material.title, distance=off.value)
            for parts, material, off in every
            if (parts, material, off) not in full
        ),
        considered=considered,
        feasible=feasible,
        warnings=_warnings(judge),
        sources=sources_said(
            [material for one in candidates for material, _share in one.parts],
            judge.flags_of,
            [said for one in candidates for said in one.watch],
        ),
        published=tuple(str(found) for found in published_near(judge.mix)),
    )


def _told_of(found: Searched, keeping: "list[Found]", told: set[str], best: int) -> "list[Found]":
    """Return the nearest of all, of every number of materials, and of those that keep the rest of the mix."""
    groups = [found.nearest(best + len(told)), *found.by_kinds.values(), keeping]
    kept: dict[str, Found] = {}
    for place, group in enumerate(groups):
        new = [one for one in group if recipe_text(one[0]) not in told]
        for one in new[: best if place == 0 else 1]:
            kept[recipe_text(one[0])] = one
    return list(kept.values())


def _keeping_the_rest(judge: Judge, swaps_told: int, cancelled: Callable[[], bool] | None) -> "list[Found]":
    """Return the nearest recipes in which everything that stays of the mix is still there, in any parts."""
    usable = {one.material.key for one in judge.usable}
    stays = tuple(material.key for material in judge.stays)
    if not stays or not usable >= set(stays) or len({*stays, *judge.case.limits.must}) >= judge.case.kinds:
        return []
    limits = with_changes(judge.case.limits, must=tuple(dict.fromkeys((*judge.case.limits.must, *stays))))
    narrower = Judge(with_changes(judge.case, limits=limits))
    return searched(narrower, 1 + swaps_told, cancelled=cancelled).nearest(1 + swaps_told)


def swaps(judge: Judge) -> "list[tuple[Parts, Material, Distance]]":
    """Return every direct swap within the limits, nearest first: recipe, material put in, distance."""
    found = []
    for one in judge.usable:
        parts = swapped(judge.mix, judge.gone, one.material)
        off = judge.judged(parts)
        if off is not None:
            found.append((parts, one.material, off))
    return sorted(found, key=lambda one: rank(one[2].value, one[0]))


def _candidate(
    judge: Judge, pots: "tuple[Forecast, ...]", parts: "Parts", how: str, off: Distance, samples: int
) -> Candidate:
    case = judge.case
    figures, shrinkage = measured(parts, judge.of, case.pair_overlap_loss)
    changes = pot_changes(
        judge.mix,
        parts,
        pots,
        judge.of,
        judge.before,
        figures,
        samples=samples,
        layer_material=case.layer_material,
        pair_overlap_loss=case.pair_overlap_loss,
    )
    flags = judge.flags(parts)
    costs = judge.cost_per_l(judge.mix, judge.shrinkage), judge.cost_per_l(parts, shrinkage)
    return Candidate(
        parts=parts,
        text=recipe_text(parts),
        how=how,
        distance=off,
        pots=changes,
        cost_before=costs[0],
        cost_per_l=costs[1],
        flags_before=judge.flags_before,
        flags=flags,
        changes=changes_said(changes, costs, judge.flags_before, flags),
        watch=watch_said(judge.mix, parts, changes, judge.flags_before, flags, judge.flags_of),
        grades=grades_said(judge.gone, parts, changes),
        within_stock=judge.reaches(parts, shrinkage),
        keeps_rest=bool(judge.stays)
        and {one.key for one, _share in parts} >= {one.key for one in judge.stays},
    )


def _warnings(judge: Judge) -> tuple[str, ...]:
    """Say what bounds the answer."""
    unpriced = [one.material.title for one in judge.usable if one.cost_per_l is None]
    said = []
    if unpriced and len(unpriced) < len(judge.usable):
        said.append(_("No price is known of {names}.").format(names=_few(unpriced)))
    if judge.case.limits.litres is not None:
        uncounted = [one.material.title for one in judge.usable if one.stock_l is None]
        if uncounted:
            said.append(_("Never counted: {names}.").format(names=_few(uncounted)))
    return tuple(said)


def _few(names: list[str], most: int = 4) -> str:
    """Return a few names and how many more there are."""
    if len(names) <= most:
        return ", ".join(names)
    return _("{names} and {more} more").format(names=", ".join(names[:most]), more=len(names) - most)
