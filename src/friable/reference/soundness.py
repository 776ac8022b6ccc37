"""Are the tables sound? Every table read, every row built, every fault told."""

from collections.abc import Callable
from functools import partial

from friable.reference import (
    cautions,
    components,
    conductivity,
    containers,
    materials,
    mix_cases,
    mixes,
    moisture,
    recipes,
    statements,
    targets,
    yields,
)
from friable.reference.load import read_table
from friable.reference.sources import TABLES, all_sources

BUILDERS: tuple[Callable[[], object], ...] = (
    all_sources,
    materials.all_materials,
    components.published_components,
    mixes.published_mixes,
    mix_cases.published_mix_cases,
    recipes.published_recipes,
    containers.known_containers,
    targets.target_ranges,
    statements.published_statements,
    statements.pot_statements,
    yields.pack_yields,
    cautions.all_cautions,
    moisture.moisture_targets,
    conductivity.published_conductivities,
)


def faults() -> tuple[str, ...]:
    """Return a sentence for each fault in the tables of this installation; none if they are sound."""
    found: list[str] = []
    for name in sorted(path.stem for path in TABLES.glob("*.csv")):
        _note(partial(read_table, name), found)
    for build in BUILDERS:
        _note(build, found)
    return tuple(dict.fromkeys(found))


def _note(act: Callable[[], object], found: list[str]) -> None:
    try:
        act()
    except LookupError as fault:
        found.append(str(fault))
