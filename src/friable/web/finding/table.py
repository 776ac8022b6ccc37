"""A table of recipes: sorted by links, filtered by a word, some ticked to stand side by side."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict

MOST_SIDE_BY_SIDE = 4
NUMBER = 6  # digits of a number that is read from an address


@dataclass(frozen=True, slots=True)
class Column:
    """A column that can be sorted by: key in addresses, title, and the number of a row; None sorts last."""

    key: str
    title: str
    figure: Callable[[Any], float | None]
    high_first: bool = False


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a column: where it leads, and how the table is sorted by it now."""

    title: str
    address: str
    sorted: str  # as `aria-sort` has it; empty: by another column


@dataclass(frozen=True, slots=True)
class Row:
    """One recipe with its place among all as they were found, from 1."""

    number: int
    item: Any
    ticked: bool


class RecipeTable:
    """The rows that are shown, in their order."""

    def __init__(
        self,
        items: Sequence[Any],
        columns: Sequence[Column],
        asked: QueryDict,
        words: Callable[[Any], str],
    ) -> None:
        self.word = asked.get("word", "").strip()
        ticked = [int(text) for text in asked.getlist("tick") if text.isdecimal() and len(text) < NUMBER]
        every = [Row(number, item, number in ticked) for number, item in enumerate(items, start=1)]
        ticked_rows = [row for row in every if row.ticked]
        self.side_by_side = ticked_rows[:MOST_SIDE_BY_SIDE]
        self.too_many = len(ticked_rows) > MOST_SIDE_BY_SIDE
        self.count = len(every)
        self._asked, self._columns = asked, columns
        self.sort = asked.get("sort", "")
        self.rows = self._sorted([row for row in every if self._has_word(words(row.item))])

    def _has_word(self, text: str) -> bool:
        return all(word in text.casefold() for word in self.word.casefold().split())

    def _sorted(self, rows: list[Row]) -> list[Row]:
        column = self._by
        if column is None:
            return rows
        known = [row for row in rows if column.figure(row.item) is not None]
        known.sort(key=lambda row: column.figure(row.item), reverse=column.high_first != self._turned)
        return [*known, *(row for row in rows if column.figure(row.item) is None)]

    @property
    def _turned(self) -> bool:
        return self.sort.startswith("-")

    @property
    def _by(self) -> Column | None:
        return next((column for column in self._columns if column.key == self.sort.removeprefix("-")), None)

    @property
    def heads(self) -> dict[str, Head]:
        """The heads of the columns by their keys; a second click turns the order."""
        return {column.key: self._head(column) for column in self._columns}

    def _head(self, column: Column) -> Head:
        if column is not self._by:
            return Head(column.title, self._address(column.key), "")
        downwards = column.high_first != self._turned
        turned = column.key if self._turned else f"-{column.key}"
        return Head(column.title, self._address(turned), "descending" if downwards else "ascending")

    def _address(self, sort: str) -> str:
        kept = QueryDict(mutable=True)
        kept["sort"] = sort
        if self.word:
            kept["word"] = self.word
        if ticked := self._asked.getlist("tick"):
            kept.setlist("tick", ticked)
        return f"?{kept.urlencode()}#recipes"
