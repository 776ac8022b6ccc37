"""The smallest set of mixes that keeps every line of pots, and the best among the sets of that size.

Four goals, each worked out exactly under those before it, by integer programming (SciPy's `milp`):

1. fewest mixes;
2. most pots that stay on their present mix;
3. the highest least chance, over all lines, of the mix that a line ends on;
4. the names, in the order of the alphabet.

A line whose present mix is kept, and keeps it, stays on it; every other line goes to the kept mix with the
highest chance, ties by name.
"""

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]

OPTIMAL, IMPOSSIBLE = 0, 2  # as SciPy numbers the ends of `milp`
WHOLE = 1e-6  # what is closer than this to a whole number is that number
HALF = 0.5
LONGEST_S = 600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverCase:
    """Mixes that may be kept, and lines of pots that must be.

    `chances` has shape (mixes, lines): the chance of a mix for a line, NaN where it does not keep it.
    `present` is the place of each line's present mix, None where it is none of the mixes. `must` are the
    places of mixes that stay whatever is chosen.
    """

    names: tuple[str, ...]
    chances: "Array"
    pots: tuple[int, ...]
    present: tuple[int | None, ...]
    must: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        mixes, lines = len(self.names), len(self.pots)
        if self.chances.shape != (mixes, lines) or len(self.present) != lines:
            raise ValueError(
                f"{mixes} mixes and {lines} lines, {len(self.present)} present mixes, chances of shape "
                f"{self.chances.shape}: these do not go together."
            )
        if len(set(self.names)) != mixes:
            raise ValueError("Two mixes have one name; give each its own.")
        if lines and not np.all((~np.isnan(self.chances)).any(axis=0)):
            raise ValueError("A line is kept by no mix; leave it out before asking for a cover.")
        for pots in self.pots:
            if not pots >= 1:
                raise BadQuantity(_("count of pots"), pots, "", _("1 or more"))

    @property
    def keeps(self) -> "NDArray[np.bool_]":
        """Whether a mix keeps a line, shape (mixes, lines)."""
        return ~np.isnan(self.chances)

    @property
    def order(self) -> list[int]:
        """Places of the mixes in the order of their names."""
        return sorted(range(len(self.names)), key=lambda j: (self.names[j].casefold(), self.names[j], j))

    def staying(self) -> list[int]:
        """Return for each mix how many pots stay if it is kept."""
        stays = [0] * len(self.names)
        for line, (count, now) in enumerate(zip(self.pots, self.present, strict=True)):
            if now is not None and self.keeps[now, line]:
                stays[now] += count
        return stays


@dataclass(frozen=True, slots=True)
class Goal:
    """What was reached of one goal, what cannot be beaten, and whether the two were proved to meet."""

    reached: float
    bound: float
    proved: bool


@dataclass(frozen=True, slots=True)
class Cover:
    """Places of the mixes that are kept, by name, and for each line the one it ends on."""

    kept: tuple[int, ...]
    serving: tuple[int, ...]
    mixes: Goal
    staying: Goal
    least_chance: Goal
    names_proved: bool

    @property
    def proved(self) -> bool:
        """Whether all four goals were proved."""
        return self.mixes.proved and self.staying.proved and self.least_chance.proved and self.names_proved


def smallest_cover(case: CoverCase, *, longest_s: float = 20.0) -> Cover:
    """Return the smallest set of mixes that keeps every line, by the four goals in turn.

    Parameters
    ----------
    case : CoverCase
    longest_s : float
        After this time the best that was found is returned, and what is not proved says so. [s]

    Raises
    ------
    BadQuantity
        If the time is not above 0 and at most 600 s.
    """
    if not 0 < longest_s <= LONGEST_S:
        raise BadQuantity(
            _("the longest time"), longest_s, "s", _("above 0 and at most {most:g}").format(most=LONGEST_S)
        )
    return _Search(case, time.monotonic() + longest_s).run()


def served_by(case: CoverCase, kept: "Sequence[int]") -> tuple[int, ...]:
    """Return the mix that each line ends on when these are kept."""
    by_name = [j for j in case.order if j in set(kept)]
    ends: list[int] = []
    for line, now in enumerate(case.present):
        able = [j for j in by_name if case.keeps[j, line]]
        if now is not None and now in able:
            ends.append(now)
        else:
            ends.append(max(able, key=lambda j: float(case.chances[j, line])))
    return tuple(ends)


def taken_by_use(case: CoverCase) -> tuple[int, ...]:
    """Return a set that keeps every line, by taking again and again the mix that keeps most of what is left.

    It need not be the smallest; it is what there is when there was no time to find a smaller one.
    """
    kept = sorted(case.must)
    left = [n for n in range(len(case.pots)) if not any(case.keeps[j, n] for j in kept)]
    while left:
        best = max(case.order, key=lambda j: int(case.keeps[j, left].sum()))
        kept.append(best)
        left = [n for n in left if not case.keeps[best, n]]
    return tuple(kept)


@dataclass(frozen=True, slots=True)
class _End:
    """How one integer programme ended: values if any were found, the bound, and whether it is settled."""

    values: "Array | None"
    bound: float
    settled: bool


class _Search:
    """The four goals one after the other, each a constraint of those that follow."""

    def __init__(self, case: CoverCase, until: float) -> None:
        self.case, self.until = case, until
        self.mixes = len(case.names)
        self.rows: list[tuple[Array, float, float]] = []
        self.lower = np.zeros(self.mixes)
        self.upper = np.ones(self.mixes)
        for j in case.must:
            self.lower[j] = 1.0
        keeps = case.keeps
        distinct = {keeps[:, n].tobytes(): n for n in range(len(case.pots))}
        for n in distinct.values():
            self.rows.append((keeps[:, n].astype(float), 1.0, np.inf))

    def run(self) -> Cover:
        mixes, kept = self._fewest()
        ones = np.ones(self.mixes)
        self.rows.append((ones, mixes.reached - HALF, mixes.reached + HALF))
        staying, kept = self._most_staying(kept)
        chance, kept = self._highest_least_chance(kept)
        names_proved, kept = self._first_names(kept)
        chosen = [j for j in self.case.order if j in kept]
        return Cover(tuple(chosen), served_by(self.case, chosen), mixes, staying, chance, names_proved)

    def _fewest(self) -> tuple[Goal, frozenset[int]]:
        usual = frozenset(taken_by_use(self.case))
        bound = max(len(self.case.must), 1 if self.case.pots else 0)
        if len(usual) == bound:
            return Goal(bound, bound, True), usual
        end = self._solved(np.ones(self.mixes))
        found = self._chosen(end)
        if found is None or len(found) > len(usual):
            found = usual
        if np.isfinite(end.bound):
            bound = max(bound, int(np.ceil(end.bound - WHOLE)))
        return Goal(len(found), bound, bound >= len(found)), found

    def _most_staying(self, kept: frozenset[int]) -> tuple[Goal, frozenset[int]]:
        stays = self.case.staying()
        reached = sum(stays[j] for j in kept)
        most = sum(sorted(stays, reverse=True)[: len(kept)])
        if reached < most:
            end = self._solved(-np.asarray(stays, dtype=float))
            found = self._chosen(end)
            if found is not None and sum(stays[j] for j in found) > reached:
                kept, reached = found, sum(stays[j] for j in found)
            if np.isfinite(end.bound):
                most = min(most, int(np.floor(-end.bound + WHOLE)))
        self.rows.append((np.asarray(stays, dtype=float), reached - HALF, np.inf))
        return Goal(reached, most, reached >= most), kept

    def _highest_least_chance(self, kept: frozenset[int]) -> tuple[Goal, frozenset[int]]:
        if not self.case.pots:
            return Goal(1.0, 1.0, True), kept
        chances = self.case.chances
        levels = np.unique(chances[~np.isnan(chances)])
        low = int(np.searchsorted(levels, self._least(kept)))
        high, all_settled = len(levels), True
        while high - low > 1:  # levels[low] is reached; levels[high] is not, or was not in time
            middle = (low + high) // 2
            rows, upper = self._at_least(levels[middle])
            end = self._solved(np.zeros(self.mixes), rows, upper)
            found = self._chosen(end)
            if found is not None:
                kept, low = found, int(np.searchsorted(levels, self._least(found)))
            else:
                high = middle
                all_settled = all_settled and end.settled
        rows, upper = self._at_least(levels[low])
        self.rows += rows
        self.upper = upper
        reached = float(levels[low])
        return Goal(reached, reached if all_settled else float(levels[-1]), all_settled), kept

    def _first_names(self, kept: frozenset[int]) -> tuple[bool, frozenset[int]]:
        order = self.case.order
        rank = {j: place for place, j in enumerate(order)}
        settled, last = True, -1
        for _each in range(len(kept)):
            soonest = min(rank[j] for j in kept if rank[j] > last)
            # One more value for each mix: whether it is the next one by name.
            next_upper = np.array([1.0 if last < rank[j] < soonest else 0.0 for j in range(self.mixes)])
            if next_upper.any():
                end = self._next_by_name(rank, next_upper)
                found = self._chosen(end)
                if found is not None:
                    kept = found
                    soonest = min(rank[j] for j in kept if rank[j] > last)
                settled = settled and end.settled
            last = soonest
            self.lower[order[last]] = 1.0
        return settled, kept

    def _next_by_name(self, rank: dict[int, int], may_be_next: "Array") -> _End:
        wide = 2 * self.mixes
        rows = [(np.concatenate([row, np.zeros(self.mixes)]), low, high) for row, low, high in self.rows]
        rows.append((np.concatenate([np.zeros(self.mixes), np.ones(self.mixes)]), 1.0, 1.0))
        for j in np.flatnonzero(may_be_next):
            row = np.zeros(wide)
            row[j], row[self.mixes + j] = 1.0, -1.0
            rows.append((row, 0.0, np.inf))
        cost = np.concatenate([np.zeros(self.mixes), [float(rank[j]) for j in range(self.mixes)]])
        lower = np.concatenate([self.lower, np.zeros(self.mixes)])
        return self._milp(cost, rows, lower, np.concatenate([self.upper, may_be_next]))

    def _at_least(self, chance: float) -> "tuple[list[tuple[Array, float, float]], Array]":
        """Return what holds when every line ends on a mix of at least this chance."""
        rows: list[tuple[Array, float, float]] = []
        upper = self.upper.copy()
        seen: set[bytes] = set()
        for n, now in enumerate(self.case.present):
            able = np.nan_to_num(self.case.chances[:, n], nan=-1.0) >= chance
            if now is not None and self.case.keeps[now, n] and not able[now]:
                upper[now] = 0.0  # kept, the line would stay on it
            if able.tobytes() not in seen:
                seen.add(able.tobytes())
                rows.append((able.astype(float), 1.0, np.inf))
        return rows, upper

    def _least(self, kept: frozenset[int]) -> float:
        ends = served_by(self.case, sorted(kept))
        return float(min(self.case.chances[j, n] for n, j in enumerate(ends)))

    def _solved(
        self,
        cost: "Array",
        more: "Sequence[tuple[Array, float, float]]" = (),
        upper: "Array | None" = None,
    ) -> _End:
        return self._milp(cost, [*self.rows, *more], self.lower, self.upper if upper is None else upper)

    def _milp(
        self, cost: "Array", rows: "Sequence[tuple[Array, float, float]]", lower: "Array", upper: "Array"
    ) -> _End:
        left_s = self.until - time.monotonic()
        if np.any(lower > upper):
            return _End(None, np.inf, True)
        if left_s <= 0:
            return _End(None, -np.inf, False)
        from scipy.optimize import Bounds, LinearConstraint, milp

        end = milp(
            cost,
            integrality=np.ones(len(cost), dtype=np.int64),
            bounds=Bounds(lower, upper),
            constraints=LinearConstraint(
                np.array([row for row, _low, _high in rows]),
                np.array([low for _row, low, _high in rows]),
                np.array([high for _row, _low, high in rows]),
            ),
            options={"time_limit": left_s, "mip_rel_gap": 0.0},
        )
        if end.status == IMPOSSIBLE:
            return _End(None, np.inf, True)
        bound = end.mip_dual_bound if end.mip_dual_bound is not None else -np.inf
        return _End(end.x, float(bound), end.status == OPTIMAL)

    def _chosen(self, end: _End) -> frozenset[int] | None:
        """Return the mixes of an end, rounded and looked at again; None if there are none that do."""
        if end.values is None:
            return None
        whole = (end.values[: self.mixes] > HALF).astype(float)
        if not all(low <= float(row @ whole) <= high for row, low, high in self.rows):
            return None
        kept = frozenset(int(j) for j in np.flatnonzero(whole))
        return kept if self.case.must <= kept else None
