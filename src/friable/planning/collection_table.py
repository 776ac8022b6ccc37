"""A collection as a table: rows under a header that names its columns, refusals by line number."""

import csv
import io
from collections.abc import Sequence

from friable.errors import BadFile, shown
from friable.wording import gettext as _

SEPARATORS = ("\t", ";", ",")
MOST_CHARACTERS = 4_000_000
MOST_LINES = 20_000
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


def table_rows(
    text: str, needed: Sequence[str], columns: Sequence[str]
) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Return the names of the columns, and each row with the number of its line.

    Parameters
    ----------
    text : str
        Columns in any order, set apart by commas, semicolons or tabs.
    needed : sequence of str
        Columns that must be there.
    columns : sequence of str
        All columns that are known.

    Raises
    ------
    BadFile
        If it is no table, has no such columns, or is too large.
    """
    if len(text) > MOST_CHARACTERS:
        raise BadFile(
            _("The collection has {count} characters; the most is {most}.").format(
                count=f"{len(text):,}", most=f"{MOST_CHARACTERS:,}"
            )
        )
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise BadFile(
            _("The collection is empty; its first line is {columns}.").format(columns=",".join(columns))
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
    _check_header(header, needed, columns)
    if len(numbered) == 1:
        raise BadFile(_("The collection has a header and no pots below it."))
    if len(numbered) > MOST_LINES + 1:
        raise BadFile(
            _("The collection has more than {most} lines; split it.").format(most=f"{MOST_LINES:,}")
        )
    return header, numbered[1:]


def too_many_cells(row: Sequence[str], header: Sequence[str]) -> str:
    """Return what is wrong with a row that has more than the header names; nothing if it has not."""
    if len(row) > len(header) and any(cell.strip() for cell in row[len(header) :]):
        return _("It has {count} cells under {columns} columns.").format(count=len(row), columns=len(header))
    return ""


def _check_header(header: list[str], needed: Sequence[str], columns: Sequence[str]) -> None:
    for name in needed:
        if name not in header:
            raise BadFile(
                _(
                    "The collection has no column “{name}”; its first line names the columns: {columns}."
                ).format(name=name, columns=", ".join(columns))
            )
    for name in header:
        if name not in columns:
            raise BadFile(
                _("The collection has a column “{name}”, which is not known; known are: {columns}.").format(
                    name=shown(name), columns=", ".join(columns)
                )
            )
        if header.count(name) > 1:
            raise BadFile(_("The collection has two columns “{name}”; keep one.").format(name=name))
