"""A collection as a spreadsheet saves it: one line for so many pots alike."""

import csv
import io
import re
from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from friable.errors import BadFile, FriableError, shown
from friable.planning.collection_cells import read_habit, read_layer, read_mix, read_place, read_use
from friable.planning.collection_values import Collection, CollectionLine, Kind, Mix
from friable.planning.container_text import parse_container
from friable.planning.typed_text import MAX_CELL, plain
from friable.planning.units_in import centimetres, count
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material
    from friable.science.containers import Container

NEEDED = ("mix", "container", "count")
COLUMNS = (
    "group", *NEEDED, "plant", "water_use", "place", "watering", "headspace", "drainage_layer",
)  # fmt: skip
SEPARATORS = ("\t", ";", ",")
MOST_CHARACTERS = 4_000_000
MOST_LINES = 20_000
MOST_KINDS = 2_000
MOST_GROUPS = 500
MOST_POTS = 10_000_000
SENTENCES_SHOWN = 5


class LinesRefused(BadFile):
    """A collection with lines that cannot be read; `sentences` has one for each, with its number."""

    def __init__(self, sentences: list[tuple[int, str]]) -> None:
        self.sentences = tuple(sentences)
        said = [
            _("Line {line} of the collection: {problem}").format(line=line, problem=problem)
            for line, problem in sentences[:SENTENCES_SHOWN]
        ]
        if len(sentences) > SENTENCES_SHOWN:
            said.append(
                _("{count} more lines cannot be read.").format(count=len(sentences) - SENTENCES_SHOWN)
            )
        super().__init__(" ".join(said))


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
    header, rows = _rows(text)

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
        if len(row) > len(header) and any(cell.strip() for cell in row[len(header) :]):
            refused.append(
                (
                    number,
                    _("It has {count} cells under {columns} columns.").format(
                        count=len(row), columns=len(header)
                    ),
                )
            )
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


def _rows(text: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    if len(text) > MOST_CHARACTERS:
        raise BadFile(
            _("The collection has {count} characters; the most is {most}.").format(
                count=f"{len(text):,}", most=f"{MOST_CHARACTERS:,}"
            )
        )
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise BadFile(
            _("The collection is empty; its first line is {columns}.").format(columns=",".join(COLUMNS))
        )
    if "\0" in text:
        raise BadFile(_("The collection is not text; save it as CSV."))
    first = text.lstrip("\r\n").splitlines()[0]
    separator = max(SEPARATORS, key=lambda mark: (first.count(mark), mark == ","))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    numbered: list[tuple[int, list[str]]] = []
    began = 1
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                numbered.append((began, row))
            began = reader.line_num + 1
    except csv.Error:
        raise BadFile(_("The collection cannot be read as a table; save it as CSV again.")) from None
    header = [cell.strip().casefold().replace(" ", "_") for cell in numbered[0][1]]
    while header and not header[-1]:  # columns that a spreadsheet left empty
        header.pop()
    _check_header(header)
    if len(numbered) == 1:
        raise BadFile(_("The collection has a header and no pots below it."))
    if len(numbered) > MOST_LINES + 1:
        raise BadFile(
            _("The collection has more than {most} lines; split it.").format(most=f"{MOST_LINES:,}")
        )
    return header, numbered[1:]


def _check_header(header: list[str]) -> None:
    for name in NEEDED:
        if name not in header:
            raise BadFile(
                _(
                    "The collection has no column “{name}”; its first line names the columns: {columns}."
                ).format(name=name, columns=", ".join(COLUMNS))
            )
    for name in header:
        if name not in COLUMNS:
            raise BadFile(
                _("The collection has a column “{name}”, which is not known; known are: {columns}.").format(
                    name=shown(name), columns=", ".join(COLUMNS)
                )
            )
        if header.count(name) > 1:
            raise BadFile(_("The collection has two columns “{name}”; keep one.").format(name=name))


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
        pot = pot.with_headspace(_bare_centimetres(given, _("headspace")))
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


def _bare_centimetres(text: str, what: str) -> float:
    """A number alone is in cm, as the column says."""
    return centimetres(f"{text} cm" if re.fullmatch(r"[0-9.,]+", text) else text, what).value


def _group(cells: dict[str, str], kind: Kind) -> str:
    typed = cells.get("group", "")
    return " ".join(plain(typed, _("group"), MAX_CELL).split()) if typed else kind.mix.title
