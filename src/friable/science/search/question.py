"""What a search asks, and what it finds: plain arrays, no names."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.science.drainage import Column
from friable.science.mixture import Grades

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

NO_LIMIT = 1e9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Question:
    """All recipes of whole parts, and what is asked of their figures.

    The figures of a recipe are its total porosity [m³ m⁻³], its dry bulk density [g/cm³], what else is summed
    up per volume (cost), and the water that it holds on the mean of each probe [m³ m⁻³], in this order.
    """

    grades: Grades  # the materials, at the middle of their ranges
    probes: tuple[Column, ...]  # where water is asked for: suctions and the share that each stands for
    also_summed: "Array | None" = None  # (sums, materials), per volume poured: figures per volume of the mix
    forms: "Array"  # (ends, figures): what is judged, a linear form of the figures ...
    wanted: "Array"  # (ends,): ... against this ...
    gain: "Array"  # (ends,): ... times this. Depth = gain x (form - wanted); at least 0 is within
    is_distance: bool = False  # score = minus the root of the sum of squares, else the least depth
    parts: int = 10
    kinds: Sequence[int] = (1, 2, 3, 4)
    exactly: bool = False  # in exactly so many parts, every material present
    held: tuple[int, ...] = ()  # places of materials that must be there
    never: tuple[tuple[int, int], ...] = ()  # places of materials that never stand together
    most_share: "Array | None" = None  # (materials,): of the volume poured
    limits: "Array | None" = None  # (limits, materials): sum of share x this ...
    bounds: "Array | None" = None  # ... at most this
    most_of_volume: "Array | None" = None  # (materials,): of the volume of the finished mix (stock)
    keep: int = 2000

    @property
    def sums(self) -> "Array":
        """What adds up by volume, density first."""
        density = self.grades.density_g_cm3[None, :]
        return density if self.also_summed is None else np.vstack([density, self.also_summed])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Screened:
    """What a search found, best first. A row of `parts` has a number for each material."""

    considered: int  # recipes in the space that was asked for
    pruned: int  # of them, ruled out by a linear limit before they were computed
    within: int  # of them, with every form within its ends
    parts: "NDArray[np.uint8]"
    score: "Array"
    missed_parts: "NDArray[np.uint8]"  # (ends, materials): the recipe that misses this end alone, by least
    missed_by: "Array"  # (ends,): its depth, below 0; -inf where there is none
