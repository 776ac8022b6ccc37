"""The table in a logger's file: header, rows, and what stands in a cell."""

import csv
import io
import math
import re

from friable.errors import BadFile
from friable.wording import gettext as _

MOST_CHARACTERS = 9_000_000  # a year of readings every five minutes has about four million
LOOKED_FOR_HEADER = 40  # lines of preamble some loggers write
SEPARATORS = ("\t", ";", ",")
NOTHING = {"", "-", "--", "---", "nan", "n/a", "na", "#n/a", "null", "none", "err", "error", "ovf", "inv"}
NUMBER = re.compile(r"([-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?)\s*(?:°\s*[CF]|%|[A-Za-z%°/²0-9]{0,8})?")
Rows = list[tuple[int, list[str]]]


def table_of(text: str) -> tuple[list[str], Rows]:
    """Return the header of a logger's file and the rows below it, each with its line number.

    Raises
    ------
    BadFile
        If it is no table with a header.
    """
    if len(text) > MOST_CHARACTERS:
        raise BadFile(
            _("The weather file has {count} characters; the most is {most}. Give one year.").format(
                count=f"{len(text):,}", most=f"{MOST_CHARACTERS:,}"
            )
        )
    if not text.strip():
        raise BadFile(_("The weather file is empty; give a table with time, temperature and humidity."))
    if "\0" in text:
        raise BadFile(_("The weather file is not text; save it as CSV."))
    text = text.removeprefix("\ufeff")
    first = [line for line in text[:20_000].splitlines()[:LOOKED_FOR_HEADER] if line.strip()]
    separator = next(
        (mark for mark in SEPARATORS if sum(mark in line for line in first) * 2 >= len(first)), ","
    )
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        rows = [
            (reader.line_num, [cell.strip() for cell in row]) for row in reader if any(map(str.strip, row))
        ]
    except csv.Error:
        raise BadFile(_("The weather file cannot be read as a table; save it as CSV again.")) from None
    for place, (_line, cells) in enumerate(rows[:LOOKED_FOR_HEADER]):
        below = rows[place + 1][1] if place + 1 < len(rows) else []
        if _is_header(cells, below):
            return _told_apart(cells), rows[place + 1 :]
    raise BadFile(_("The weather file has no header above its readings; its first line names the columns."))


def _is_header(cells: list[str], below: list[str]) -> bool:
    names = [cell for cell in cells if cell]
    return (
        len(names) >= 2
        and not any(re.match(r"[-+]?[\d.,:/-]+$", cell) for cell in names)
        and len(below) >= 2
        and any(re.match(r"[-+]?\d", cell) for cell in below)
    )


def _told_apart(cells: list[str]) -> list[str]:
    """Headers, numbered where two are alike or one is empty."""
    header: list[str] = []
    for place, cell in enumerate(cells, start=1):
        name = cell or _("column {number}").format(number=place)
        header.append(name if name not in header else f"{name} ({place})")
    return header


def number_in(cell: str) -> float | None:
    """Return a reading, nan where there is none, None where the cell cannot be read."""
    if cell.casefold() in NOTHING:
        return math.nan
    match = NUMBER.fullmatch(cell)
    return None if match is None else float(match[1].replace(",", "."))
