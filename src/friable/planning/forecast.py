"""What a mix will hold in a container after watering: the one answer behind every page, sheet and command."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity, BadRecipe
from friable.planning.forecast_values import (
    CurvePoint,
    Figures,
    Forecast,
    LayerBounds,
    ProfilePoint,
)
from friable.science import ranges
from friable.science.containers import Container
from friable.science.drainage import (
    THROAT_OF_GRAIN_HIGH,
    THROAT_OF_GRAIN_LOW,
    Column,
    drained_column,
    water_entry_suction_cm,
)
from friable.science.estimate import Estimate
from friable.science.mixture import (
    Blend,
    Grades,
    blend,
    grades,
    overlap_loss_from_volume,
    plain_average_water,
    switch_share,
    water_held,
)
from friable.science.retention import AVAILABLE_DOWN_TO_CM, EASILY_FROM_CM, EASILY_TO_CM
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.reference.materials import Material

    Array = NDArray[np.float64]

RULE = "blending rule; docs/science/blending.md"
PLAIN = "plain volume average"
ENSEMBLE_NODES = 24
PROFILE_POINTS = 13
CURVE_SUCTIONS_CM = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 3000.0, 15000.0)
FIXED_SUCTIONS_CM = (EASILY_FROM_CM, EASILY_TO_CM, AVAILABLE_DOWN_TO_CM)
LITTLE_AIR = 0.05
SMALL_ADDITION = 0.10


@dataclass(frozen=True, slots=True)
class _Run:
    """Water of one set of curves in one column, by the rule and by plain averaging; members lead."""

    mix: Blend
    volumes: "Array"
    rule_water: "Array"  # at the column points, then at the fixed suctions and the curve suctions
    plain_water: "Array"
    plain_porosity: "Array"
    plain_density: "Array"
    column: Column


def merge_parts(parts: "Sequence[tuple[Material, float]]") -> "list[tuple[Material, float]]":
    """Add up lines of the same material and order them by key: how a recipe is written changes nothing.

    Raises
    ------
    BadRecipe, BadQuantity
        If there is no part, or a part is not a number above 0.
    """
    if not parts:
        raise BadRecipe(_("The mix has no components; write at least one, such as “2 perlite coarse”."))
    merged: dict[str, tuple[Material, float]] = {}
    for material, share in parts:
        if not (share > 0 and math.isfinite(share)):
            raise BadQuantity(_("the part of {title}").format(title=material.title), share, "", _("above 0"))
        merged[material.key] = (material, merged.get(material.key, (material, 0.0))[1] + share)
    return [merged[key] for key in sorted(merged)]


def forecast(
    parts: "Sequence[tuple[Material, float]]",
    container: Container,
    *,
    samples: int = ranges.SAMPLES,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> Forecast:
    """Forecast air and water of a mix in a container after watering and drainage.

    Parameters
    ----------
    parts : sequence of (Material, loose volume)
        In any order and any one unit of volume; lines of the same material are added up.
    container : Container
        With its headspace and drainage layer.
    samples : int
        Draws for the ranges; 0 gives the middle only (low = value = high).
    layer_material : Material, optional
        What the drainage layer is made of; needed if the container has one.
    pair_overlap_loss : mapping, optional
        lambda of pairs of keys learned from measured mix volumes.

    Raises
    ------
    BadRecipe, BadQuantity
        If the parts are empty or impossible, or a drainage layer has no material.

    Notes
    -----
    Ranges are the 5th and 95th percentile of the inputs' ranges carried through the rule. How far the rule
    itself has been off on published mixes stands in docs/science/checks.md and is not part of them.
    """
    merged = merge_parts(parts)
    ingredients = tuple(material.physics for material, _share in merged)
    total = sum(share for _material, share in merged)
    volumes = np.array([share / total for _material, share in merged])
    middle = grades(ingredients, pair_overlap_loss)

    suctions_at_base = suctions_under(container, layer_material)
    heights = np.linspace(container.drainage_layer_cm, container.fill_height_cm, PROFILE_POINTS)
    centre = [_run(volumes, middle, drained_column(container, s)) for s in suctions_at_base]
    members: list[_Run] = []
    widest = ""
    if samples:
        z = ranges.draws(2 * len(ingredients), samples)
        drawn = ranges.sampled_grades(middle, ingredients, z)
        members = [
            _run(volumes, drawn, drained_column(container, s, ENSEMBLE_NODES)) for s in suctions_at_base
        ]
        air = np.mean([_air(run) for run in members], axis=0)
        place = ranges.widest_input(air, z)
        widest = ranges.input_names(ingredients)[place] if place is not None else ""

    first, medium_l = centre[0].mix, container.medium_volume_l
    switch = switch_share(first, middle)
    return Forecast(
        **_estimates(centre, members, medium_l),
        supported_by=ingredients[int(first.supporting)].title,
        switch_at=None if switch is None else min(1.0, math.ceil(100 * switch - 1e-9) / 100),
        profile=_profile(heights, middle, centre, members, suctions_at_base, container),
        plain_average=Figures(**_estimates(centre, members, medium_l, plain=True)),
        widest_input=widest,
        warnings=tuple(_warnings(merged, volumes, middle, centre[0])),
        layer_bounds=_layer_bounds(centre, members, container, layer_material)
        if layer_material and len(centre) > 1
        else None,
        curve=_curve(centre[0], members[0] if members else None),
        container=container,
        samples=samples,
    )


def drawn_figures(
    parts: "Sequence[tuple[Material, float]]",
    container: Container,
    *,
    samples: int,
    layer_material: "Material | None" = None,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> "dict[str, Array]":
    """Return the eight figures of a mix in each of the draws that a forecast takes its ranges from.

    With a drainage layer the mean of both bounding cases.
    """
    merged = merge_parts(parts)
    ingredients = tuple(material.physics for material, _share in merged)
    total = sum(share for _material, share in merged)
    volumes = np.array([share / total for _material, share in merged])
    z = ranges.draws(2 * len(ingredients), samples)
    drawn = ranges.sampled_grades(grades(ingredients, pair_overlap_loss), ingredients, z)
    cases = [
        _figures(
            _run(volumes, drawn, drained_column(container, base, ENSEMBLE_NODES)),
            container.medium_volume_l,
            plain=False,
        )
        for base in suctions_under(container, layer_material)
    ]
    return {key: np.mean([case[key] for case in cases], axis=0) for key in cases[0]}


def air_against_height(
    parts: "Sequence[tuple[Material, float]]",
    container: Container,
    heights_cm: Sequence[float],
    *,
    samples: int = 256,
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None,
) -> list[tuple[float, float, float, float]]:
    """Return (fill height, air, low, high) for the container's shape scaled in height only."""
    merged = merge_parts(parts)
    ingredients = tuple(material.physics for material, _share in merged)
    total = sum(share for _material, share in merged)
    volumes = np.array([share / total for _material, share in merged])
    middle = grades(ingredients, pair_overlap_loss)
    z = ranges.draws(2 * len(ingredients), samples)
    drawn = ranges.sampled_grades(middle, ingredients, z)
    rows = []
    for height in heights_cm:
        pot = Container(
            shape=container.shape,
            top_length_cm=container.top_length_cm,
            top_width_cm=container.top_width_cm,
            bottom_length_cm=container.bottom_length_cm,
            bottom_width_cm=container.bottom_width_cm,
            height_cm=height,
        )
        value = float(_air(_run(volumes, middle, drained_column(pot))))
        low, high = ranges.range_of(_air(_run(volumes, drawn, drained_column(pot, 0.0, ENSEMBLE_NODES))))
        rows.append((float(height), value, min(float(low), value), max(float(high), value)))
    return rows


def overlap_loss_from_mix_volume(
    material_a: "Material", volume_a_l: float, material_b: "Material", volume_b_l: float, measured_l: float
) -> float:
    """Return lambda of a pair of materials from one measured mix volume. [0..1]"""
    return overlap_loss_from_volume(
        (material_a.physics, material_b.physics), (volume_a_l, volume_b_l), measured_l
    )


# --- working ------------------------------------------------------------------------------------


def suctions_under(container: Container, layer_material: "Material | None") -> tuple[float, ...]:
    """Return the suction under the medium: 0 over holes; above a layer with broken and continuous films."""
    depth = container.drainage_layer_cm
    if not depth:
        return (0.0,)
    if layer_material is None:
        raise BadRecipe(
            _("The drainage layer has no material; say what it is made of, such as “3 cm gravel”.")
        )
    return (min(water_entry_suction_cm(layer_material.d50_mm), depth), depth)


def _run(volumes: "Array", curves: Grades, column: Column) -> _Run:
    mix = blend(volumes, curves)
    suctions = np.concatenate([column.suctions_cm, FIXED_SUCTIONS_CM, CURVE_SUCTIONS_CM])
    filling = curves.filling(suctions)
    return _Run(
        mix=mix,
        volumes=volumes,
        rule_water=water_held(mix, curves, filling),
        plain_water=plain_average_water(volumes, curves, filling),
        plain_porosity=(volumes * (curves.void + (1 - curves.void) * curves.internal)).sum(axis=-1),
        plain_density=(volumes * curves.density_g_cm3).sum(axis=-1),
        column=column,
    )


def _capacity(run: _Run, *, plain: bool = False) -> "Array":
    water = run.plain_water if plain else run.rule_water
    return np.asarray(water[..., : len(run.column.weights)] @ run.column.weights)


def _air(run: _Run) -> "Array":
    return np.asarray(run.mix.total_porosity - _capacity(run))


def _figures(run: _Run, medium_l: float, *, plain: bool) -> "dict[str, Array]":
    """Return the eight figures of a run, members leading."""
    porosity = run.plain_porosity if plain else run.mix.total_porosity
    density = run.plain_density if plain else run.mix.dry_bulk_density_g_cm3
    water = run.plain_water if plain else run.rule_water
    capacity = _capacity(run, plain=plain)
    at_10, at_50, at_dry = (water[..., len(run.column.weights) + i] for i in range(len(FIXED_SUCTIONS_CM)))
    return {
        "total_porosity": porosity,
        "container_capacity": capacity,
        "air_space": porosity - capacity,
        "available_water": np.maximum(0.0, capacity - at_dry),
        "easily_available_water": at_10 - at_50,
        "dry_bulk_density_g_cm3": density,
        "wet_mass_kg": medium_l * (density + capacity),
        "shrinkage": np.zeros_like(porosity) if plain else run.mix.shrinkage,
    }


def _estimates(
    centre: list[_Run], members: list[_Run], medium_l: float, *, plain: bool = False
) -> dict[str, Estimate]:
    """Middle and range of each figure; with a drainage layer, over both bounding cases."""
    middle = [_figures(run, medium_l, plain=plain) for run in centre]
    drawn = [_figures(run, medium_l, plain=plain) for run in members]
    estimates = {}
    for key in middle[0]:
        edges = [float(figures[key]) for figures in middle]
        value = sum(edges) / len(edges)
        for figures in drawn:
            edges += [float(edge) for edge in ranges.range_of(figures[key])]
        estimates[key] = Estimate(value, min(edges), max(edges), "computed", PLAIN if plain else RULE)
    return estimates


def _profile(
    heights: "Array",
    middle: Grades,
    centre: list[_Run],
    members: list[_Run],
    suctions_at_base: tuple[float, ...],
    container: Container,
) -> tuple[ProfilePoint, ...]:
    waters, lows, highs = [], [], []
    for place, base in enumerate(suctions_at_base):
        at = base + heights - container.drainage_layer_cm
        water = water_held(centre[place].mix, middle, middle.filling(at))
        waters.append(water)
        low = high = water
        if members:
            run = members[place]
            nodes = len(run.column.weights)
            under, over = ranges.range_of(run.rule_water[..., :nodes])
            low = np.minimum(water, np.interp(heights, run.column.heights_cm, under))
            high = np.maximum(water, np.interp(heights, run.column.heights_cm, over))
        lows.append(low)
        highs.append(high)
    water, low, high = np.mean(waters, axis=0), np.min(lows, axis=0), np.max(highs, axis=0)
    porosity = float(centre[0].mix.total_porosity)
    return tuple(
        ProfilePoint(float(h), float(w), float(lo), float(hi), porosity - float(w))
        for h, w, lo, hi in zip(heights, water, low, high, strict=True)
    )


def _curve(run: _Run, drawn: _Run | None) -> tuple[CurvePoint, ...]:
    start = len(FIXED_SUCTIONS_CM)
    water = run.rule_water[len(run.column.weights) + start :]
    low = high = water
    if drawn is not None:
        under, over = ranges.range_of(drawn.rule_water[..., len(drawn.column.weights) + start :])
        low, high = np.minimum(water, under), np.maximum(water, over)
    return tuple(
        CurvePoint(s, float(w), float(lo), float(hi))
        for s, w, lo, hi in zip(CURVE_SUCTIONS_CM, water, low, high, strict=True)
    )


def _layer_bounds(
    centre: list[_Run], members: list[_Run], container: Container, layer_material: "Material"
) -> LayerBounds:
    def figures(place: int) -> dict[str, Estimate]:
        every = _estimates(centre[place : place + 1], members[place : place + 1], container.medium_volume_l)
        return {key: every[key] for key in ("air_space", "container_capacity")}

    return LayerBounds(
        broken_films=figures(0),
        continuous_films=figures(1),
        lost_volume_share=container.layer_volume_l / container.fill_volume_l,
        water_entry_suction_cm=Estimate(
            water_entry_suction_cm(layer_material.d50_mm),
            water_entry_suction_cm(layer_material.d50_mm, THROAT_OF_GRAIN_HIGH),
            water_entry_suction_cm(layer_material.d50_mm, THROAT_OF_GRAIN_LOW),
            "estimated",
            "capillary law; throat 0.2 to 0.4 grain radius, common practice",
        ),
    )


def _warnings(
    merged: "Sequence[tuple[Material, float]]",
    volumes: "Array",
    middle: Grades,
    run: _Run,
) -> list[str]:
    """Return plain sentences where the figures need care."""
    said = []
    air = float(_air(run))
    if air < LITTLE_AIR:
        said.append(
            _(
                "Less than 5 % air: at this end the figure hangs on the finest grains of each material; "
                "test a pot before you rely on it."
            )
        )
    if float(run.mix.unplaced) > 0:
        said.append(_("The fine parts want more room than the coarse gaps have; the volume is uncertain."))
    for place, (material, _share) in enumerate(merged):
        if len(merged) > 1 and volumes[place] < SMALL_ADDITION:
            others = np.where(np.arange(len(merged)) == place, 0.0, volumes)
            without = float(_air(_run(others, middle, run.column)))
            if air < without / 2:
                said.append(
                    _(
                        "{title} is under a tenth of the mix yet takes over half of the air; "
                        "sieve its dust out or test a pot."
                    ).format(title=material.title)
                )
    return said
