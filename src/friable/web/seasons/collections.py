"""A collection as it is typed, read with the mixes, containers and materials that are kept here."""

from typing import TYPE_CHECKING

from friable.planning.container_text import parse_container
from friable.records import plain
from friable.records.queries import stores
from friable.records.queries.mixes import material_named
from friable.reference.materials import find_material
from friable.web.mixes import poured
from friable.web.mixes.compare_forms import version_named

if TYPE_CHECKING:
    from friable.planning.collection_values import Collection, Mix


def collection_of(text: str) -> "Collection":
    """Read a collection.

    Raises
    ------
    BadFile
        With a sentence for each line that cannot be read.
    """
    from friable.planning.collection import read_collection

    return read_collection(text, read_container=_container, find_material=_material, stored_mix=_stored_mix)


def _container(text: str):
    stored = stores.container_named(text)
    return plain.container(stored) if stored else parse_container(text)


def _material(name: str):
    stored = material_named(name)
    return plain.material(stored) if stored else find_material(name)


def _stored_mix(name: str) -> "Mix | None":
    from friable.planning.collection_values import Mix

    version = version_named(name)
    if version is None:
        return None
    found = poured.of_version(version)
    return Mix(str(version), tuple(found.parts), found.losses or None)
