"""The pot section: a pot cut open, to scale, with the water, air and solid of its medium at each height."""

import re
from collections.abc import Sequence
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing import section_notes, section_pot
from friable.drawing.ink import BLACK_AND_WHITE, COLOURED, SMALL_TYPE_SIZE, TYPEFACE, Ink, add_patterns
from friable.drawing.legible import figure, per_cent, plain_text, wrapped
from friable.drawing.section_notes import Note
from friable.drawing.section_pot import LIP, Frame
from friable.drawing.section_shape import (
    Level,
    ProfilePoint,
    inside_width_cm,
    level_at,
    levels,
    root_ball_fits,
    root_ball_outline,
    wet_zones,
)
from friable.drawing.svg import add, picture, written
from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.wording import gettext as _

NARROWEST = 260.0
AXIS = 44.0
HIGHEST_POT = 440.0
LARGEST_SCALE = 60.0  # px/cm; beyond it a plug cell would fill the page
LOWEST_POT_WITH_NOTES_BESIDE = 130.0
TOP = 34.0


def pot_section_svg(
    container: Container,
    profile: Sequence[ProfilePoint],
    *,
    title: str,
    root_ball: Container | None = None,
    layer_name: str = "",
    width: float = 640.0,
    wet_below: float = 0.10,
    black_and_white: bool = False,
    key: str = "pot",
) -> str:
    """Return a pot section as SVG text.

    Parameters
    ----------
    container : Container
        Inside measures, headspace and drainage layer. [cm]
    profile : sequence of ProfilePoint
        Water and air at rising heights above the floor, from the bottom of the medium to the fill line.
        [cm; shares of bulk volume]
    title : str
        Name of the drawing, for screen readers.
    root_ball : Container, optional
        Container in which the plant stood, with its headspace; drawn with its top at the fill line.
    layer_name : str
        What the drainage layer is made of.
    width : float
        Width of the drawing; text keeps its size. [CSS px, at least 260]
    wet_below : float
        Air below which the medium is named as staying wet. [share of bulk volume]
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
        If the profile is impossible, the drawing too narrow, or the threshold not from 0 to 1.
    """
    if not NARROWEST <= width <= 4000:
        raise BadQuantity(_("width of the drawing"), width, "px", _("from 260 to 4000"))
    if not 0 <= wet_below <= 1:
        raise BadQuantity(_("air below which the medium stays wet"), wet_below, "", _("from 0 to 1"))
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", key):
        raise ValueError(f"key is {key!r}; it must be a letter followed by letters, digits, - or _")
    medium = levels(container, profile)
    zones = wet_zones(medium, wet_below)
    ink = BLACK_AND_WHITE if black_and_white else COLOURED

    widest, deepest = _extent(container, root_ball)
    beside = 0.36 * width
    room = width - AXIS - 2 * LIP - 26
    scale = _scale(room - beside, widest, container.height_cm)
    is_beside = width >= 440 and scale * container.height_cm >= LOWEST_POT_WITH_NOTES_BESIDE
    if not is_beside:
        scale = _scale(room, widest, container.height_cm)
    middle = AXIS + LIP + 12 + widest * scale / 2
    frame = Frame(scale, middle, TOP + scale * container.height_cm, AXIS)
    notes = _notes(container, medium, zones, wet_below, root_ball, plain_text(layer_name, 120), frame)
    notes_left = middle + widest * scale / 2 + 2 * LIP + 34
    pot_bottom = frame.floor + max(0.0, deepest * scale) + 12
    if is_beside:
        pot_bottom = max(pot_bottom, TOP - 18 + section_notes.side_height(notes, width - notes_left - 4))
    bar = pot_bottom + 14
    explained = _explained(container)
    key_notes = explained if is_beside else [*notes, *explained]
    key_top = bar + 22
    caption = wrapped(_caption(container), SMALL_TYPE_SIZE, width - 8, most_lines=6)
    caption_top = key_top + section_notes.below_height(key_notes, width - 8) + 4
    height = caption_top + 17 * len(caption) + 6

    root = picture(width, height, role="img", class_="pot-section", font_family=TYPEFACE)
    root.set("aria-labelledby", f"{key}-title {key}-desc")
    add(root, "title", plain_text(title), id=f"{key}-title")
    add(root, "desc", _description(container, medium, notes), id=f"{key}-desc")
    add_patterns(root, ink, key)
    add(root, "rect", class_="ground", width=width, height=height, fill=ink.paper)
    _draw_pot(root, frame, container, medium, zones, root_ball, ink, key)
    section_pot.draw_scale_bar(root, frame, bar, ink)
    if is_beside:
        section_notes.draw_beside(root, notes, notes_left, width - notes_left - 4, TOP - 18, pot_bottom, ink)
    section_notes.draw_below(root, key_notes, 4, key_top, width - 8, ink, key)
    for index, line in enumerate(caption):
        add(
            root, "text", line, x=4, y=caption_top + 13 + 17 * index, fill=ink.line, font_size=SMALL_TYPE_SIZE
        )
    return written(root)


def _extent(container: Container, root_ball: Container | None) -> tuple[float, float]:
    widest = max(container.top_length_cm, container.bottom_length_cm)
    deepest = 0.0
    if root_ball is not None:
        bottom, __, low, high = root_ball_outline(root_ball, container.fill_height_cm)
        widest, deepest = max(widest, low, high), max(0.0, -bottom)
    return widest, deepest


def _scale(room: float, widest_cm: float, height_cm: float) -> float:
    return min(room / widest_cm, HIGHEST_POT / height_cm, LARGEST_SCALE)


def _draw_pot(
    root: ET.Element,
    frame: Frame,
    container: Container,
    medium: Sequence[Level],
    zones: Sequence[tuple[float, float]],
    root_ball: Container | None,
    ink: Ink,
    key: str,
) -> None:
    if container.drainage_layer_cm > 0:
        section_pot.draw_layer(root, frame, container, ink, key)
    section_pot.draw_medium(root, frame, medium, ink, key)
    section_pot.draw_wet_zones(root, frame, medium, zones, ink, key)
    section_pot.draw_range(root, frame, medium, ink)
    section_pot.draw_fill_line(root, frame, container, ink)
    if root_ball is not None:
        section_pot.draw_root_ball(root, frame, root_ball, container, ink)
    section_pot.draw_walls(root, frame, container, ink)
    section_pot.draw_heights(root, frame, container, ink)


def _notes(
    container: Container,
    medium: Sequence[Level],
    zones: Sequence[tuple[float, float]],
    wet_below: float,
    root_ball: Container | None,
    layer_name: str,
    frame: Frame,
) -> list[Note]:
    def inside(height_cm: float, share: float = 0.96) -> tuple[float, float]:
        return frame.at(share * inside_width_cm(container, height_cm) / 2, height_cm)

    notes = []
    fill_cm = container.fill_height_cm
    if container.headspace_cm > 0:
        words = _("headspace {depth} cm, left free for watering").format(depth=figure(container.headspace_cm))
        notes.append(Note("headspace", words, inside(fill_cm + container.headspace_cm / 2)))
    words = _("top, {height} cm up: {air} air, {water} water").format(
        height=figure(fill_cm), air=per_cent(medium[-1].air), water=per_cent(medium[-1].water)
    )
    notes.append(Note("fill", words, inside(fill_cm)))
    if root_ball is not None:
        notes.append(_root_ball_note(container, root_ball, frame))
    for low_cm, high_cm in zones:
        words = _("stays wet: air under {threshold}, from {low} to {high} cm").format(
            threshold=per_cent(wet_below), low=figure(low_cm), high=figure(high_cm)
        )
        notes.append(Note("wet", words, inside(low_cm + 0.6 * (high_cm - low_cm)), bold=True))
    if not zones:
        notes.append(
            Note("dot", _("air is {threshold} or more at every height").format(threshold=per_cent(wet_below)))
        )
    words = _("bottom of the mix, {height} cm up: {air} air, {water} water").format(
        height=figure(medium[0].height_cm), air=per_cent(medium[0].air), water=per_cent(medium[0].water)
    )
    notes.append(Note("dot", words, inside(medium[0].height_cm)))
    if container.drainage_layer_cm > 0:
        name = layer_name or _("material not named")
        words = _("drainage layer {depth} cm: {name}").format(
            depth=figure(container.drainage_layer_cm), name=name
        )
        notes.append(Note("stones", words, inside(container.drainage_layer_cm / 2)))
    return notes


def _root_ball_note(container: Container, root_ball: Container, frame: Frame) -> Note:
    bottom, top, low, high = root_ball_outline(root_ball, container.fill_height_cm)
    words = _("root ball, out of {pot}").format(pot=root_ball.describe())
    fits = root_ball_fits(root_ball, container)
    if not fits:
        words += " " + _("(does not fit)")
    height_cm = bottom + 0.66 * (top - bottom)
    width_cm = low + 0.66 * (high - low)
    return Note("root", words, frame.at(width_cm / 2, height_cm), bold=not fits)


def _explained(container: Container) -> list[Note]:
    openings = [Note("dot", _("dashed wall: open to the air"))] if container.shape == "basket" else []
    return [
        Note("air", _("air, in the middle")),
        Note("water", _("water, around it")),
        Note("solid", _("solid, at the walls")),
        Note("range", _("dotted: range of the air")),
        *openings,
    ]


def _caption(container: Container) -> str:
    how_cut = (
        _("cut through the middle")
        if container.top_length_cm == container.top_width_cm
        else _("cut along its length")
    )
    return _(
        "{container}, {how_cut}, to scale, after watering and draining. At each height the width is shared "
        "among air, water and solid as the volume is."
    ).format(container=container.describe(), how_cut=how_cut)


def _description(container: Container, medium: Sequence[Level], notes: Sequence[Note]) -> str:
    bottom, top = medium[0].height_cm, medium[-1].height_cm
    heights = [bottom + (top - bottom) * share for share in (0, 0.25, 0.5, 0.75, 1)]
    sentences = [_caption(container)]
    for height_cm in heights:
        level = level_at(medium, height_cm)
        sentences.append(
            _("{height} cm above the floor: {air} air, {water} water, {solid} solid.").format(
                height=figure(height_cm),
                air=per_cent(level.air),
                water=per_cent(level.water),
                solid=per_cent(level.solid),
            )
        )
    sentences += [n.text[:1].upper() + n.text[1:] + "." for n in notes if n.kind not in ("fill", "dot")]
    return " ".join(sentences)
