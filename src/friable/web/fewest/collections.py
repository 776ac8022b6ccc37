"""A collection by groups of plants, read with the windows, mixes, containers and materials kept here."""

from collections.abc import Callable
from importlib.resources import files
from typing import TYPE_CHECKING

from friable.planning.container_text import parse_container
from friable.records import plain
from friable.records.queries import stores
from friable.records.queries.cards import added_and_not_for
from friable.records.queries.mixes import material_named, mixes_in_use
from friable.records.queries.windows import groups
from friable.reference.materials import find_material
from friable.reference.plant_groups import PlantGroup, find_plant_group
from friable.web.mixes import poured
from friable.web.mixes.compare_forms import version_named

if TYPE_CHECKING:
    from friable.planning.collection_values import Mix
    from friable.planning.fewest_values import Stands
    from friable.records.models import MixVersion

DEMO = "plant_groups.csv"


def stands_of(text: str) -> "Stands":
    """Read a collection.

    Raises
    ------
    BadFile
        With a sentence for each line that cannot be read.
    """
    from friable.planning.fewest_collection import read_stands

    return read_stands(
        text,
        find_group=_find_group(),
        read_container=_container,
        find_material=_material,
        stored_mix=_stored_mix,
    )


def our_mixes() -> "tuple[Mix, ...]":
    """Return the newest version of each of our own mixes in use that is complete."""
    newest = [mix.newest[0] for mix in mixes_in_use() if mix.newest]
    return tuple(_mix(version) for version in newest if not version.incomplete)


def demo_collection() -> str:
    """Return the collection of the invented glasshouse."""
    return files("friable.demo").joinpath(DEMO).read_text(encoding="utf-8")


def _find_group() -> Callable[[str], PlantGroup]:
    here = {group.key: group for group in groups()}
    return lambda text: here[find_plant_group(text).key]


def _container(text: str):
    stored = stores.container_named(text)
    return plain.container(stored) if stored else parse_container(text)


def _material(name: str):
    stored = material_named(name)
    return plain.material(stored) if stored else find_material(name)


def _stored_mix(name: str) -> "Mix | None":
    version = version_named(name)
    return None if version is None else _mix(version)


def _mix(version: "MixVersion") -> "Mix":
    from friable.planning.collection_values import Mix
    from friable.planning.fewest_card import carded

    found = poured.of_version(version)
    mix = Mix(str(version), tuple(found.parts), found.losses or None)
    return carded(mix, *added_and_not_for(version))
