"""What stands in the cells of a collection: mix, watering, place, use of water, drainage layer."""

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from friable.errors import BadQuantity, BadRecipe, BadText, UnknownName, shown
from friable.planning.collection_values import (
    AS_RECORDED,
    EVERY_DAYS,
    GLASS,
    NOBODY,
    ON_NEED,
    OUTDOORS,
    Habit,
    Mix,
    Place,
    WaterUse,
)
from friable.planning.known_names import finder
from friable.planning.mix_parts import mix_parts
from friable.planning.published_recipe import published_book
from friable.planning.recipe import book_of
from friable.planning.recipe_text import parse_recipe
from friable.planning.typed_text import MAX_CELL, VULGAR_SIGNS, leading_number, one_cell, plain
from friable.planning.units_in import centimetres, fraction
from friable.planning.watering_text import FLOOD, OPEN, SAUCER, Base, read_base
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material

MOST_DAYS_BETWEEN = 366
LARGEST_USE = 10.0
BY_GLASS = ("glass", "glasshouse", "greenhouse", "house", "under glass", "indoors", "inside")
BY_OUTDOORS = ("outdoors", "outside", "open", "open air", "garden")
LOOKED_AT = ("on need", "need", "when needed", "as needed", "when dry", "")
DAILY = ("daily", "every day", "each day")
LEFT_ALONE = ("rain only", "nobody", "never", "none")


def read_mix(
    text: str,
    find: "Callable[[str], Material] | None" = None,
    stored: Callable[[str], Mix | None] | None = None,
) -> Mix:
    """Read a recipe that is written out, or the name of a stored mix or of a published recipe.

    Parameters
    ----------
    text : str
    find : callable, optional
        From name to material; by default the materials of the tables.
    stored : callable, optional
        From name to one of our own mixes, None where it is not one.

    Raises
    ------
    UnknownName, AmbiguousName, BadText, BadRecipe
    """
    what = _("mix")
    cell = " ".join(plain(text, what, 2000).split())
    look_up = find or finder()
    if re.match(rf"[-+]?[0-9.,{VULGAR_SIGNS}]", cell):
        recipe = parse_recipe(cell, name=cell)
        return Mix(cell, tuple(mix_parts(book_of(recipe), look_up)))
    if stored is not None and (own := stored(cell)) is not None:
        return own
    from friable.reference.recipes import find_recipe

    try:
        published = find_recipe(cell)
    except UnknownName as unknown:
        raise UnknownName(what, cell, unknown.near) from None
    if published.incomplete:
        raise BadRecipe(
            _("{name} is kept as a note and not complete; write its parts out.").format(
                name=shown(published.name)
            )
        )
    return Mix(published.name, tuple(mix_parts(published_book(published), look_up)))


def read_habit(text: str) -> Habit:
    """Read “on need”, “on need 40 %”, “every 3 days”, “daily”, “mat 5 cm”, “every 2 days; saucer 1 L”.

    Raises
    ------
    BadText
        If it is none of them.
    """
    what = _("watering")
    if not text.strip():
        return Habit()
    cell = one_cell(text, what)
    said, _mark, under = (part.strip() for part in cell.partition(";"))
    rule = _rule(said.casefold(), what)
    if rule is None and not under:
        base = read_base(said, what)
        by = ON_NEED if base.kind in (OPEN, SAUCER, FLOOD) else NOBODY
        return Habit(by=by, base=base)
    if rule is None:
        raise BadText(what, text, _("does not begin with when it is watered"), _examples())
    base = read_base(under, what) if under else Base(OPEN)
    return Habit(rule.by, rule.every_days, rule.used_share, base)


def _rule(said: str, what: str) -> Habit | None:
    if said in LOOKED_AT:
        return Habit()
    if match := re.fullmatch(r"(?:on need|as needed|when needed)\s*(?:at|from)?\s+(.+)", said):
        share = fraction(match[1], what).value
        if not 0.01 <= share <= 1:
            raise BadText(what, said, _("has a share out of range"), _("Write it as on need 50 %."))
        return Habit(used_share=float(share))
    if said in DAILY:
        return Habit(EVERY_DAYS, 1)
    if said in LEFT_ALONE:
        return Habit(NOBODY)
    if said in ("weekly", "every week"):
        return Habit(EVERY_DAYS, 7)
    if match := re.fullmatch(r"every\s+(.+?)\s*days?", said):
        number, rest = leading_number(match[1], what, "every 3 days")
        if rest or number.denominator != 1 or not 1 <= number <= MOST_DAYS_BETWEEN:
            raise BadText(
                what,
                said,
                _("is no whole number of days from 1 to {most}").format(most=MOST_DAYS_BETWEEN),
                _examples(),
            )
        return Habit(EVERY_DAYS, int(number))
    return None


def _examples() -> str:
    return _("Write it as on need, daily, every 3 days, rain only, standing water 2 cm or mat 5 cm.")


def read_place(text: str) -> Place:
    """Read “glass”, “outdoors”, “shade 50 %” (the share of light that is left) or “glass, shade 50 %”.

    Raises
    ------
    BadText, BadQuantity
    """
    what = _("place")
    if not text.strip():
        return Place()
    where, light = AS_RECORDED, 1.0
    for part in re.split(r"\s*(?:[;+]|,(?![0-9]))\s*", one_cell(text, what)):
        lowered = part.casefold()
        if lowered in BY_GLASS:
            where = GLASS
        elif lowered in BY_OUTDOORS:
            where = OUTDOORS
        elif match := re.fullmatch(r"shade[d]?(?:\s+(?:to|of))?\s+(.+)", lowered):
            light = float(fraction(match[1], what).value)
            if not 0 < light <= 1:
                raise BadQuantity(_("share of light that is left"), light, "", _("above 0 and at most 1"))
        else:
            raise BadText(
                what,
                part,
                _("is no place that is known"),
                _("Write it as glass, outdoors, or shade 50 % for half the light."),
            )
    return Place(where, light)


def read_use(text: str) -> WaterUse | None:
    """Read a multiple of the reference: “0.8”, “80 %”, or “0.6 to 1.1” for low and high; None if empty.

    Raises
    ------
    BadText, BadQuantity
    """
    what = _("water use")
    if not text.strip():
        return None
    ends = [_multiple(part, what) for part in re.split(r"\s*(?:\bto\b|–|—|\.\.)\s*", one_cell(text, what))]
    if len(ends) > 2 or ends != sorted(ends):
        raise BadText(what, text, _("is no range from low to high"), _("Write it as 0.8 or 0.6 to 1.1."))
    return WaterUse(ends[0], (ends[0] * ends[-1]) ** 0.5 if len(ends) > 1 else ends[0], ends[-1])


def _multiple(text: str, what: str) -> float:
    number, rest = leading_number(text, what, "0.8")
    if rest not in ("", "%", "x", "×"):
        raise BadText(what, text, _("has a unit"), _("Give a multiple of the reference such as 0.8."))
    value = (1e9 if number > 10**9 else float(number)) / (100 if rest == "%" else 1)
    if not 0 < value <= LARGEST_USE:
        raise BadQuantity(
            what, value, _("times the reference"), _("above 0 and at most {most:g}").format(most=LARGEST_USE)
        )
    return value


def read_layer(text: str, find: "Callable[[str], Material] | None" = None) -> "tuple[float, Material]":
    """Read depth and material of a drainage layer, “3 cm gravel”. [cm]

    Raises
    ------
    BadText, UnknownName, AmbiguousName
    """
    what, example = _("drainage layer"), _("3 cm gravel")
    cell = one_cell(text, what) if len(text) <= MAX_CELL else plain(text, what, MAX_CELL)
    _number, rest = leading_number(cell, what, example)
    unit, _space, material = rest.partition(" ")
    if not unit or not material.strip():
        raise BadText(
            what,
            text,
            _("does not say how deep and of what"),
            _("Write it as {example}.").format(example=example),
        )
    depth_cm = centimetres(cell[: len(cell) - len(rest)] + unit, what).value
    return depth_cm, (find or finder())(material.strip())


def bare_centimetres(text: str, what: str) -> float:
    """Read a length in whose column a number alone is in cm. [cm]

    Raises
    ------
    BadText
    """
    return centimetres(f"{text} cm" if re.fullmatch(r"[0-9.,]+", text) else text, what).value
