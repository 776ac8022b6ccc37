"""Read a table; refuse a row without a source, and a material that cannot exist."""

import csv
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from friable.reference import plausible
from friable.reference.row import Row
from friable.reference.sources import TABLES, source
from friable.science.estimate import HOW_KNOWN
from friable.wording import gettext as _

# Units that may stand in a `unit` column.
UNITS = frozenset(
    {
        "%", "% of pores", "% of particle", "% of volume", "fraction", "ratio", "s", "h", "mm", "cm", "cm/h",
        "g/cm3", "L", "kg/m3", "g/m3", "lb/yd3", "oz per 8 imp gal", "tablespoon per US gal",
    }
)  # fmt: skip


def read_table(name: str, folder: Path = TABLES) -> list[Row]:
    """Return the rows of `tables/NAME.csv`, each checked.

    Parameters
    ----------
    name : str
        Name of the table, without `.csv`.
    folder : Path, optional
        Where the tables and `sources.toml` lie; the package's own by default.

    Raises
    ------
    LookupError
        Names the file and line of the first row that has too few or too many cells, no source or an unknown
        one, an unknown `how_known` or unit, or that describes a material which cannot exist.
    """
    return list(_checked_table(name, folder))


@cache
def _checked_table(name: str, folder: Path) -> tuple[Row, ...]:
    rows = tuple(_rows(name, folder))
    for row in rows:
        _refuse_unsourced(row, folder)
        if row.has("unit") and row["unit"] not in UNITS:
            raise row.refused(_("unknown unit “{unit}”").format(unit=row["unit"]))
    if name == "materials":
        for row in rows:
            plausible.refuse_impossible_material(row)
    elif name == "retention":
        figures = {row["key"]: row for row in _checked_table("materials", folder)}
        for row in rows:
            plausible.refuse_impossible_curve(row, figures.get(row["key"]))
    return rows


def _rows(name: str, folder: Path) -> Iterator[Row]:
    path = folder / f"{name}.csv"
    if not path.is_file():
        raise LookupError(_("There is no table {name}.csv.").format(name=name))
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        header = next(reader, [])
        if not header or len(set(header)) != len(header):
            raise Row(name, 1, {}).refused(_("the header is missing or names a column twice"))
        for cells in reader:
            row = Row(
                name, reader.line_num, dict(zip(header, (cell.strip() for cell in cells), strict=False))
            )
            if len(cells) != len(header):
                raise row.refused(
                    _("{cells} cells, but the header has {columns}").format(
                        cells=len(cells), columns=len(header)
                    )
                )
            yield row


def _refuse_unsourced(row: Row, folder: Path) -> None:
    origins = [c for c in row.cells if c == "source" or c.endswith("_source")]
    if not origins:
        raise row.refused(_("no source"))
    for column in origins:
        how_known = row[f"{column.removesuffix('source')}how_known"]
        if problem := _unsourced(row.list(column), how_known, folder):
            raise row.refused(problem)


@cache
def _unsourced(keys: tuple[str, ...], how_known: str, folder: Path) -> str:
    """Say what is wrong with the sources of a figure and how it is known; nothing if all is well."""
    if not keys:
        return _("no source")
    kinds = set()
    for key in keys:
        try:
            kinds.add(source(key, folder).kind)
        except LookupError:
            return _("unknown source “{key}”").format(key=key)
    if how_known not in HOW_KNOWN:
        return _("how_known is “{word}”; it must be one of: {words}").format(
            word=how_known, words=", ".join(HOW_KNOWN)
        )
    if how_known in ("published", "measured") and "published" not in kinds:
        return _("“{word}” needs a source that was read").format(word=how_known)
    return ""
