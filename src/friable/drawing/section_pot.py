"""The pot itself: walls, medium, wet zone, drainage layer, root ball, heights and scale bar."""

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing.ink import SMALL_TYPE_SIZE, Ink
from friable.drawing.legible import figure
from friable.drawing.section_shape import Level, cut, inside_width_cm, root_ball_outline
from friable.drawing.svg import Point, add, closed, opened
from friable.science.containers import Container
from friable.wording import gettext as _

WALL = 3.0
LIP = 9.0
STEPS_CM = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the section stands on the drawing: one scale for both directions. [px, px/cm]"""

    scale: float
    middle: float
    floor: float
    axis: float

    def at(self, from_middle_cm: float, height_cm: float) -> Point:
        """Return the place of a point given in centimetres from the middle and above the floor."""
        return self.middle + from_middle_cm * self.scale, self.floor - height_cm * self.scale


def draw_medium(parent: ET.Element, frame: Frame, medium: Sequence[Level], ink: Ink, key: str) -> None:
    """Draw solid at the walls, water beside it and air in the middle, each as its share of the width."""
    group = add(parent, "g", class_="medium")
    solid = [m.solid for m in medium]
    wetted = [m.solid + m.water for m in medium]
    nothing = [0.0] * len(medium)
    full = [1.0] * len(medium)
    for name, outer, inner, fill in (
        ("solid", nothing, solid, f"url(#{key}-solid)"),
        ("water", solid, wetted, f"url(#{key}-water)"),
        ("air", wetted, full, ink.paper),
    ):
        sides = [closed(_band(frame, medium, outer, inner, side)) for side in (-1, 1)]
        add(group, "path", class_=name, d="".join(sides), fill=fill)
    for side in (-1, 1):
        edge = [frame.at(side * m.width_cm / 2 * m.air, m.height_cm) for m in medium]
        add(group, "path", class_="edge", d=opened(edge), fill="none", stroke=ink.line, stroke_width=1.6)
        edge = [frame.at(side * m.width_cm / 2 * (1 - m.solid), m.height_cm) for m in medium]
        add(group, "path", class_="edge", d=opened(edge), fill="none", stroke=ink.line, stroke_width=0.8)


def draw_range(parent: ET.Element, frame: Frame, medium: Sequence[Level], ink: Ink) -> None:
    """Dot the edges between which the air may reach, given the range of the water."""
    for share in ([_air_at(m, m.water_high) for m in medium], [_air_at(m, m.water_low) for m in medium]):
        for side in (-1, 1):
            points = [
                frame.at(side * m.width_cm / 2 * s, m.height_cm) for m, s in zip(medium, share, strict=True)
            ]
            add(
                parent,
                "path",
                class_="range",
                d=opened(points),
                fill="none",
                stroke=ink.line,
                stroke_width=1.4,
                stroke_dasharray="0.1 4",
                stroke_linecap="round",
            )


def draw_wet_zones(
    parent: ET.Element,
    frame: Frame,
    medium: Sequence[Level],
    zones: Sequence[tuple[float, float]],
    ink: Ink,
    key: str,
) -> None:
    """Hatch the stretches that stay wet, over the whole width."""
    for low_cm, high_cm in zones:
        part = cut(medium, low_cm, high_cm)
        outline = [frame.at(-m.width_cm / 2, m.height_cm) for m in part]
        outline += [frame.at(m.width_cm / 2, m.height_cm) for m in reversed(part)]
        add(parent, "path", class_="wet", d=closed(outline), fill=f"url(#{key}-wet)")
        top = [frame.at(side * part[-1].width_cm / 2, high_cm) for side in (-1, 1)]
        add(parent, "path", class_="wet-top", d=opened(top), stroke=ink.line, stroke_width=2.4)


def draw_layer(parent: ET.Element, frame: Frame, container: Container, ink: Ink, key: str) -> None:
    """Draw the drainage layer as stones, with a line on top."""
    top_cm = container.drainage_layer_cm
    low, high = inside_width_cm(container, 0) / 2, inside_width_cm(container, top_cm) / 2
    outline = [frame.at(-low, 0), frame.at(-high, top_cm), frame.at(high, top_cm), frame.at(low, 0)]
    add(parent, "path", class_="layer", d=closed(outline), fill=f"url(#{key}-stones)")
    add(parent, "path", d=opened(outline[1:3]), stroke=ink.line, stroke_width=2)


def draw_root_ball(
    parent: ET.Element, frame: Frame, root_ball: Container, container: Container, ink: Ink
) -> None:
    """Outline the root ball, its top at the fill line."""
    bottom, top, bottom_width, top_width = root_ball_outline(root_ball, container.fill_height_cm)
    outline = [
        frame.at(-top_width / 2, top),
        frame.at(-bottom_width / 2, bottom),
        frame.at(bottom_width / 2, bottom),
        frame.at(top_width / 2, top),
    ]
    for colour, width, dash in ((ink.paper, 6.0, ""), (ink.line, 2.6, "9 5")):
        path = add(parent, "path", d=opened(outline), fill="none", stroke=colour, stroke_width=width)
        path.set("class", "root-ball" if dash else "halo")
        if dash:
            path.set("stroke-dasharray", dash)


def draw_walls(parent: ET.Element, frame: Frame, container: Container, ink: Ink) -> None:
    """Draw the walls outside the inside measures, with holes in the floor and a rim by shape."""
    height = container.height_cm
    low, high = inside_width_cm(container, 0) / 2, inside_width_cm(container, height) / 2
    half = WALL / 2
    for side in (-1, 1):
        (x0, y0), (x1, y1) = frame.at(side * low, 0), frame.at(side * high, height)
        foot, rim = (x0 + side * half, y0 + half), (x1 + side * half, y1)
        wall = add(parent, "path", class_="wall", d=opened([foot, rim]), stroke=ink.line, stroke_width=WALL)
        if container.shape == "basket":
            wall.set("stroke-dasharray", "10 5")
        beyond = 2 * LIP if container.shape == "cell" else LIP
        lip = [(x1, y1), (x1 + side * beyond, y1)]
        if container.shape in ("square", "tray"):
            lip.append((x1 + side * beyond, y1 + LIP))
        add(parent, "path", class_="wall", d=opened(lip), fill="none", stroke=ink.line, stroke_width=WALL)
    _draw_floor(parent, frame, container, ink)


def draw_fill_line(parent: ET.Element, frame: Frame, container: Container, ink: Ink) -> None:
    """Draw the line to which the container is filled."""
    half = inside_width_cm(container, container.fill_height_cm) / 2
    points = [frame.at(side * half, container.fill_height_cm) for side in (-1, 1)]
    add(parent, "path", class_="fill-line", d=opened(points), stroke=ink.line, stroke_width=2.4)


def draw_heights(parent: ET.Element, frame: Frame, container: Container, ink: Ink) -> None:
    """Mark heights above the floor along the left side. [cm]"""
    group = add(parent, "g", class_="heights", fill=ink.line, stroke="none", font_size=SMALL_TYPE_SIZE)
    step = step_cm(frame.scale, 22)
    top = frame.at(0, container.height_cm)[1]
    add(
        group,
        "path",
        d=opened([(frame.axis, frame.floor), (frame.axis, top)]),
        stroke=ink.line,
        stroke_width=1,
    )
    for count in range(int(container.height_cm / step + 1e-9) + 1):
        y = frame.at(0, count * step)[1]
        add(group, "path", d=opened([(frame.axis - 6, y), (frame.axis, y)]), stroke=ink.line, stroke_width=1)
        add(group, "text", figure(count * step), x=frame.axis - 9, y=y + 4.5, text_anchor="end")
    add(group, "text", _("cm"), x=frame.axis - 9, y=top - 12, text_anchor="end")


def draw_scale_bar(parent: ET.Element, frame: Frame, below: float, ink: Ink) -> None:
    """Draw a bar of a round length under the section. [cm]"""
    length_cm = step_cm(frame.scale, 56)
    x0, x1 = frame.axis, frame.axis + length_cm * frame.scale
    bar = [(x0, below - 4), (x0, below + 4), (x0, below), (x1, below), (x1, below - 4), (x1, below + 4)]
    add(parent, "path", class_="scale-bar", d=opened(bar), fill="none", stroke=ink.line, stroke_width=2)
    words = _("{length} cm").format(length=figure(length_cm))
    label = add(parent, "text", words, x=x1 + 8, y=below + 4.5, fill=ink.line, font_size=SMALL_TYPE_SIZE)
    label.set("class", "scale-length")


def step_cm(scale: float, least_px: float) -> float:
    """Return the smallest round length that is at least so many pixels long. [cm]"""
    return next((s for s in STEPS_CM if s * scale >= least_px), float(STEPS_CM[-1]))


def _draw_floor(parent: ET.Element, frame: Frame, container: Container, ink: Ink) -> None:
    left, right = (frame.at(side * inside_width_cm(container, 0) / 2, 0)[0] for side in (-1, 1))
    y, width = frame.floor + WALL / 2, right - left
    holes = 1 if width < 60 else max(2, min(7, round(width / 75)))
    gap = min(10.0, width / (3 * holes))
    edges = [left - WALL]
    for hole in range(holes):
        middle = left + width * (hole + 0.5) / holes
        edges += [middle - gap / 2, middle + gap / 2]
    edges.append(right + WALL)
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        add(
            parent,
            "path",
            class_="floor",
            d=opened([(start, y), (end, y)]),
            stroke=ink.line,
            stroke_width=WALL,
        )


def _band(
    frame: Frame, medium: Sequence[Level], outer: Sequence[float], inner: Sequence[float], side: int
) -> list[Point]:
    def edge(shares: Sequence[float]) -> list[Point]:
        return [
            frame.at(side * m.width_cm / 2 * (1 - share), m.height_cm)
            for m, share in zip(medium, shares, strict=True)
        ]

    return edge(outer) + edge(inner)[::-1]


def _air_at(level: Level, water: float) -> float:
    return min(1.0, max(0.0, level.air + level.water - water))
