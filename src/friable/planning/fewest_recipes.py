"""Recipes that may serve several stands: the best for each, and the deepest for each set of stands they suit.

Every recipe of whole parts is held against the windows of every stand at the middle of the ranges. Those that
suit the same stands compete with each other only; the deepest few of each such set are candidates.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import FriableError
from friable.planning.find import recipe_of
from friable.planning.find_question import Asked, asked_of
from friable.planning.find_values import DRAWS, Cancelled, FindCase
from friable.science.search.draws import counts_within, exact_figures
from friable.science.search.screen import Stopped, screened

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from friable.planning.fewest_values import FewestCase
    from friable.reference.materials import Material

    Rows = NDArray[np.uint8]
    Array = NDArray[np.float64]

KEPT = 150_000  # recipes of each number of materials that are kept of what suits a stand, the deepest
KEPT_OF_ALL = 1_500_000  # stands and numbers of materials taken together
CHANCES_OF = 200  # of them, the deepest, whose chance is worked out to choose the best
MOST_SETS = 200  # sets of stands for which recipes are taken: the largest
OF_EACH_SET = 2
MOST_SEARCHED = 62  # stands, each a bit of a number
EDGE = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Recipe:
    """A recipe, and the chance with which it keeps each stand that it suits, by the place of the stand."""

    parts: "tuple[tuple[Material, int], ...]"
    chances: "Mapping[int, float]"

    @property
    def text(self) -> str:
        """The recipe as it is typed."""
        return " + ".join(f"{parts} {material.title}" for material, parts in self.parts)


@dataclass(frozen=True, slots=True, eq=False)
class Sought:
    """What was found, and for which stands nothing could be looked for and why, by place."""

    recipes: tuple[Recipe, ...]
    refused: "Mapping[int, str]"


@dataclass(frozen=True, slots=True, eq=False)
class _Pool:
    """The recipes that suit a stand at the middle; columns are all materials at hand."""

    places: tuple[int, ...]  # stands that ask the same
    asked: Asked
    columns: "NDArray[np.intp]"  # of the materials that this stand may have
    rows: "Rows"
    depth: "Array"


def sought(
    case: "FewestCase",
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Sought:
    """Return recipes of what is at hand that suit one stand best, or several at once.

    Raises
    ------
    Cancelled
        If it was stopped.
    """
    if not case.at_hand:
        return Sought((), {})
    try:
        return _Seeking(case, progress, cancelled).sought()
    except Stopped as stopped:
        raise Cancelled from stopped


class _Seeking:
    def __init__(
        self,
        case: "FewestCase",
        progress: Callable[[int, int], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self.case, self.progress, self.cancelled = case, progress, cancelled
        once = {one.material.key: one for one in case.at_hand}
        self.at_hand = tuple(once[key] for key in sorted(once))
        self.column = {one.material.key: n for n, one in enumerate(self.at_hand)}
        self.refused: dict[int, str] = {}
        # A random number for each material: rows that are alike have the same sum, others hardly ever.
        draw = np.random.default_rng(1)
        self.mark = draw.integers(1, 2**63, size=len(self.at_hand), dtype=np.uint64)

    def sought(self) -> Sought:
        pools = self._pools()
        picked = self._best_of_each(pools)
        picked.update(self._best_of_sets(pools))
        rows = np.array(list(picked.values()), dtype=np.uint8).reshape(-1, len(self.at_hand))
        chances: list[dict[int, float]] = [{} for _row in rows]
        for pool in pools:
            for n, chance in self._chances(pool, rows).items():
                chances[n].update(dict.fromkeys(pool.places, chance))
        recipes = [
            Recipe(recipe_of(self.at_hand, row), suits)
            for row, suits in zip(rows, chances, strict=True)
            if suits
        ]
        return Sought(tuple(recipes), self.refused)

    def _pools(self) -> list[_Pool]:
        questions = self._questions()
        keep = min(KEPT, KEPT_OF_ALL // max(1, len(questions) * self.case.kinds))
        pools = []
        for number, (places, question) in enumerate(questions):

            def told(done: int, total: int, number: int = number) -> None:
                if self.progress is not None:
                    self.progress(done + number * total, len(questions) * total)

            try:
                asked = asked_of(question, keep=keep)
            except FriableError as problem:
                self.refused.update(dict.fromkeys(places, str(problem)))
                continue
            found = screened(asked.question, progress=told, cancelled=self.cancelled)
            within = found.score >= 0
            columns = np.array([self.column[one.material.key] for one in asked.at_hand], dtype=np.intp)
            pools.append(
                _Pool(
                    tuple(places),
                    asked,
                    columns,
                    self._spread(found.parts[within], columns),
                    found.score[within],
                )
            )
        return pools

    def _questions(self) -> list[tuple[list[int], FindCase]]:
        """Return what is searched for, each once, with the stands that ask it."""
        asked: dict[tuple[str, str], list[int]] = {}
        for place, stand in enumerate(self.case.stands.stands):
            if stand.asks_of_pot:
                asked.setdefault((repr(stand.windows), repr(stand.container)), []).append(place)
        return [
            (
                places,
                FindCase(
                    windows=self.case.stands.stands[places[0]].windows,
                    container=self.case.stands.stands[places[0]].container,
                    at_hand=self.at_hand,
                    parts=self.case.parts,
                    kinds=self.case.kinds,
                    limits=self.case.limits,
                    pair_overlap_loss=self.case.pair_overlap_loss,
                ),
            )
            for places in list(asked.values())[:MOST_SEARCHED]
        ]

    def _spread(self, parts: "Rows", columns: "NDArray[np.intp]") -> "Rows":
        rows = np.zeros((len(parts), len(self.at_hand)), dtype=np.uint8)
        rows[:, columns] = parts
        return rows

    def _best_of_each(self, pools: Sequence[_Pool]) -> "dict[bytes, Rows]":
        """Return the likeliest of each pool: by chance, then fewer materials, fewer parts, name."""
        picked: dict[bytes, Rows] = {}
        for pool in pools:
            deepest = pool.rows[np.argsort(-pool.depth, kind="stable")[:CHANCES_OF]]
            chances = self._chances(pool, deepest)
            order = sorted(
                chances,
                key=lambda n: (
                    -chances[n],
                    int((deepest[n] > 0).sum()),
                    int(deepest[n].sum()),
                    Recipe(recipe_of(self.at_hand, deepest[n]), {}).text,
                ),
            )
            picked.update((deepest[n].tobytes(), deepest[n]) for n in order[: self.case.found_each])
        return picked

    def _best_of_sets(self, pools: Sequence[_Pool]) -> "dict[bytes, Rows]":
        """Return for each set of stands that some recipe suits the recipes that suit them all most deeply."""
        if not pools:
            return {}
        rows = np.concatenate([pool.rows for pool in pools])
        bits = np.concatenate([np.full(len(p.rows), 1 << n, dtype=np.int64) for n, p in enumerate(pools)])
        depth = np.concatenate([pool.depth for pool in pools])
        marks = np.zeros(len(rows), dtype=np.uint64)  # sums that run over their end begin anew
        for m, number in enumerate(self.mark):
            marks += rows[:, m] * number
        order = np.argsort(marks, kind="stable")
        starts = np.flatnonzero(np.r_[True, np.diff(marks[order]) != 0]) if len(order) else order
        if not len(starts):
            return {}
        suits = np.bitwise_or.reduceat(bits[order], starts)
        least = np.minimum.reduceat(depth[order], starts)
        first = order[starts]
        by_set: dict[int, list[int]] = {}
        for n in np.lexsort((-least, suits)).tolist():
            of_set = by_set.setdefault(int(suits[n]), [])
            if len(of_set) < OF_EACH_SET:
                of_set.append(n)
        largest = sorted(by_set, key=lambda stands: (-stands.bit_count(), stands))[:MOST_SETS]
        chosen = [rows[first[n]] for stands in largest for n in by_set[stands]]
        return {row.tobytes(): row for row in chosen}

    def _chances(self, pool: _Pool, rows: "Rows") -> dict[int, float]:
        """Return the chance of those rows that keep a stand at the middle, by their places."""
        others = np.ones(len(self.at_hand), dtype=bool)
        others[pool.columns] = False
        able = np.flatnonzero(~rows[:, others].any(axis=1))
        if not len(able):
            return {}
        parts = np.ascontiguousarray(rows[able][:, pool.columns])
        question = pool.asked.question
        shares = parts / parts.sum(axis=1, keepdims=True)
        depths = question.gain * (exact_figures(question, parts) @ question.forms.T - question.wanted)
        within = depths.min(axis=1) >= -EDGE
        if question.limits is not None and question.bounds is not None:
            within &= (shares @ question.limits.T <= question.bounds + EDGE).all(axis=1)
        if question.most_share is not None:
            within &= (shares <= question.most_share + EDGE).all(axis=1)
        able, parts = able[within], np.ascontiguousarray(parts[within])
        if not len(able):
            return {}
        counts = counts_within(
            parts,
            [one.material.physics for one in pool.asked.at_hand],
            question.grades,
            pool.asked.probes_of_draws,
            pool.asked.forms_of_draws,
            draws=DRAWS,
            cancelled=self.cancelled,
        )
        return {int(n): float(count) / DRAWS for n, count in zip(able, counts, strict=True)}
