"""Sweep over every set of materials on all cores, and keep the best."""

import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from math import comb
from typing import TYPE_CHECKING, Any

import numpy as np

from friable.science.compiled_code import load_compiler
from friable.science.search.question import NO_LIMIT, Question, Screened
from friable.science.search.space import choice, compositions
from friable.science.search.tables import flat_tables

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

RECIPES_A_JOB = 400_000
ROOM = 8192  # recipes that a worker keeps before they are merged
SLACK = 3e-4  # of the score: single precision, and the tables, must lose no recipe


class Stopped(Exception):
    """The one who asked has called the search off."""


def screened(
    question: Question,
    *,
    threads: int = 2,
    precision: str = "single",
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Screened:
    """Judge every recipe and return the best.

    Parameters
    ----------
    question : Question
    threads : int
    precision : "single" or "double"
        Of the sweep. Figures are within 1e-5 of the blending rule in either; the score of whoever is at the
        edge of `keep` may be wrong by as much, so a few more than `keep` are returned: judge them again.
    progress : callable, optional
        Takes the recipes done and all.
    cancelled : callable, optional
        Asked between blocks of some 400,000 recipes.

    Raises
    ------
    Stopped
        If `cancelled` said so.
    """
    work = _Work(question, precision, progress, cancelled)
    jobs = list(work.jobs())
    if threads == 1 or len(jobs) == 1:
        for job in jobs:
            work.do(*job)
    else:
        with ThreadPoolExecutor(threads) as pool:
            for done in [pool.submit(work.do, *job) for job in jobs]:
                done.result()
    return work.result()


class _Work:
    """The arrays of one search, shared by its workers, and the best so far."""

    def __init__(
        self,
        question: Question,
        precision: str,
        progress: Callable[[int, int], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        load_compiler()
        self.question = question
        self.progress, self.cancelled = progress, cancelled
        self.real: Any = np.float32 if precision == "single" else np.float64
        self.materials = len(question.grades.void)
        self.free = np.array([m for m in range(self.materials) if m not in question.held], dtype=np.uint64)
        self.held = np.array(question.held, dtype=np.uint64)
        never = np.zeros((self.materials, self.materials), dtype=np.bool_)
        for a, b in question.never:
            never[a, b] = never[b, a] = True
        self.never = never.ravel()
        self.tables = flat_tables(question.grades, question.probes, question.sums, self.real)
        self.forms = np.column_stack([question.forms, question.wanted, question.gain]).astype(self.real)
        no_limit = np.full(self.materials, NO_LIMIT)
        self.limits = (
            np.asarray(no_limit if question.most_share is None else question.most_share, dtype=float),
            np.zeros(0) if question.limits is None else np.ascontiguousarray(question.limits, float).ravel(),
            np.zeros(0) if question.bounds is None else np.asarray(question.bounds, dtype=float),
        )
        most = no_limit if question.most_of_volume is None else question.most_of_volume
        self.most_of_volume = np.asarray(most).astype(self.real)
        ends = len(question.gain)
        self.lock = threading.Lock()
        self.kept: dict[int, tuple[NDArray[np.uint8], Array]] = {}
        self.threshold = dict.fromkeys(question.kinds, -np.inf)
        self.missed_parts = np.zeros((ends, self.materials), dtype=np.uint8)
        self.missed_by = np.full(ends, -np.inf)
        self.counts = np.zeros(3, dtype=np.int64)  # considered, pruned, within
        self.done = 0
        self.all = sum(self.sets(k) * len(self.ways(k)) for k in question.kinds)

    def sets(self, kinds: int) -> int:
        """Return how many sets of so many materials there are."""
        chosen = kinds - len(self.held)
        return comb(len(self.free), chosen) if chosen >= 0 else 0

    def ways(self, kinds: int) -> "NDArray[np.int64]":
        return compositions(self.question.parts, kinds, exactly=self.question.exactly)

    def jobs(self) -> Iterator[tuple[int, int, int]]:
        """Yield (kinds, first set, sets)."""
        for kinds in self.question.kinds:
            sets, ways = self.sets(kinds), len(self.ways(kinds))
            at_once = max(1, RECIPES_A_JOB // max(ways, 1))
            for first in range(0, sets if ways else 0, at_once):
                yield kinds, first, min(at_once, sets - first)

    def do(self, kinds: int, first: int, sets: int) -> None:
        """Sweep over some sets of materials."""
        from friable.science.search.kernel import ROWS
        from friable.science.search.sweep import LANES, sweep

        ways = self.ways(kinds)
        wide = -(-len(ways) // LANES) * LANES
        probes, sums = len(self.question.probes), len(self.question.sums)
        w = np.zeros((ROWS + 1 + sums + probes) * wide, dtype=self.real)
        digits = np.array(choice(first, len(self.free), kinds - len(self.held)), dtype=np.int64)
        picked = np.zeros(len(ways), dtype=np.int64)
        room = max(ROOM, 2 * len(ways))
        kept = (
            np.zeros((room, kinds), dtype=np.uint8),
            np.zeros(room, dtype=np.int64),
            np.zeros(room),
        )
        ends = len(self.missed_by)
        opened = (
            np.zeros((ends, kinds), dtype=np.uint8),
            np.zeros(ends, dtype=np.int64),
            np.full(ends, -np.inf),
        )
        left = sets
        while left:
            if self.cancelled is not None and self.cancelled():
                raise Stopped
            done, considered, pruned, within, stored = sweep(
                w,
                digits,
                left,
                self.held,
                self.free,
                self.never,
                ways,
                ways.sum(axis=1),
                self.limits,
                self.tables,
                np.uint64(self.materials),
                np.uint64(sums),
                np.uint64(probes),
                self.forms.ravel(),
                np.uint64(ends),
                self.question.is_distance,
                self.most_of_volume,
                self.threshold[kinds],
                picked,
                kept,
                opened,
            )
            left -= done
            self._merge(kinds, done, (considered, pruned, within), kept, stored)
        self._merge_missed(kinds, opened)

    def _rows(
        self, members: "NDArray[np.uint8]", ways: "NDArray[np.int64]", picked: "NDArray[np.int64]"
    ) -> "NDArray[np.uint8]":
        rows = np.zeros((len(members), self.materials), dtype=np.uint8)
        np.put_along_axis(rows, members.astype(np.intp), ways[picked].astype(np.uint8), axis=1)
        return rows

    def _merge(
        self,
        kinds: int,
        sets: int,
        counts: tuple[int, int, int],
        kept: tuple["NDArray[np.uint8]", "NDArray[np.int64]", "Array"],
        stored: int,
    ) -> None:
        ways = self.ways(kinds)
        members, picked, score = kept[0][:stored], kept[1][:stored], kept[2][:stored]
        with self.lock:
            self.counts += counts
            if stored:
                rows, scores = self._rows(members, ways, picked), score.copy()
                if kinds in self.kept:
                    rows = np.concatenate([self.kept[kinds][0], rows])
                    scores = np.concatenate([self.kept[kinds][1], scores])
                keep = self.question.keep
                if len(scores) > keep:
                    edge = np.partition(scores, len(scores) - keep)[len(scores) - keep] - SLACK
                    best = scores >= edge
                    rows, scores = rows[best], scores[best]
                    self.threshold[kinds] = max(self.threshold[kinds], float(edge))
                self.kept[kinds] = (rows, scores)
            self.done += sets * len(ways)
            if self.progress is not None:
                self.progress(self.done, self.all)

    def _merge_missed(
        self, kinds: int, opened: tuple["NDArray[np.uint8]", "NDArray[np.int64]", "Array"]
    ) -> None:
        members, picked, score = opened
        rows = self._rows(members, self.ways(kinds), picked)
        with self.lock:
            better = score > self.missed_by
            self.missed_by[better] = score[better]
            self.missed_parts[better] = rows[better]

    def result(self) -> Screened:
        """Return the best of all kinds, best first; ties by the rows themselves, so by no chance."""
        rows = np.concatenate([np.zeros((0, self.materials), np.uint8), *(r for r, _s in self.kept.values())])
        score = np.concatenate([np.zeros(0), *(s for _r, s in self.kept.values())])
        possible = score > -NO_LIMIT / 2
        rows, score = rows[possible], score[possible]
        order = np.lexsort((*rows.T[::-1], -score)) if len(score) else np.zeros(0, dtype=np.intp)
        return Screened(
            considered=int(self.counts[0]),
            pruned=int(self.counts[1]),
            within=int(self.counts[2]),
            parts=rows[order],
            score=score[order],
            missed_parts=self.missed_parts,
            missed_by=self.missed_by,
        )
