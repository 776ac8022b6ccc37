"""One line of a table, and the refusal that names it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from friable.wording import gettext as _


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: its cells as text, and where it stands.

    `line` counts as a text editor does: the header is line 1.
    """

    table: str
    line: int
    cells: Mapping[str, str]

    def refused(self, problem: str) -> LookupError:
        """Return the refusal of this row: file, line, what is wrong."""
        return LookupError(
            _("{table}.csv line {line}: {problem}.").format(table=self.table, line=self.line, problem=problem)
        )

    def __getitem__(self, column: str) -> str:
        return self.text(column)

    def has(self, column: str) -> bool:
        """Say whether the table has this column and the cell is filled."""
        return bool(self.cells.get(column))

    def text(self, column: str) -> str:
        """Return a cell; an empty one is an empty string.

        Raises
        ------
        LookupError
            If the table has no such column.
        """
        try:
            return self.cells[column]
        except KeyError:
            raise self.refused(_("there is no column {column}").format(column=column)) from None

    def number(self, column: str) -> float:
        """Return a cell as a number, in the unit that the column name or the unit column states.

        Raises
        ------
        LookupError
            If the cell is empty, or is not a finite number.
        """
        text = self.text(column)
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            raise self.refused(
                _("{column} is “{text}”; it must be a number").format(column=column, text=text)
            )
        return value

    def maybe(self, column: str) -> float | None:
        """Return a cell as a number, or None where it is empty (not measured)."""
        return self.number(column) if self.text(column) else None

    def list(self, column: str) -> tuple[str, ...]:
        """Return the entries of a cell that are parted by semicolons."""
        return tuple(part.strip() for part in self.text(column).split(";") if part.strip())
