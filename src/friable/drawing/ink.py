"""Colours and patterns of our drawings: each meaning has a pattern of its own, colour only helps."""

from dataclasses import dataclass
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing.svg import add

TYPE_SIZE = 14.0
SMALL_TYPE_SIZE = 13.0
TYPEFACE = "'Atkinson Hyperlegible Next', 'Atkinson Hyperlegible', sans-serif"


@dataclass(frozen=True, slots=True)
class Ink:
    """One set of colours."""

    line: str
    paper: str
    earth: str
    earth_pale: str
    leaf: str
    leaf_pale: str


COLOURED = Ink(
    line="#1c1b17",
    paper="#ffffff",
    earth="#7a4b26",
    earth_pale="#eadccd",
    leaf="#2f6b45",
    leaf_pale="#d9eadb",
)
BLACK_AND_WHITE = Ink(
    line="#000000",
    paper="#ffffff",
    earth="#000000",
    earth_pale="#ffffff",
    leaf="#000000",
    leaf_pale="#ffffff",
)


def add_patterns(parent: ET.Element, ink: Ink, key: str) -> None:
    """Define the patterns `KEY-solid`, `KEY-water`, `KEY-wet` and `KEY-stones`."""
    defs = add(parent, "defs")
    _solid(_tile(defs, f"{key}-solid", 7, 7), ink)
    _water(_tile(defs, f"{key}-water", 14, 8), ink)
    wet = _tile(defs, f"{key}-wet", 9, 9)
    wet.set("patternTransform", "rotate(45)")
    add(wet, "path", d="M0 0V9", stroke=ink.line, stroke_width=2.4)
    _stones(_tile(defs, f"{key}-stones", 26, 20), ink)


def _tile(defs: ET.Element, name: str, width: float, height: float) -> ET.Element:
    return add(defs, "pattern", id=name, width=width, height=height, patternUnits="userSpaceOnUse")


def _solid(tile: ET.Element, ink: Ink) -> None:
    add(tile, "rect", width=7, height=7, fill=ink.earth_pale)
    for x, y in ((1.8, 1.8), (5.3, 5.3)):
        add(tile, "circle", cx=x, cy=y, r=1.35, fill=ink.earth)


def _water(tile: ET.Element, ink: Ink) -> None:
    add(tile, "rect", width=14, height=8, fill=ink.leaf_pale)
    add(tile, "path", d="M0 4q3.5 -3 7 0t7 0", fill="none", stroke=ink.leaf, stroke_width=1)


def _stones(tile: ET.Element, ink: Ink) -> None:
    add(tile, "rect", width=26, height=20, fill=ink.paper)
    for x, y, across, down in (
        (7, 5.5, 5.6, 3.9),
        (19.5, 4.5, 4.8, 3.2),
        (13.5, 15, 6, 3.9),
        (1, 15, 4.4, 3.4),
        (27, 15, 4.4, 3.4),
    ):
        add(
            tile,
            "ellipse",
            cx=x,
            cy=y,
            rx=across,
            ry=down,
            fill=ink.earth_pale,
            stroke=ink.line,
            stroke_width=1.3,
        )
