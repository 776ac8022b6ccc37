"""How one recipe fares against windows: its middle figures, and the share of draws within, the plain way.

This is the model that every page uses, one recipe at a time; a search must say the same.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.find_values import DRAWS
from friable.planning.forecast import drawn_figures, forecast
from friable.reference.windows import Window
from friable.science.containers import Container

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material

    Array = NDArray[np.float64]


def figures_of(
    parts: "Sequence[tuple[Material, float]]",
    container: Container,
    *,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> dict[str, float]:
    """Return the figures of a mix in a container at the middle of the ranges, by the names of windows."""
    told = forecast(
        parts,
        container,
        samples=0,
        layer_material=layer_material,
        pair_overlap_loss=pair_overlap_loss,
    )
    found = {name: estimate.value for name, estimate in told.figures().items()}
    return found | {"wet_density_kg_l": found["dry_bulk_density_g_cm3"] + found["container_capacity"]}


def chance_within(
    parts: "Sequence[tuple[Material, float]]",
    windows: Sequence[Window],
    container: Container,
    *,
    draws: int = DRAWS,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> float:
    """Return the share of the draws of the ranges in which a mix is within every window of the pot.

    Windows of shares, price, years and flags are not drawn: they hold or they do not.
    """
    drawn = drawn_figures(
        parts,
        container,
        samples=draws,
        layer_material=layer_material,
        pair_overlap_loss=pair_overlap_loss,
    )
    drawn["wet_density_kg_l"] = drawn["dry_bulk_density_g_cm3"] + drawn["container_capacity"]
    within = np.ones(draws, dtype=bool)
    for window in windows:
        values = drawn.get(window.quantity)
        if values is None:
            continue
        if window.low is not None:
            within &= values >= window.low
        if window.high is not None:
            within &= values <= window.high
    return float(within.mean())
