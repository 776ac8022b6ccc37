"""A pot at up to four moments after watering: its section side by side, all to one scale."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from friable.drawing import section_notes, section_pot
from friable.drawing.ink import BLACK_AND_WHITE, COLOURED, SMALL_TYPE_SIZE, TYPEFACE, Ink, add_patterns
from friable.drawing.legible import figure, per_cent, plain_text, wrapped
from friable.drawing.moment_panel import (
    LINE,
    Moment,
    Panel,
    draw_figures,
    draw_head,
    draw_pot,
    figure_lines,
    head_lines,
    panel,
    spoken,
)
from friable.drawing.section_notes import Note
from friable.drawing.section_pot import LIP, WALL, Frame
from friable.drawing.section_shape import ProfilePoint
from friable.drawing.svg import add, picture, written
from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.wording import gettext as _

MOST_MOMENTS = 4
NARROWEST, WIDEST = 260.0, 4000.0
NARROWEST_COLUMN = 140.0
AXIS = 40.0
GAP = 16.0
HIGHEST_POT = 340.0
LARGEST_SCALE = 60.0  # px/cm, as in the pot section
FLATTEST_IN_ONE_ROW = 2.5  # width of the pot by its height; flatter ones stand two by two
ABOVE_POT = 26.0


@dataclass(frozen=True, slots=True)
class PotMoment:
    """One moment: hours since watering, a few words, and water and air at rising heights."""

    hour: float
    said: str
    profile: tuple[ProfilePoint, ...]


@dataclass(frozen=True, slots=True)
class MomentPicture:
    """A moment drawn by itself. `when` tells the time in words, `spoken` all of it in one sentence."""

    hour: float
    said: str
    when: str
    spoken: str
    water_l: float
    svg: str


@dataclass(frozen=True, slots=True)
class _Layout:
    width: float
    columns: int
    column: float
    scale: float
    head: float
    figures: float

    def left(self, place: int) -> float:
        return AXIS + (place % self.columns) * (self.column + GAP)


def four_moments_svg(
    container: Container,
    moments: Sequence[Moment],
    *,
    title: str,
    layer_name: str = "",
    width: float = 800.0,
    wet_below: float = 0.10,
    black_and_white: bool = False,
    key: str = "moments",
) -> str:
    """Return up to four moments of a pot in one drawing, all to the same scale.

    Parameters
    ----------
    container : Container
        Inside measures, headspace and drainage layer. [cm]
    moments : sequence of Moment
        One to four, drawn in the order given: hours since watering, a few words, the profile then.
        [h; cm; shares of bulk volume]
    title : str
        Name of the drawing, for screen readers.
    layer_name : str
        What the drainage layer is made of.
    width : float
        Width of the drawing; text keeps its size. [CSS px, from 260 to 4000]
    wet_below : float
        Air below which a height is named too wet. [share of bulk volume]
    black_and_white : bool
        Use black and white only.
    key : str
        Start of every id in the drawing; give each drawing on a page its own.

    Returns
    -------
    str
        One `svg` element without style attributes, style elements and scripts.

    Raises
    ------
    BadQuantity
        If there is no moment or more than four, an hour or a profile is impossible, or the drawing is too
        narrow.
    """
    panels = _panels(container, moments, width, wet_below, key)
    return _drawn(
        container,
        panels,
        title,
        layer_name,
        width,
        wet_below,
        _ink(black_and_white),
        key,
        _fit(container, panels, width),
    )


def moment_pictures(
    container: Container,
    moments: Sequence[Moment],
    *,
    title: str,
    layer_name: str = "",
    width: float = 420.0,
    wet_below: float = 0.10,
    black_and_white: bool = False,
    key: str = "moment",
) -> tuple[MomentPicture, ...]:
    """Return each moment as a drawing of its own, all of one size and one scale, to show one at a time.

    Parameters and errors are those of `four_moments_svg`; the ids of the drawings start with the key and
    their number.
    """
    panels = _panels(container, moments, width, wet_below, key)
    layouts = [_fit(container, [one], width) for one in panels]
    shared = _Layout(
        width,
        1,
        layouts[0].column,
        layouts[0].scale,
        max(x.head for x in layouts),
        max(x.figures for x in layouts),
    )
    ink = _ink(black_and_white)
    return tuple(
        MomentPicture(
            moment.hour,
            one.said,
            one.when,
            spoken(one),
            one.water_l,
            _drawn(
                container,
                [one],
                f"{title}: {one.said}",
                layer_name,
                width,
                wet_below,
                ink,
                f"{key}-{one.number}",
                shared,
            ),
        )
        for moment, one in zip(moments, panels, strict=True)
    )


def _panels(
    container: Container, moments: Sequence[Moment], width: float, wet_below: float, key: str
) -> list[Panel]:
    if not NARROWEST <= width <= WIDEST:
        raise BadQuantity(_("width of the drawing"), width, "px", _("from 260 to 4000"))
    if not 0 <= wet_below <= 1:
        raise BadQuantity(_("air below which the medium is too wet"), wet_below, "", _("from 0 to 1"))
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", key):
        raise ValueError(f"key is {key!r}; it must be a letter followed by letters, digits, - or _")
    if not 1 <= len(moments) <= MOST_MOMENTS:
        raise BadQuantity(_("the number of moments"), len(moments), "", _("from 1 to 4"))
    return [panel(number, container, one, wet_below) for number, one in enumerate(moments, start=1)]


def _ink(black_and_white: bool) -> Ink:
    return BLACK_AND_WHITE if black_and_white else COLOURED


def _fit(container: Container, panels: Sequence[Panel], width: float) -> _Layout:
    """Choose how many stand beside one another, and the one scale."""
    widest = max(container.top_length_cm, container.bottom_length_cm)
    lips = 2 * (WALL + (2 * LIP if container.shape == "cell" else LIP))

    def column(columns: int) -> float:
        return (width - AXIS - 4 - GAP * (columns - 1)) / columns

    most = 2 if widest / container.height_cm > FLATTEST_IN_ONE_ROW else MOST_MOMENTS
    columns = next(
        (
            c
            for c in (4, 3, 2)
            if c <= min(most, len(panels))
            and column(c) >= NARROWEST_COLUMN
            and not (c == 3 and len(panels) == 4)
        ),
        1,
    )
    wide = column(columns)
    scale = min((wide - lips) / widest, HIGHEST_POT / container.height_cm, LARGEST_SCALE)
    head = max(len(head_lines(one, wide)) for one in panels) * LINE + LINE + 10
    figures = max(len(figure_lines(one, wide)) for one in panels) * LINE + 42
    return _Layout(width, columns, wide, scale, head, figures)


def _drawn(
    container: Container,
    panels: Sequence[Panel],
    title: str,
    layer_name: str,
    width: float,
    wet_below: float,
    ink: Ink,
    key: str,
    fit: _Layout,
) -> str:
    pot_height = container.height_cm * fit.scale
    row_height = fit.head + ABOVE_POT + pot_height + 16 + fit.figures + 14
    rows = -(-len(panels) // fit.columns)
    explained = _explained(container, layer_name, wet_below)
    key_top = rows * row_height + 26
    caption = wrapped(_caption(container, len(panels)), SMALL_TYPE_SIZE, width - 8, most_lines=8)
    caption_top = key_top + section_notes.below_height(explained, width - 8) + 4
    height = caption_top + 17 * len(caption) + 6

    root = picture(width, height, role="img", class_="four-moments", font_family=TYPEFACE)
    root.set("aria-labelledby", f"{key}-title {key}-desc")
    add(root, "title", plain_text(title), id=f"{key}-title")
    add(root, "desc", _description(container, panels), id=f"{key}-desc")
    add_patterns(root, ink, key)
    add(root, "rect", class_="ground", width=width, height=height, fill=ink.paper)
    for place, one in enumerate(panels):
        left, top = fit.left(place), 2 + (place // fit.columns) * row_height
        floor = top + fit.head + ABOVE_POT + pot_height
        frame = Frame(fit.scale, left + fit.column / 2, floor, AXIS)
        draw_head(root, one, head_lines(one, fit.column), left, top, ink)
        draw_pot(root, frame, container, one, ink, key)
        if place % fit.columns == 0:
            section_pot.draw_heights(root, frame, container, ink)
        draw_figures(root, one, left, floor + 16, fit.column, ink, key)
    section_pot.draw_scale_bar(root, Frame(fit.scale, 0, 0, AXIS), key_top - 18, ink)
    section_notes.draw_below(root, explained, 4, key_top, width - 8, ink, key)
    for index, line in enumerate(caption):
        add(
            root, "text", line, x=4, y=caption_top + 13 + 17 * index, fill=ink.line, font_size=SMALL_TYPE_SIZE
        )
    return written(root)


def _explained(container: Container, layer_name: str, wet_below: float) -> list[Note]:
    notes = [
        Note("air", _("air, in the middle")),
        Note("water", _("water, around it")),
        Note("solid", _("solid, at the walls")),
        Note("wet", _("hatched: too wet, air under {threshold}").format(threshold=per_cent(wet_below))),
        Note("range", _("dotted: range of the air")),
    ]
    if container.drainage_layer_cm > 0:
        notes.append(
            Note(
                "stones",
                _("drainage layer {depth} cm: {name}; its water is not counted").format(
                    depth=figure(container.drainage_layer_cm),
                    name=plain_text(layer_name, 120) or _("material not named"),
                ),
            )
        )
    return notes


def _caption(container: Container, count: int) -> str:
    how_many = (
        _("The same pot at {count} moments, one scale").format(count=count) if count > 1 else _("To scale")
    )
    return _(
        "{how_many}: {container}, cut through the middle. At each height the width is shared among air, "
        "water and solid as the volume is. Litres count the water in the mix; heights count from the floor."
    ).format(how_many=how_many, container=container.describe())


def _description(container: Container, panels: Sequence[Panel]) -> str:
    return " ".join([_caption(container, len(panels)), *(spoken(one) for one in panels)])
