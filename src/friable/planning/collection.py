"""A collection as a spreadsheet saves it: one line for so many pots alike."""

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from friable.errors import BadFile, FriableError
from friable.planning.collection_cells import (
    bare_centimetres,
    read_habit,
    read_layer,
    read_mix,
    read_place,
    read_use,
)
from friable.planning.collection_table import LinesRefused, table_rows, too_many_cells
from friable.planning.collection_values import Collection, CollectionLine, Kind, Mix
from friable.planning.container_text import parse_container
from friable.planning.typed_text import MAX_CELL, plain
from friable.planning.units_in import count
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material
    from friable.science.containers import Container

NEEDED = ("mix", "container", "count")
COLUMNS = (
    "group", *NEEDED, "plant", "water_use", "place", "watering", "headspace", "drainage_layer",
)  # fmt: skip
MOST_KINDS = 2_000
MOST_GROUPS = 500
MOST_POTS = 10_000_000


def read_collection(
    text: str,
    *,
    read_container: "Callable[[str], Container]" = parse_container,
    find_material: "Callable[[str], Material] | None" = None,
    stored_mix: Callable[[str], Mix | None] | None = None,
) -> Collection:
    """Read a collection: rows under a header that names `COLUMNS`; mix, container and count are needed.

    Parameters
    ----------
    text : str
        Columns in any order, set apart by commas, semicolons or tabs.
    read_container : callable
        From text to a container; by default sizes, and the names of published ones.
    find_material : callable, optional
        From name to material; by default those of the tables.
    stored_mix : callable, optional
        From a name to one of our own mixes, None where it is not one.

    Raises
    ------
    LinesRefused
        One sentence for each line that cannot be read.
    BadFile
        If it is no table, has no such columns, or is too large.
    """
    header, rows = table_rows(text, NEEDED, COLUMNS)

    @cache
    def mix(cell: str) -> Mix:
        return read_mix(cell, find_material, stored_mix)

    @cache
    def container(cell: str) -> "Container":
        return read_container(cell)

    @cache
    def kind_of(alike: tuple[str, ...]) -> tuple[str, Kind]:
        kind = _kind(dict(zip(columns, alike, strict=True)), mix, container, find_material)
        return kind.key, kind

    columns = [name for name in header if name not in ("group", "count")]
    kinds: dict[str, int] = {}
    distinct: list[Kind] = []
    lines: list[CollectionLine] = []
    refused: list[tuple[int, str]] = []
    for number, row in rows:
        if extra := too_many_cells(row, header):
            refused.append((number, extra))
            continue
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        try:
            key, kind = kind_of(tuple(cells.get(name, "") for name in columns))
            pots = int(count(cells.get("count", ""), _("count")).exact)
            group = _group(cells, kind)
        except FriableError as problem:
            refused.append((number, str(problem)))
            continue
        place = kinds.setdefault(key, len(distinct))
        if place == len(distinct):
            distinct.append(kind)
        lines.append(CollectionLine(number, group, place, pots))
    if refused:
        raise LinesRefused(refused)
    found = Collection(tuple(lines), tuple(distinct))
    for name, amount, most in (
        (_("kinds of pots"), len(found.kinds), MOST_KINDS),
        (_("groups"), len(found.groups), MOST_GROUPS),
        (_("pots"), found.pots, MOST_POTS),
    ):
        if amount > most:
            raise BadFile(
                _("The collection has {count} {things}; the most is {most}.").format(
                    count=f"{amount:,}", things=name, most=f"{most:,}"
                )
            )
    return found


def _kind(
    cells: dict[str, str],
    mix: Callable[[str], Mix],
    container: "Callable[[str], Container]",
    find: "Callable[[str], Material] | None",
) -> Kind:
    from friable.reference.plant_water import NO_PLANT, find_plant

    typed = cells.get("container", "")
    pot = container(typed)
    if given := cells.get("headspace"):
        pot = pot.with_headspace(bare_centimetres(given, _("headspace")))
    layer = None
    if given := cells.get("drainage_layer"):
        depth_cm, layer = read_layer(given, find)
        pot = pot.with_drainage_layer(depth_cm)
        layer = layer if depth_cm else None
    plant = cells.get("plant", "")
    return Kind(
        mix=mix(cells.get("mix", "")),
        container=pot,
        container_as_typed=" ".join(typed.split()),
        layer_material=layer,
        plant=find_plant(plain(plant, _("plant"), MAX_CELL) if plant else NO_PLANT),
        water_use=read_use(cells.get("water_use", "")),
        place=read_place(cells.get("place", "")),
        habit=read_habit(cells.get("watering", "")),
    )


def _group(cells: dict[str, str], kind: Kind) -> str:
    typed = cells.get("group", "")
    return " ".join(plain(typed, _("group"), MAX_CELL).split()) if typed else kind.mix.title
