"""The nearest of all recipes of whole parts: by the fast search, proved, or by a plain loop."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.find_values import Cancelled
from friable.planning.replacing_judge import Judge, in_order, rank
from friable.planning.replacing_values import Distance, ReplaceCase
from friable.science.mixture import grades
from friable.science.search.space import compositions

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material
    from friable.science.search.question import Question

    Found = tuple[tuple[tuple[Material, float], ...], Distance]

# The sweep looks its water up in tables and reckons in single precision: a distance may be off by this.
SLACK = 2e-3
KEPT, KEPT_MORE, MOST_KEPT = 500, 8, 256_000
A_FIFTH = 0.2
JUST_BELOW = 1e-6
NO_LIMIT = 1e9


@dataclass(frozen=True, slots=True, eq=False)
class Searched:
    """The nearest recipes, and how many there are."""

    by_kinds: "Mapping[int, list[Found]]"  # nearest first
    considered: int
    feasible: int  # not ruled out beforehand by a limit that is linear in the parts

    def nearest(self, best: int) -> "list[Found]":
        """Return the nearest of all."""
        every = [one for found in self.by_kinds.values() for one in found]
        return sorted(every, key=lambda one: rank(one[1].value, one[0]))[:best]


def replace_by_loop(case: ReplaceCase) -> "list[Found]":
    """Return every recipe that may stand in, nearest first: one after another, each by the public rule.

    Slow, and right by its plainness; ties go to fewer materials, fewer parts, name.
    """
    judge = Judge(case)
    found = []
    for parts in every_recipe(judge):
        distance = judge.judged(parts)
        if distance is not None:
            found.append((parts, distance))
    return sorted(found, key=lambda one: rank(one[1].value, one[0]))


def every_recipe(judge: Judge) -> "Iterator[tuple[tuple[Material, float], ...]]":
    """Yield every proportion of whole parts of what may be used, each once."""
    case = judge.case
    for kinds in range(1, case.kinds + 1):
        for members in combinations([one.material for one in judge.usable], kinds):
            for numbers in compositions(case.parts, kinds):
                yield in_order([(m, float(n)) for m, n in zip(members, numbers, strict=True)])


def searched(
    judge: Judge,
    best: int,
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> "Searched":
    """Return the nearest recipes of every number of materials.

    Raises
    ------
    Cancelled
        If `cancelled` said so.

    Notes
    -----
    The sweep finds those that are nearest by air, water, drying and weight. Each is judged again exactly,
    flags and limits included, nearest first, until no recipe left can be nearer than the last one kept: flags
    only add to a distance.
    """
    from friable.science.search.screen import Stopped, screened

    keep = KEPT
    while True:
        try:
            swept = screened(question(judge, keep), progress=progress, cancelled=cancelled)
        except Stopped:
            raise Cancelled from None
        kinds = (swept.parts > 0).sum(axis=1)
        by_kinds: dict[int, list[Found]] = {}
        is_proved = True
        for number in np.unique(kinds).tolist():
            here = kinds == number  # the sweep keeps so many of each number of materials
            by_kinds[number], settled = _judged_again(judge, swept.parts[here], swept.score[here], best)
            is_proved = is_proved and (settled or int(here.sum()) < keep)
        if is_proved or keep >= MOST_KEPT:
            return Searched(by_kinds, swept.considered, swept.considered - swept.pruned)
        keep = min(MOST_KEPT, KEPT_MORE * keep)


def _judged_again(
    judge: Judge, rows: "NDArray[np.uint8]", scores: "NDArray[np.float64]", best: int
) -> "tuple[list[Found], bool]":
    """Return the nearest of some recipes, and whether none that was not kept can be nearer."""
    found: list[Found] = []
    materials = [one.material for one in judge.usable]
    for row, score in zip(rows, scores, strict=True):
        if len(found) >= best and -float(score) - SLACK > found[best - 1][1].value:
            return found[:best], True
        parts = in_order([(materials[place], float(row[place])) for place in np.flatnonzero(row)])
        distance = judge.judged(parts)
        if distance is not None:
            found.append((parts, distance))
            found.sort(key=lambda one: rank(one[1].value, one[0]))
            del found[best + 1 :]
    return found[:best], False


def question(judge: Judge, keep: int) -> "Question":
    """Return a case as the search takes it: limits that are linear in the parts, and the wanted figures."""
    from friable.science.search.question import Question

    case, limits = judge.case, judge.case.limits
    place = {one.material.key: number for number, one in enumerate(judge.usable)}
    rows, bounds = [], []
    if limits.most_peat_share is not None:
        rows.append([float(one.flags.peat) for one in judge.usable])
        bounds.append(limits.most_peat_share)
    most_share = np.full(len(place), NO_LIMIT)
    if limits.most_cost_per_l is not None:
        for one in judge.usable:
            if one.cost_per_l is None:
                most_share[place[one.material.key]] = 0.0
        # A litre of finished mix takes at least a litre poured: what costs more poured costs more finished.
        rows.append([one.cost_per_l or 0.0 for one in judge.usable])
        bounds.append(limits.most_cost_per_l)
    if limits.least_years is not None:
        for one in judge.usable:
            years = one.flags.years_low
            if years is None or years < limits.least_years:
                most_share[place[one.material.key]] = min(
                    most_share[place[one.material.key]], A_FIFTH - JUST_BELOW
                )
    most_of_volume = None
    if limits.within_stock and limits.litres is not None:
        reach = [(one.stock_l or 0.0) / limits.litres for one in judge.usable]
        most_of_volume = np.array(reach) + JUST_BELOW
    parts = case.parts if limits.most_buckets is None else min(case.parts, limits.most_buckets)
    kinds = range(max(1, len(set(limits.must))), min(case.kinds, parts, len(place)) + 1)
    return Question(
        grades=grades(tuple(one.material.physics for one in judge.usable), case.pair_overlap_loss),
        probes=judge.of.probes,
        forms=judge.of.coefficients,
        wanted=judge.of.coefficients @ judge.before,
        gain=judge.of.gains,
        is_distance=True,
        parts=parts,
        kinds=tuple(kinds),
        held=tuple(place[key] for key in dict.fromkeys(limits.must)),
        never=tuple((place[a], place[b]) for a, b in limits.never_with if a in place and b in place),
        most_share=most_share,
        limits=np.array(rows) if rows else None,
        bounds=np.array(bounds) if rows else None,
        most_of_volume=most_of_volume,
        keep=keep,
    )
