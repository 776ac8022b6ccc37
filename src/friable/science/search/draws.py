"""The chance of many recipes at once: the same draws, and the same figures, as a forecast of each alone."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from friable.science import ranges
from friable.science.compiled_code import load_compiler
from friable.science.drainage import Column
from friable.science.ingredient import Ingredient
from friable.science.mixture import Grades
from friable.science.packing import pair_tables
from friable.science.search.question import Question
from friable.science.search.screen import Stopped

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

AT_ONCE = 250  # recipes between two questions whether to go on


def counts_within(
    parts: "NDArray[np.uint8]",
    ingredients: Sequence[Ingredient],
    grades: Grades,
    probes: Sequence[Column],
    forms: "Array",
    *,
    draws: int,
    threads: int = 2,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> "NDArray[np.int64]":
    """Return in how many draws of the ranges each recipe has every form within its end.

    Parameters
    ----------
    parts : ndarray, shape (recipes, materials)
    ingredients : sequence of Ingredient
        In the order of their keys: as a forecast orders them.
    grades : Grades
        Of the same materials, at the middle.
    probes : sequence of Column
        Water is the mean over each.
    forms : ndarray, shape (ends, 2 + probes + 2)
        Coefficients of porosity, density and each water, the limit, the gain.

    Raises
    ------
    Stopped
        If `cancelled` said so.
    """
    counts = np.zeros(len(parts), dtype=np.int64)
    forms = np.ascontiguousarray(forms)
    kinds_of = (parts > 0).sum(axis=1)
    done = 0
    for kinds in sorted(set(kinds_of.tolist())):
        rows = np.flatnonzero(kinds_of == kinds)
        used = np.flatnonzero(parts[rows].any(axis=0))
        chosen = [ingredients[m] for m in used.tolist()]
        here = _only(grades, used, chosen)
        z = ranges.draws(2 * kinds, draws)
        places = [
            ranges.sampled_grades(here, chosen, np.tile(z[:, 2 * j : 2 * j + 2], len(chosen)))
            for j in range(kinds)
        ]
        some = _Mixes(parts[rows][:, used], kinds, places, probes)
        blocks = [slice(first, first + AT_ONCE) for first in range(0, len(rows), AT_ONCE)]
        with ThreadPoolExecutor(threads) as pool:
            for block, found in zip(blocks, pool.map(partial(some.count, forms), blocks), strict=True):
                counts[rows[block]] = found
                done += len(found)
                if progress is not None:
                    progress(done, len(parts))
                if cancelled is not None and cancelled():
                    pool.shutdown(cancel_futures=True)
                    raise Stopped
    return counts


def exact_figures(question: Question, parts: "NDArray[np.uint8]") -> "Array":
    """Return the figures of recipes at the middle of the ranges, in double precision and without tables.

    Parameters
    ----------
    question : Question
    parts : ndarray, shape (recipes, materials)

    Returns
    -------
    ndarray, shape (recipes, 1 + sums + probes)
        As `Question` orders them.
    """
    sums = len(question.sums)
    found = np.zeros((len(parts), 1 + sums + len(question.probes)))
    kinds_of = (parts > 0).sum(axis=1)
    for kinds in sorted(set(kinds_of.tolist())):
        rows = np.flatnonzero(kinds_of == kinds)
        figures, mixed = _Mixes(parts[rows], kinds, [question.grades] * kinds, question.probes).figures()
        found[rows, :2] = figures[:, :2]
        found[rows, 1 + sums :] = figures[:, 2:]
        volumes = parts[rows] / parts[rows].sum(axis=1, keepdims=True)
        found[rows, 1 : 1 + sums] = (volumes @ question.sums.T) / mixed[:, None]
    return found


class _Mixes:
    """Recipes of the same number of materials, with these as they are drawn for each place in a mix."""

    def __init__(
        self,
        parts: "NDArray[np.uint8]",
        kinds: int,
        places: Sequence[Grades],
        probes: Sequence[Column],
    ) -> None:
        load_compiler()
        here = places[0]
        self.kinds = kinds
        self.members = np.argsort(parts == 0, axis=1, kind="stable")[:, :kinds].astype(np.int64)
        amounts = np.take_along_axis(parts, self.members, axis=1).astype(float)
        self.volumes = amounts / amounts.sum(axis=1, keepdims=True)
        suctions = np.concatenate([probe.suctions_cm for probe in probes])
        fillings = [one.filling(suctions) for one in places]  # (draws, suctions, materials)
        ends = np.cumsum([0, *(len(probe.weights) for probe in probes)])
        self.rule = (
            tuple(
                np.stack([np.atleast_2d(getattr(one, name)) for one in places])
                for name in ("void", "beta", "internal", "density_g_cm3")
            ),
            tuple(np.array(t) for t in (here.tables.rigid, here.tables.loose, here.tables.entered)),
            np.array(here.pair_loss),
            (ends.astype(np.int64), np.concatenate([probe.weights for probe in probes])),
            np.ascontiguousarray(np.stack([_with_draws(f.outer) for f in fillings]).swapaxes(2, 3)),
            np.ascontiguousarray(np.stack([_with_draws(f.inner) for f in fillings]).swapaxes(2, 3)),
        )

    @property
    def scratch(self) -> tuple["Array", ...]:
        """Room for the working of one thread."""
        from friable.science.search.kernel import MOST_KINDS, SUB_GRADES

        sizes = (SUB_GRADES * MOST_KINDS, MOST_KINDS, (2, MOST_KINDS), MOST_KINDS, MOST_KINDS, MOST_KINDS)
        return tuple(np.zeros(size) for size in sizes)

    def count(self, forms: "Array", block: slice) -> "NDArray[np.int64]":
        """Return for some of the recipes in how many draws every form is within its end."""
        from friable.science.search.draw_kernel import count_within

        counts = np.zeros(len(self.volumes[block]), dtype=np.int64)
        volumes, members = self.volumes[block], self.members[block]
        count_within(volumes, members, self.kinds, *self.rule, self.scratch, forms, counts)
        return counts

    def figures(self) -> tuple["Array", "Array"]:
        """Return the figures of each recipe in the first draw, and its volume of one poured."""
        from friable.science.search.draw_kernel import figures_each

        found = np.zeros((len(self.volumes), 1 + len(self.rule[3][0])))
        mixed = np.zeros(len(self.volumes))
        figures_each(self.volumes, self.members, self.kinds, *self.rule, self.scratch, found, mixed)
        return found, mixed


def _with_draws(filling: "Array") -> "Array":
    return filling if filling.ndim == 3 else filling[None]


def _only(grades: Grades, used: "NDArray[np.intp]", chosen: Sequence[Ingredient]) -> Grades:
    """Return the grades of some of the materials."""
    names = ("void", "beta", "internal", "density_g_cm3", "scale", "alpha_ext", "n_ext", "alpha_int", "n_int")
    return replace(
        grades,
        **{name: getattr(grades, name)[used] for name in names},
        pair_loss=grades.pair_loss[np.ix_(used, used)],
        tables=pair_tables(tuple(one.sub_sizes_mm for one in chosen)),
    )
