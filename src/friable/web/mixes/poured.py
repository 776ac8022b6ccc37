"""What is poured for a mix, stored or only typed: its materials with their loose shares."""

from collections.abc import Iterable, Mapping, Sequence
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
    versions = plain.load_versions(version)
    return _from_book(plain.book(versions, version), versions, [])


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
    typed = replace(
        recipe,
        name=_free_name(recipe.name, inside.values()),
        components=tuple(
            replace(component, name=_name_inside(names[component.name], component.name, inside))
            for component in recipe.components
        ),
    )
    stored = {inside[pk]: plain.recipe(version, inside) for pk, version in versions.items()}
    return _from_book(RecipeBook({typed.name: typed, **stored}, made=typed.name), versions, rows)


def _from_book(book: RecipeBook, versions: Mapping[int, MixVersion], rows: Sequence[Material]) -> Poured:
    """Let planning work out what is poured; a litre is as good as any volume."""
    every = {row.pk: row for row in (*rows, *plain.material_rows(versions).values())}
    known = {every[pk].name: value for pk, value in plain.materials(every.values()).items()}

    def find(name: str) -> table.Material:
        return known[name] if name in known else find_material(name)

    parts = []
    for part in job_amounts([], book, litres=1, find=find).parts:
        material = find(part.material)
        parts.append((material, part.volume_l * float(loose_factor(material, part.state) or 1)))
    return Poured(tuple(parts), _losses(every.values()))


def _name_inside(thing, written: str, inside: Mapping[int, str]) -> str:
    if isinstance(thing, MixVersion):
        return inside[thing.pk]
    return thing.name if isinstance(thing, Material) else written


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


def _losses(rows: Iterable[Material]) -> Mapping[frozenset[str], float]:
    known = [row for row in rows if row.table_key]
    return plain.overlap_losses(mix_volumes_measured(known).values()) if known else {}


def _free_name(name: str, taken) -> str:
    while name in taken:
        name = f"{name}*"
    return name
