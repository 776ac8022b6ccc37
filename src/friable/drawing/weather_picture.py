"""Weather at a glance: temperature, humidity, and what a wet surface loses, by the day or by the week."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing.ink import COLOURED, SMALL_TYPE_SIZE, TYPE_SIZE, TYPEFACE
from friable.drawing.legible import plain_text
from friable.drawing.svg import Point, add, number, opened, picture, written
from friable.errors import BadQuantity
from friable.wording import gettext as _

WIDTH = 880.0
LEFT, RIGHT, TOP = 52.0, 12.0, 26.0
PANEL, BETWEEN = 104.0, 40.0
MOST_SPELLS = 400
STEPS = (1, 2, 5, 10, 20, 25, 50, 100)
MOST_LINES = 4
LEAST_BETWEEN_NAMES = 46.0


@dataclass(frozen=True, slots=True)
class Spell:
    """One day or one week of weather."""

    begins: date
    coldest_c: float
    mean_c: float
    warmest_c: float
    relative_humidity: float  # share of 1
    reference_mm: float  # a day


@dataclass(frozen=True, slots=True)
class _Panel:
    top: float
    low: float
    high: float

    def y(self, value: float) -> float:
        return self.top + PANEL * (1 - (value - self.low) / (self.high - self.low))


def weather_picture_svg(spells: Sequence[Spell], *, title: str) -> str:
    """Return three panels above one line of time.

    Parameters
    ----------
    spells : sequence of Spell
        Days or weeks in their order, from 1 to 400.
    title : str
        Name of the drawing, for screen readers.

    Returns
    -------
    str
        One `svg` element without style attributes, style elements and scripts.

    Raises
    ------
    BadQuantity
        If there are none, or too many to be told apart.
    """
    if not 1 <= len(spells) <= MOST_SPELLS:
        raise BadQuantity(_("days or weeks in a picture"), len(spells), "", _("from 1 to 400"))
    height = TOP + 3 * PANEL + 3 * BETWEEN
    root = picture(WIDTH, height, role="img", aria_label=plain_text(title, 200), font_family=TYPEFACE)
    step = (WIDTH - LEFT - RIGHT) / len(spells)
    middles = [LEFT + step * (place + 0.5) for place in range(len(spells))]
    tops = [TOP + place * (PANEL + BETWEEN) for place in range(3)]

    low, high = min(one.coldest_c for one in spells), max(one.warmest_c for one in spells)
    panel = _panel(root, tops[0], low, high, _("Temperature, °C: lowest, mean, highest"))
    for x, one in zip(middles, spells, strict=True):
        add(
            root,
            "line",
            x1=x,
            x2=x,
            y1=panel.y(one.coldest_c),
            y2=panel.y(one.warmest_c),
            stroke=COLOURED.earth_pale,
            stroke_width=max(1.5, step * 0.7),
        )
    _line(root, [(x, panel.y(one.mean_c)) for x, one in zip(middles, spells, strict=True)], COLOURED.earth)

    panel = _panel(root, tops[1], 0.0, 100.0, _("Humidity, %: mean"))
    points = [(x, panel.y(100 * one.relative_humidity)) for x, one in zip(middles, spells, strict=True)]
    _line(root, points, COLOURED.line)

    most = max(one.reference_mm for one in spells)
    panel = _panel(root, tops[2], 0.0, max(most, 0.5), _("A wet surface loses, mm a day"))
    for x, one in zip(middles, spells, strict=True):
        add(
            root,
            "rect",
            x=x - max(0.75, step * 0.35),
            y=panel.y(one.reference_mm),
            width=max(1.5, step * 0.7),
            height=max(0.0, panel.y(0.0) - panel.y(one.reference_mm)),
            fill=COLOURED.leaf,
        )
    _names(root, spells, middles, step, height)
    return written(root)


def _panel(root: ET.Element, top: float, low: float, high: float, words: str) -> _Panel:
    """Draw the frame of a panel: its words, and lines at round values."""
    span = max(high - low, 1e-9)
    step = next((step for step in STEPS if span / step <= MOST_LINES), STEPS[-1])
    if span <= 1:
        step = 0
    first, last = (low, high) if not step else (step * (low // step), -step * (-high // step))
    if last <= first:
        last = first + max(step, 1)
    panel = _Panel(top, first, last)
    add(root, "text", words, x=0.0, y=top - 9, font_size=TYPE_SIZE, fill=COLOURED.line)
    count = round((last - first) / step) if step else 1
    for place in range(count + 1):
        value = first + place * (last - first) / count
        y = panel.y(value)
        add(root, "line", x1=LEFT, x2=WIDTH - RIGHT, y1=y, y2=y, stroke="#d6d2c6", stroke_width=1)
        add(
            root,
            "text",
            f"{value:.3g}",
            x=LEFT - 8,
            y=y + 5,
            text_anchor="end",
            font_size=SMALL_TYPE_SIZE,
            fill=COLOURED.line,
        )
    return panel


def _line(root: ET.Element, points: list[Point], colour: str) -> None:
    if len(points) == 1:
        add(root, "circle", cx=points[0][0], cy=points[0][1], r=3.0, fill=colour)
        return
    add(root, "path", d=opened(points), fill="none", stroke=colour, stroke_width=2)


def _names(
    root: ET.Element, spells: Sequence[Spell], middles: list[float], step: float, height: float
) -> None:
    """Write the months where they begin, or the days where there are few."""
    days = (spells[-1].begins - spells[0].begins).days
    room = -LEAST_BETWEEN_NAMES
    month = None
    for x, one in zip(middles, spells, strict=True):
        by_month = days > 45
        begins = month != one.begins.month if by_month else True
        month = one.begins.month
        if not begins or x - room < LEAST_BETWEEN_NAMES:
            continue
        room = x
        name = short_months()[one.begins.month - 1]
        words = name if by_month else _("{day} {month}").format(day=one.begins.day, month=name)
        add(
            root,
            "text",
            words,
            x=float(number(max(LEFT, x - step / 2))),
            y=height - BETWEEN + 22,
            font_size=SMALL_TYPE_SIZE,
            fill=COLOURED.line,
        )


def short_months() -> tuple[str, ...]:
    """Return the months by their short names, January first."""
    return (
        _("Jan"), _("Feb"), _("Mar"), _("Apr"), _("May"), _("Jun"),
        _("Jul"), _("Aug"), _("Sep"), _("Oct"), _("Nov"), _("Dec"),
    )  # fmt: skip
