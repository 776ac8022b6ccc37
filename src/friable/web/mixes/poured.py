"""What is poured for a mix, stored or only typed: its materials with their loose shares."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from friable.errors import BadRecipe, shown
from friable.planning.known_names import loose_factor
from friable.planning.quantities import job_amounts
from friable.planning.recipe import Recipe, RecipeBook
from friable.records import plain
from friable.records.models import Material, MixVersion
from friable.records.queries.measurements import mix_volumes_measured
from friable.records.queries.mixes import material_named, mix_named
from friable.reference import materials as table
from friable.reference.materials import find_material
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True)
class Poured:
    """The materials of a mix with the loose volume of each, and what measured pairs teach of them."""

    parts: tuple[tuple[table.Material, float], ...]
    losses: Mapping[frozenset[str], float]


def of_version(version: MixVersion) -> Poured:
    """Return what is poured for a stored version.

    Raises
    ------
    FriableError
        If nothing is known of one of its materials.
    """
    return Poured(tuple(plain.resolve_parts(version)), plain.pair_overlap_loss(version))


def of_recipe(recipe: Recipe) -> Poured:
    """Return what is poured for a recipe that is only typed; nothing is stored.

    Names stand for our mixes, then our materials and their aliases, then materials of the table.

    Raises
    ------
    UnknownName, AmbiguousName, BadRecipe
        If a name stands for nothing or for several things, or nothing is known of a material.
    """
    versions, rows, names = _meant(recipe)
    inside = plain.version_names(versions)
    known = {row.name: value for row, value in _values(rows, versions)}
    typed = replace(
        recipe,
        name=_free_name(recipe.name, inside.values()),
        components=tuple(
            replace(component, name=inside[names[component.name].pk])
            if isinstance(names[component.name], MixVersion)
            else replace(component, name=names[component.name].name)
            if isinstance(names[component.name], Material)
            else component
            for component in recipe.components
        ),
    )
    book = RecipeBook(
        recipes={
            typed.name: typed,
            **{inside[pk]: plain.recipe(version, inside) for pk, version in versions.items()},
        },
        made=typed.name,
    )

    def find(name: str) -> table.Material:
        return known[name] if name in known else find_material(name)

    amounts = job_amounts([], book, litres=1, find=find)
    parts = []
    for part in amounts.parts:
        material = find(part.material)
        parts.append((material, part.volume_l * float(loose_factor(material, part.state) or 1)))
    return Poured(tuple(parts), _losses([*rows, *plain.material_rows(versions).values()]))


def _meant(recipe: Recipe):
    """Return the versions and material rows behind a recipe, and what each written name means."""
    versions: dict[int, MixVersion] = {}
    rows: list[Material] = []
    names: dict[str, Any] = {}
    met: set[str] = set()
    for component in recipe.components:
        thing = _thing(component.name)
        key = f"{type(thing).__name__} {getattr(thing, 'pk', getattr(thing, 'key', ''))}"
        if isinstance(thing, Material) and not thing.is_own:
            key = f"{table.Material.__name__} {thing.table_key}"
        if isinstance(thing, table.Material):
            key = f"{table.Material.__name__} {thing.key}"
        if key in met:
            raise BadRecipe(
                _("The recipe lists {component} more than once; add the parts together.").format(
                    component=shown(component.name)
                )
            )
        met.add(key)
        names[component.name] = thing
        if isinstance(thing, MixVersion):
            versions.update(plain.load_versions(thing))
        elif isinstance(thing, Material):
            rows.append(thing)
    return versions, rows, names


def _thing(name: str) -> MixVersion | Material | table.Material:
    mix = mix_named(name)
    if mix is not None:
        newest = mix.versions.order_by("-number").first()
        if newest is None:
            raise BadRecipe(_("{mix} has no version yet; write it first.").format(mix=mix.name))
        return newest
    return material_named(name) or find_material(name)


def _values(rows, versions):
    every = {row.pk: row for row in (*rows, *plain.material_rows(versions).values())}
    values = plain.materials(every.values())
    return [(every[pk], value) for pk, value in values.items()]


def _losses(rows) -> Mapping[frozenset[str], float]:
    known = [row for row in rows if row.table_key]
    return plain.overlap_losses(mix_volumes_measured(known).values()) if known else {}


def _free_name(name: str, taken) -> str:
    while name in taken:
        name = f"{name}*"
    return name
