"""One moment of a pot: what its section says in figures, and how the section is drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol
from xml.etree import ElementTree as ET  # builds only, reads nothing

from friable.drawing import section_pot
from friable.drawing.ink import TYPE_SIZE, Ink
from friable.drawing.legible import figure, per_cent, plain_text, wrapped
from friable.drawing.section_notes import draw_swatch
from friable.drawing.section_pot import Frame
from friable.drawing.section_shape import SHARE_SLACK, Level, ProfilePoint, level_at, levels, wet_zones
from friable.drawing.svg import add
from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.wording import gettext as _

LINE = 18.0
HEAD_SIZE = 15.0
NUMBER_ROOM = 30.0
FIGURE_SIZE = 22.0
HOURS_TOLD = 48.0  # from here on time is told in days
ABOVE_SWATCH = 6.0


class Moment(Protocol):
    """One moment after watering: hours since then, a few words, and the profile at that time."""

    @property
    def hour(self) -> float: ...
    @property
    def said(self) -> str: ...
    @property
    def profile(self) -> Sequence[ProfilePoint]: ...


@dataclass(frozen=True, slots=True)
class Panel:
    """A moment with its figures. [h; L of water in the medium; cm]"""

    number: int
    said: str
    when: str
    medium: tuple[Level, ...]
    zones: tuple[tuple[float, float], ...]
    water_l: float
    water_low_l: float
    water_high_l: float


def panel(number: int, container: Container, moment: Moment, wet_below: float) -> Panel:
    """Return the figures of one moment.

    Raises
    ------
    BadQuantity
        If the hour is below 0 or not a number, or the profile is impossible.
    """
    if not 0 <= moment.hour < 1e6:
        raise BadQuantity(_("hours since watering"), moment.hour, "h", _("0 or more"))
    medium = levels(container, moment.profile)
    for level in medium:
        for share in (level.water_low, level.water_high):
            if not -SHARE_SLACK <= share <= 1 + SHARE_SLACK:
                raise BadQuantity(_("range of the water"), share, "", _("from 0 to 1"))
    return Panel(
        number,
        plain_text(moment.said, 60),
        since_watering(moment.hour),
        medium,
        wet_zones(medium, wet_below),
        water_litres(container, medium, [m.water for m in medium]),
        water_litres(container, medium, [m.water_low for m in medium]),
        water_litres(container, medium, [m.water_high for m in medium]),
    )


def since_watering(hour: float) -> str:
    """Return a time since watering in words: minutes, hours, or days."""
    if hour == 0:
        return _("at watering")
    if hour < 1:
        return _("{number} min after").format(number=f"{60 * hour:.0f}")
    if hour < HOURS_TOLD:
        return _("{number} h after").format(number=figure(hour))
    return _("{number} days after").format(number=figure(hour / 24))


def water_litres(container: Container, medium: Sequence[Level], water: Sequence[float]) -> float:
    """Return the water in the medium: its share at each height times the volume there. [L]"""
    below = [container.volume_below_l(min(m.height_cm, container.height_cm)) for m in medium]
    return sum(
        (high - low) * (first + second) / 2
        for (low, high), (first, second) in zip(pairwise(below), pairwise(water), strict=True)
    )


def litres(volume_l: float) -> str:
    """Return a volume to two figures: litres from one tenth on, millilitres below."""
    number, unit = _amount(volume_l)
    return _("{number} {unit}").format(number=number, unit=unit)


def _amount(volume_l: float) -> tuple[str, str]:
    if volume_l < 0.0995:
        return f"{1000 * volume_l:.2g}", "mL"
    return f"{volume_l:.2f}" if volume_l < 0.995 else f"{volume_l:.1f}", "L"


def head_lines(one: Panel, width: float) -> list[str]:
    """Return what a moment is called, as lines beside its number."""
    return wrapped(one.said, 1.06 * HEAD_SIZE, width - NUMBER_ROOM, most_lines=3)


def figure_lines(one: Panel, width: float) -> list[tuple[str, str]]:
    """Return the lines under a section, each with the swatch that stands before it or nothing."""
    top, foot = one.medium[-1], one.medium[0]
    middle = level_at(one.medium, (top.height_cm + foot.height_cm) / 2)
    lines = [("", x) for x in wrapped(range_in_words(one), TYPE_SIZE, width)]
    for told, level in (
        (_("top: {share} air"), top),
        (_("middle: {share} air"), middle),
        (_("foot: {share} air"), foot),
    ):
        lines += [("", x) for x in wrapped(told.format(share=per_cent(level.air)), TYPE_SIZE, width)]
    for words in wet_in_words(one):
        swatch = "wet" if one.zones else ""
        room = width - (34 if swatch else 0)
        lines += [
            (swatch if index == 0 else "-" if swatch else "", x)
            for index, x in enumerate(wrapped(words, 1.06 * TYPE_SIZE, room))
        ]
    return lines


def range_in_words(one: Panel) -> str:
    """Return the range of the water in the medium."""
    low, high = litres(one.water_low_l), litres(one.water_high_l)
    return _("({low} to {high})").format(low=low, high=high)


def wet_in_words(one: Panel) -> list[str]:
    """Return the stretches that are too wet, from below, or one line that says there is none."""
    if not one.zones:
        return [_("nowhere too wet")]
    return [
        _("too wet from {low} to {high} cm").format(low=figure(low), high=figure(high))
        for low, high in one.zones
    ]


def spoken(one: Panel) -> str:
    """Return a moment in sentences, for those who do not see it."""
    top, foot = one.medium[-1], one.medium[0]
    heights = [foot.height_cm + (top.height_cm - foot.height_cm) * share for share in (0, 0.5, 1)]
    told = [
        _("{height} cm up: {air} air, {water} water").format(
            height=figure(level.height_cm), air=per_cent(level.air), water=per_cent(level.water)
        )
        for level in (level_at(one.medium, h) for h in heights)
    ]
    return _("{number}: {said}, {when}. Water in the mix {litres} {range}; {levels}; {wet}.").format(
        number=one.number,
        said=one.said,
        when=one.when,
        litres=litres(one.water_l),
        range=range_in_words(one),
        levels="; ".join(told),
        wet="; ".join(wet_in_words(one)),
    )


def draw_head(
    parent: ET.Element, one: Panel, lines: Sequence[str], left: float, top: float, ink: Ink
) -> None:
    """Write the number of a moment in a ring, and beside it what the moment is called."""
    add(parent, "circle", cx=left + 12, cy=top + 12, r=11, fill=ink.paper, stroke=ink.line, stroke_width=1.8)
    number = add(parent, "text", str(one.number), x=left + 12, y=top + 17.3, fill=ink.line)
    for name, value in (("text-anchor", "middle"), ("font-size", "15"), ("font-weight", "bold")):
        number.set(name, value)
    words = add(parent, "text", x=left + NUMBER_ROOM, y=top + 17, fill=ink.line, font_size=HEAD_SIZE)
    words.set("class", "said")
    for index, line in enumerate([*lines, one.when]):
        span = add(words, "tspan", line, x=left + NUMBER_ROOM, y=top + 17 + LINE * index)
        if index < len(lines):
            span.set("font-weight", "bold")


def draw_figures(
    parent: ET.Element, one: Panel, left: float, top: float, width: float, ink: Ink, key: str
) -> None:
    """Write the litres of water large, and below them range, air and what is too wet."""
    big = add(parent, "text", x=left, y=top + 20, fill=ink.line, font_size=FIGURE_SIZE, class_="litres")
    number, unit = _amount(one.water_l)
    add(big, "tspan", number).set("font-weight", "bold")
    add(big, "tspan", " " + _("{unit} water").format(unit=unit), font_size=TYPE_SIZE)
    below = 0.0
    for index, (swatch, line) in enumerate(figure_lines(one, width)):
        below = below or (ABOVE_SWATCH if swatch else 0.0)
        y = top + 44 + below + LINE * index
        if swatch == "wet":
            draw_swatch(parent, "wet", left, y - 12.5, ink, key)
        text = add(
            parent, "text", line, x=left + (34 if swatch else 0), y=y, fill=ink.line, font_size=TYPE_SIZE
        )
        if swatch:
            text.set("font-weight", "bold")


def draw_pot(parent: ET.Element, frame: Frame, container: Container, one: Panel, ink: Ink, key: str) -> None:
    """Draw the pot with its water, air and solid at this moment."""
    group = add(parent, "g", class_="moment")
    if container.drainage_layer_cm > 0:
        section_pot.draw_layer(group, frame, container, ink, key)
    section_pot.draw_medium(group, frame, one.medium, ink, key)
    section_pot.draw_wet_zones(group, frame, one.medium, one.zones, ink, key)
    section_pot.draw_range(group, frame, one.medium, ink)
    section_pot.draw_fill_line(group, frame, container, ink)
    section_pot.draw_walls(group, frame, container, ink)
