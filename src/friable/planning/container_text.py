"""How a container is written in one line: its shape and inside sizes, or its name."""

import re
from collections.abc import Mapping

from friable.errors import BadText, UnknownName
from friable.planning import unit_names
from friable.planning.typed_text import MAX_CELL, VULGAR_SIGNS, leading_number, plain
from friable.planning.units_in import LARGEST_CM
from friable.science.containers import ROUND_SHAPES, SHAPES, Container
from friable.wording import gettext as _

ONE = rf"[0-9]+(?:[.,][0-9]+)?(?:[ ]?[{VULGAR_SIGNS}])?|[{VULGAR_SIGNS}]"
SIZES = re.compile(
    rf"(?P<shape>[^\W\d_]+)[ ]*(?P<sizes>(?:{ONE})(?:[ ]*[/x×*][ ]*(?:{ONE}))*)[ ]*(?P<unit>.*)",
    re.IGNORECASE,
)
TRAY = "tray"
SHAPE_WORDS = {
    "circular": "round",
    "rectangular": "tray",
    "rectangle": "tray",
    "pan": "round",
    "plug": "cell",
}
CONTAINER_EXAMPLE = "round 17/12/13 cm"
TAPERED, STRAIGHT, BOTH_ENDS = "//", "xx", "x/x/"


def parse_container(text: str, stored: "Mapping[str, Container] | None" = None) -> Container:
    """Read “round 17/12/13 cm” (top, bottom, height), “tray 50x30x4 cm”, or the name of a known container.

    Parameters
    ----------
    text : str
        Inside measures: TOP/BOTTOM/HEIGHT, LENGTHxWIDTHxHEIGHT for straight walls, or
        LENGTHxWIDTH/LENGTHxWIDTH/HEIGHT for top, bottom and height; in cm, mm or inches.
    stored : mapping of name to Container, optional
        Our own containers; they win over the published ones.

    Raises
    ------
    BadText, BadQuantity, UnknownName, AmbiguousName
    """
    what = _("container")
    cell = plain(text, what, MAX_CELL * 2)
    if any(char in "\t\n\r" for char in cell):
        raise BadText(
            what,
            text,
            _("holds a tab or a line break, as a pasted table does"),
            _("Paste one cell at a time."),
        )
    cell = " ".join(cell.split())
    for name, container in (stored or {}).items():
        if name.casefold() == cell.casefold():
            return container
    first = cell.split()[0].casefold()
    match = SIZES.fullmatch(cell)
    if match is not None:
        shape = SHAPE_WORDS.get(match["shape"].casefold(), match["shape"].casefold())
        if shape in SHAPES:
            return _from_sizes(shape, match["sizes"], match["unit"], cell)
    elif first in SHAPES:
        raise BadText(
            what,
            text,
            _("does not give its inside sizes"),
            _("Write it as {example} (top, bottom, height).").format(example=CONTAINER_EXAMPLE),
        )
    return _known(cell, stored or {})


def _from_sizes(shape: str, sizes: str, unit: str, typed: str) -> Container:
    what = _("container")
    factor = unit_names.CENTIMETRES.get(unit_names.tidy(unit))
    if factor is None:
        problem = _("has no unit") if not unit else _("has sizes or a unit that cannot be read")
        raise BadText(what, typed, problem, _("Write it as {example}.").format(example=CONTAINER_EXAMPLE))
    pattern = re.sub(r"[^/x]", "", re.sub(r"[×*X]", "x", sizes))
    numbers = [
        factor * leading_number(one.strip(), what, CONTAINER_EXAMPLE)[0]
        for one in re.split(r"[/x×*X]", sizes)
    ]
    if pattern == TAPERED and shape != TRAY:  # 50/30/4 would be read as a square that narrows from 50 to 30
        top, bottom, height = numbers
        ends = (top, top, bottom, bottom, height)
    elif pattern == STRAIGHT and shape not in ROUND_SHAPES:
        length, width, height = numbers
        ends = (length, width, length, width, height)
    elif pattern == BOTH_ENDS and shape not in ROUND_SHAPES:
        ends = (numbers[0], numbers[1], numbers[2], numbers[3], numbers[4])
    else:
        form = "TOP/BOTTOM/HEIGHT" if shape in ROUND_SHAPES else "LENGTHxWIDTHxHEIGHT"
        raise BadText(
            what,
            typed,
            _("does not give three inside sizes"),
            _("Write it as “{shape} {form} cm”.").format(shape=shape, form=form),
        )
    if max(ends) > LARGEST_CM:
        raise BadText(
            what,
            typed,
            _("is too large"),
            _("No side may exceed {largest} cm.").format(largest=f"{LARGEST_CM:,}"),
        )
    sides = [float(side) for side in ends]
    return Container(
        shape=shape,
        top_length_cm=sides[0],
        top_width_cm=sides[1],
        bottom_length_cm=sides[2],
        bottom_width_cm=sides[3],
        height_cm=sides[4],
    )


def _known(name: str, stored: Mapping[str, Container]) -> Container:
    """Look a name up among published containers."""
    from friable.reference.containers import find_container

    try:
        known = find_container(name)
    except UnknownName as unknown:
        near = [own for own in stored if name.casefold() in own.casefold()]
        raise UnknownName(_("container"), name, (*near, *unknown.near)[:4]) from None
    if known.container is None:
        raise BadText(
            _("container"),
            name,
            _("is known by its volume only"),
            _("Measure one inside and give its sizes, such as {example}.").format(example=CONTAINER_EXAMPLE),
        )
    return known.container
