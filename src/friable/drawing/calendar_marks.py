"""Small marks of a calendar: a bar for a number, a hatched square for too wet, a dotted one for too dry.

There are hundreds of them on a page, so they hold no ids and no patterns; words stand beside each.
"""

from friable.drawing.ink import Ink
from friable.drawing.svg import add, opened, picture, written

BAR_WIDTH, BAR_HEIGHT = 64.0, 10.0
SWATCH_SIDE = 14.0
WET, DRY = "too wet", "too dry"


def bar_svg(share: float, low: float, high: float, ink: Ink) -> str:
    """Return a small bar with the range as a line across its middle. [shares of the largest value]"""
    root = picture(BAR_WIDTH, BAR_HEIGHT, aria_hidden="true", focusable="false", class_="calendar-bar")
    room = BAR_WIDTH - 2
    add(root, "path", class_="base", d=opened([(1, 0), (1, BAR_HEIGHT)]), stroke=ink.line, stroke_width=1)
    if share > 0:
        add(root, "rect", class_="bar", x=1, y=2, width=room * share, height=BAR_HEIGHT - 4, fill=ink.earth)
    if high > low:
        line = opened([(1 + room * low, BAR_HEIGHT / 2), (1 + room * high, BAR_HEIGHT / 2)])
        for colour, width in ((ink.paper, 3.0), (ink.line, 1.2)):
            add(root, "path", class_="range", d=line, stroke=colour, stroke_width=width)
    return written(root)


def swatch_svg(kind: str, ink: Ink) -> str:
    """Return a small square, hatched for too wet and dotted for too dry; it needs no id."""
    root = picture(SWATCH_SIDE, SWATCH_SIDE, aria_hidden="true", focusable="false", class_="calendar-swatch")
    side = SWATCH_SIDE - 1
    add(root, "rect", x=0.5, y=0.5, width=side, height=side, fill=ink.paper, stroke=ink.line, stroke_width=1)
    if kind == WET:
        lines = [((0.5, y), (y, 0.5)) for y in (5.0, 9.5, 13.5)]
        lines += [((x, 13.5), (13.5, x)) for x in (5.0, 9.5)]
        add(root, "path", d="".join(opened([a, b]) for a, b in lines), stroke=ink.line, stroke_width=1.8)
    else:
        for x, y in ((4, 4), (10, 4), (7, 7), (4, 10), (10, 10)):
            add(root, "circle", cx=x, cy=y, r=1.2, fill=ink.line)
    return written(root)
