"""What changes in each container when one mix stands in for another, with ranges."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from friable.planning.forecast import ENSEMBLE_NODES, FIXED_SUCTIONS_CM, forecast, merge_parts, suctions_under
from friable.planning.replacing_distance import POROSITY, Behaviour
from friable.planning.replacing_values import CHANGED, THIRDS, Change, PotChange, ThirdChange
from friable.science import ranges
from friable.science.drainage import drained_column
from friable.science.estimate import Estimate
from friable.science.mixture import blend, grades, water_held

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.forecast_values import Forecast
    from friable.reference.materials import Material
    from friable.science.containers import Container

    Array = NDArray[np.float64]
    Parts = Sequence[tuple[Material, float]]

SAMPLES = 256
DRAWN_TOGETHER = "both mixes drawn with the same materials"
HARDLY_ANY = 0.002  # of the volume: less easily available water than this has no meaningful ratio


def forecasts(
    parts: "Parts",
    containers: "Sequence[Container]",
    *,
    samples: int = SAMPLES,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> "tuple[Forecast, ...]":
    """Forecast a mix in each container."""
    return tuple(
        forecast(
            parts,
            container,
            samples=samples,
            layer_material=layer_material if container.drainage_layer_cm else None,
            pair_overlap_loss=pair_overlap_loss,
        )
        for container in containers
    )


def pot_changes(
    before: "Parts",
    after: "Parts",
    forecast_before: "Sequence[Forecast]",
    of: Behaviour,
    measured_before: "Array",
    measured_after: "Array",
    *,
    samples: int = SAMPLES,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> tuple[PotChange, ...]:
    """Return what changes in each container of the forecasts.

    Notes
    -----
    Figures before and after are those of the forecast. The range of a difference draws both mixes with the
    same materials, so that what stays in the mix does not count twice.
    """
    found = []
    pots = [told.container for told in forecast_before]
    after_in = forecasts(
        after, pots, samples=samples, layer_material=layer_material, pair_overlap_loss=pair_overlap_loss
    )
    for place, (old, new) in enumerate(zip(forecast_before, after_in, strict=True)):
        drawn = drawn_together(
            before,
            after,
            old.container,
            samples=samples,
            layer_material=layer_material,
            pair_overlap_loss=pair_overlap_loss,
        )
        changes = {
            name: Change(
                quantity=name,
                before=getattr(old, name),
                after=getattr(new, name),
                difference=_around(
                    getattr(new, name).value - getattr(old, name).value,
                    drawn[name][1] - drawn[name][0],
                ),
            )
            for name in CHANGED
        }
        found.append(
            PotChange(
                container=old.container,
                changes=changes,
                thirds=_thirds(of, place, measured_before, measured_after),
                water_lasts=_ratio(old.available_water, new.available_water, drawn["available_water"]),
                easy_water_lasts=_maybe_ratio(
                    old.easily_available_water, new.easily_available_water, drawn["easily_available_water"]
                ),
                warnings=new.warnings,
            )
        )
    return tuple(found)


def drawn_together(
    before: "Parts",
    after: "Parts",
    container: "Container",
    *,
    samples: int = SAMPLES,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> "dict[str, tuple[Array, Array]]":
    """Return the figures of both mixes for the same draws of their materials; (before, after) of each."""
    mixes = [merge_parts(before), merge_parts(after)]
    every = {material.key: material for mix in mixes for material, _share in mix}
    materials = [every[key] for key in sorted(every)]
    ingredients = tuple(material.physics for material in materials)
    middle = grades(ingredients, pair_overlap_loss)
    drawn = ranges.sampled_grades(middle, ingredients, ranges.draws(2 * len(ingredients), samples))
    figures: dict[str, list[Array]] = {}
    for base in suctions_under(container, layer_material):
        column = drained_column(container, base, ENSEMBLE_NODES)
        filling = drawn.filling(np.concatenate([column.suctions_cm, FIXED_SUCTIONS_CM]))
        for mix in mixes:
            shares = {material.key: share for material, share in mix}
            volumes = np.array([shares.get(material.key, 0.0) for material in materials])
            made = blend(volumes / volumes.sum(), drawn)
            water = water_held(made, drawn, filling)
            nodes = len(column.weights)
            capacity = water[..., :nodes] @ column.weights
            at_10, at_50, at_dry = (water[..., nodes + i] for i in range(len(FIXED_SUCTIONS_CM)))
            porosity, density = made.total_porosity, made.dry_bulk_density_g_cm3
            for name, values in {
                "air_space": porosity - capacity,
                "container_capacity": capacity,
                "available_water": np.maximum(0.0, capacity - at_dry),
                "easily_available_water": at_10 - at_50,
                "total_porosity": porosity,
                "dry_bulk_density_g_cm3": density,
                "wet_mass_kg": container.medium_volume_l * (density + capacity),
            }.items():
                figures.setdefault(name, []).append(values)
    # Over a drainage layer: before and after for the one bounding case, then for the other.
    return {name: (np.concatenate(v[0::2]), np.concatenate(v[1::2])) for name, v in figures.items()}


def _around(value: float, drawn: "Array") -> Estimate:
    low, high = (float(end) for end in ranges.range_of(drawn))
    return Estimate(value, min(low, value), max(high, value), "computed", DRAWN_TOGETHER)


def _ratio(before: Estimate, after: Estimate, drawn: "tuple[Array, Array]") -> Estimate:
    floor = HARDLY_ANY
    return _around(max(after.value, 0.0) / max(before.value, floor), drawn[1] / np.maximum(drawn[0], floor))


def _maybe_ratio(before: Estimate, after: Estimate, drawn: "tuple[Array, Array]") -> Estimate | None:
    return _ratio(before, after, drawn) if before.value > HARDLY_ANY else None


def _thirds(of: Behaviour, place: int, before: "Array", after: "Array") -> tuple[ThirdChange, ...]:
    found = []
    for third, name in enumerate(THIRDS):
        water = [float(of.thirds[place, third] @ figures) for figures in (before, after)]
        found.append(
            ThirdChange(
                third=name,
                water_before=water[0],
                water_after=water[1],
                air_before=float(before[POROSITY]) - water[0],
                air_after=float(after[POROSITY]) - water[1],
            )
        )
    return tuple(found)
