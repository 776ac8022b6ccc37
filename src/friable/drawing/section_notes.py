"""The words on a pot section: what is named, and where the words stand."""

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing.ink import TYPE_SIZE, Ink
from friable.drawing.legible import wrapped
from friable.drawing.svg import Point, add, closed, opened

LINE = 18.0
BETWEEN = 7.0
SWATCH = 26.0


@dataclass(frozen=True, slots=True)
class Note:
    """Words about one thing; `kind` picks the swatch, `anchor` is the place it points to."""

    kind: str
    text: str
    anchor: Point | None = None
    bold: bool = False


@dataclass(frozen=True, slots=True)
class _Placed:
    note: Note
    lines: tuple[str, ...]

    @property
    def height(self) -> float:
        return LINE * len(self.lines)


def side_height(notes: Sequence[Note], width: float) -> float:
    """Return how high a column of notes is. [px]"""
    placed = [_fit(n, width) for n in notes]
    return sum(p.height for p in placed) + BETWEEN * max(0, len(placed) - 1)


def draw_beside(
    parent: ET.Element, notes: Sequence[Note], left: float, width: float, top: float, bottom: float, ink: Ink
) -> None:
    """Write notes in a column, each near the height it speaks of, with a line leading there."""
    placed = sorted(
        (_fit(n, width) for n in notes), key=lambda p: p.note.anchor[1] if p.note.anchor else bottom
    )
    for item, y in zip(placed, _spread(placed, top, bottom), strict=True):
        if item.note.anchor:
            _lead(parent, item.note.anchor, (left - 6, y + LINE / 2), ink)
        _write(parent, item, left, y, ink)


def below_height(notes: Sequence[Note], width: float) -> float:
    """Return how high the notes are when they stand under the section. [px]"""
    return _rows(notes, 0.0, 0.0, width)[1]


def draw_below(
    parent: ET.Element, notes: Sequence[Note], left: float, top: float, width: float, ink: Ink, key: str
) -> None:
    """Write notes under the section, each with a swatch of what it names."""
    for item, x, y in _rows(notes, left, top, width)[0]:
        draw_swatch(parent, item.note.kind, x, y + 1, ink, key)
        _write(parent, item, x + SWATCH + 8, y, ink)


def draw_swatch(parent: ET.Element, kind: str, x: float, y: float, ink: Ink, key: str) -> None:
    """Draw a sample of a pattern or line."""
    height = 15.0
    box = closed([(x, y), (x + SWATCH, y), (x + SWATCH, y + height), (x, y + height)])
    middle = opened([(x, y + height / 2), (x + SWATCH, y + height / 2)])
    if kind in ("solid", "water", "stones", "wet"):
        add(parent, "path", d=box, fill=f"url(#{key}-{kind})", stroke=ink.line, stroke_width=1)
    elif kind == "air":
        add(parent, "path", d=box, fill=ink.paper, stroke=ink.line, stroke_width=1)
    elif kind == "root":
        add(parent, "path", d=box, fill="none", stroke=ink.line, stroke_width=2.2, stroke_dasharray="6 4")
    elif kind == "fill":
        add(parent, "path", d=middle, stroke=ink.line, stroke_width=2.4)
    elif kind == "range":
        add(
            parent,
            "path",
            d=middle,
            stroke=ink.line,
            stroke_width=2,
            stroke_dasharray="0.1 4",
            stroke_linecap="round",
        )
    elif kind == "headspace":
        posts = f"M{x + 4} {y}V{y + height}M{x + SWATCH - 4} {y}V{y + height}"
        add(parent, "path", d=posts, stroke=ink.line, stroke_width=2.4)
    else:
        add(parent, "circle", cx=x + SWATCH / 2, cy=y + height / 2, r=2.5, fill=ink.line)


def _fit(note: Note, width: float) -> _Placed:
    wide = 1.06 if note.bold else 1.0
    return _Placed(note, tuple(wrapped(note.text, TYPE_SIZE * wide, width)))


def _spread(placed: Sequence[_Placed], top: float, bottom: float) -> list[float]:
    starts: list[float] = []
    free = top
    for item in placed:
        wanted = (item.note.anchor[1] - LINE / 2) if item.note.anchor else free
        starts.append(max(wanted, free))
        free = starts[-1] + item.height + BETWEEN
    limit = bottom
    for index in range(len(placed) - 1, -1, -1):
        starts[index] = min(starts[index], limit - placed[index].height)
        limit = starts[index] - BETWEEN
    return starts


def _rows(
    notes: Sequence[Note], left: float, top: float, width: float
) -> tuple[list[tuple[_Placed, float, float]], float]:
    columns = 2 if width >= 520 else 1
    column = (width - 24 * (columns - 1)) / columns
    made: list[tuple[_Placed, float, float]] = []
    y = top
    for start in range(0, len(notes), columns):
        row = [_fit(n, column - SWATCH - 8) for n in notes[start : start + columns]]
        made += [(item, left + index * (column + 24), y) for index, item in enumerate(row)]
        y += max(item.height for item in row) + BETWEEN
    return made, y - top


def _lead(parent: ET.Element, anchor: Point, end: Point, ink: Ink) -> None:
    line = opened([anchor, (end[0] - 12, end[1]), end])
    add(parent, "path", class_="halo", d=line, fill="none", stroke=ink.paper, stroke_width=4)
    add(parent, "path", class_="leader", d=line, fill="none", stroke=ink.line, stroke_width=1.1)
    add(parent, "circle", cx=anchor[0], cy=anchor[1], r=3, fill=ink.line, stroke=ink.paper, stroke_width=1)


def _write(parent: ET.Element, item: _Placed, x: float, y: float, ink: Ink) -> None:
    text = add(
        parent, "text", x=x, y=y + 13.5, fill=ink.line, font_size=TYPE_SIZE, class_=f"note {item.note.kind}"
    )
    if item.note.bold:
        text.set("font-weight", "bold")
    for index, line in enumerate(item.lines):
        add(text, "tspan", line, x=x, y=y + 13.5 + LINE * index)
