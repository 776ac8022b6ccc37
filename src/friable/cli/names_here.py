"""Names that the tables don't hold, looked up in our own records if there are any."""

import os
from collections.abc import Callable, Mapping
from functools import cache
from typing import TYPE_CHECKING, TypeVar

from friable.errors import BadFile, UnknownName, shown
from friable.planning.container_text import parse_container
from friable.project.data_folder import database_file
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.collection_values import Mix
    from friable.reference.materials import Material
    from friable.science.containers import Container

Found = TypeVar("Found")


def find_material(name: str) -> "Material":
    """Return a material of the tables, else one of our own.

    Raises
    ------
    UnknownName, AmbiguousName
        If it is not one thing.
    BadFile
        If there are records that cannot be read.
    """
    from friable.reference.materials import find_material as find_in_tables

    try:
        return find_in_tables(name)
    except UnknownName:
        key = _key(name)
        lookup = _materials_here(shown(name)) if records_exist() else {}
        if key not in lookup:
            raise
        return lookup[key]()


def read_container(text: str) -> "Container":
    """Return a container from its sizes or its name: written out, published, else one of our own."""
    try:
        return parse_container(text)
    except UnknownName:
        if not records_exist():
            raise
        return parse_container(text, _containers_here(shown(text)))


def find_mix(name: str) -> "Mix | None":
    """Return one of our own mixes in its newest version; None if there is none of that name."""
    return look_up_here(shown(name), lambda: _load_mix(name)) if records_exist() else None


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def records_exist() -> bool:
    """Say whether there are records of our own, so that a command need not open what is not there."""
    if os.environ.get("DATABASE_URL", "").strip():
        return True
    file = database_file()
    return file.is_file() and file.stat().st_size > 0


@cache
def _materials_here(asked: str) -> "Mapping[str, Callable[[], Material]]":
    return look_up_here(asked, _load_materials)


@cache
def _containers_here(asked: str) -> "Mapping[str, Container]":
    return look_up_here(asked, _load_containers)


def _load_materials() -> "dict[str, Callable[[], Material]]":
    from friable.records import plain
    from friable.records.queries.stores import materials_in_use

    found: dict[str, Callable[[], Material]] = {}
    for row in materials_in_use():
        for name in (row.name, *(alias.name for alias in row.aliases.all())):
            found.setdefault(_key(name), lambda row=row: plain.material(row))
    return found


def _load_containers() -> "dict[str, Container]":
    from friable.records import plain
    from friable.records.queries.stores import containers_in_use

    return plain.containers_by_name(containers_in_use())


def _load_mix(name: str) -> "Mix | None":
    from friable.planning.collection_values import Mix
    from friable.records import plain
    from friable.records.queries.mixes import mix_named

    found = mix_named(name)
    version = found.versions.select_related("mix").order_by("-number").first() if found else None
    if version is None:
        return None
    return Mix(str(version), tuple(plain.resolve_parts(version)), plain.pair_overlap_loss(version) or None)


def look_up_here(asked: str, load: "Callable[[], Found]") -> "Found":
    """Return what is read from our own records; `asked` is named where they cannot be read."""
    from friable.cli.serve import start_django

    start_django()
    from django.db import DatabaseError

    try:
        return load()
    except DatabaseError:
        raise BadFile(
            _(
                "“{name}” is not in the tables, and the database in {folder} cannot be read; run "
                "friable check."
            ).format(name=asked, folder=shown(database_file().parent))
        ) from None
