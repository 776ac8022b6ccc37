"""Litres of each material through mixes within mixes, every stage with its own shrinkage."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from friable.planning.nesting import order_of_mixing
from friable.planning.recipe import Component, Recipe
from friable.science.conversion import exact

Key = tuple[str, str]  # what it is, and the state in which it is measured


@dataclass(frozen=True, slots=True)
class ExactPart:
    """One component of a stage: how much is measured out, as it is measured. [L]"""

    component: Component
    volume_l: Fraction
    is_mix: bool


@dataclass(frozen=True, slots=True)
class ExactStage:
    """One mixing: what is poured and what comes out. [L]"""

    mix: str
    finished_l: Fraction
    shrinkage: Fraction
    poured_l: Fraction
    parts: tuple[ExactPart, ...]


@dataclass(frozen=True, slots=True)
class Poured:
    """Stages with the made mix first; litres and both kinds of share of each material."""

    stages: tuple[ExactStage, ...]
    volumes_l: Mapping[Key, Fraction]
    share_by_finished: Mapping[Key, Fraction]


def poured_amounts(
    recipes: Mapping[str, Recipe],
    made: str,
    finished_l: Fraction,
    *,
    shrinkage: Fraction | None = None,
    identity: Callable[[str], str],
    loose_factor: Callable[[str, str], Fraction],
) -> Poured:
    """Work backwards from the finished volume to what is measured out at each stage.

    Parameters
    ----------
    recipes : mapping
        All mixes by name.
    made : str
        The one that is wanted.
    finished_l : Fraction
        What must come out of its last mixing. [L]
    shrinkage : Fraction, optional
        Of that last mixing; else what its recipe says; else none.
    identity : callable
        What a written name stands for, so that two spellings of one material are added up.
    loose_factor : callable
        Loose moist litres for one litre measured of (name, state).

    Notes
    -----
    poured = finished / (1 - shrinkage) at each stage, in loose moist litres; a component is measured as
    parts * poured / sum(parts * factor). A mix that several others need is made once, for all of them.
    """
    finished: dict[str, Fraction] = dict.fromkeys(recipes, Fraction(0))
    finished[made] = finished_l
    by_finished: dict[str, Fraction] = dict.fromkeys(recipes, Fraction(0))
    by_finished[made] = Fraction(1)
    stages: list[ExactStage] = []
    volumes: dict[Key, Fraction] = {}
    shares: dict[Key, Fraction] = {}
    for name in order_of_mixing(recipes):
        recipe = recipes[name]
        if not finished[name]:
            continue
        lost = _shrinkage(recipe, shrinkage if name == made else None)
        loose = finished[name] / (1 - lost)
        factors = [
            Fraction(1) if c.name in recipes else loose_factor(c.name, c.state) for c in recipe.components
        ]
        weight = sum((c.parts * f for c, f in zip(recipe.components, factors, strict=True)), Fraction(0))
        parts = []
        for component in recipe.components:
            volume = component.parts * loose / weight
            share = by_finished[name] * component.parts / recipe.total_parts
            inner = component.name in recipes
            parts.append(ExactPart(component, volume, inner))
            if inner:
                finished[component.name] += volume
                by_finished[component.name] += share
            else:
                key = (identity(component.name), component.state)
                volumes[key] = volumes.get(key, Fraction(0)) + volume
                shares[key] = shares.get(key, Fraction(0)) + share
        poured = sum((part.volume_l for part in parts), Fraction(0))
        stages.append(ExactStage(name, finished[name], lost, poured, tuple(parts)))
    return Poured(tuple(stages), volumes, shares)


def _shrinkage(recipe: Recipe, given: Fraction | None) -> Fraction:
    if given is not None:
        return given
    return Fraction(0) if recipe.shrinkage is None else exact(recipe.shrinkage)
