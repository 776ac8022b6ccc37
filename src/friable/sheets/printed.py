"""How numbers, dates and typed words stand on paper."""

import datetime
import math
import re

from friable.drawing.legible import plain_text
from friable.errors import BadQuantity, BadText
from friable.wording import gettext as _

LONGEST_UNBROKEN = 16
_BREAK_HERE = "\u200b"


def printable(text: object, longest: int = 400) -> str:
    """Return typed text fit to be set: one line, no hidden characters, very long words may break."""

    def breakable(word: re.Match[str]) -> str:
        return _BREAK_HERE.join(re.findall(".{1,10}", word.group()))

    return re.sub(rf"\S{{{LONGEST_UNBROKEN + 1},}}", breakable, plain_text(text, longest))


def day_in_words(iso_day: str) -> str:
    """Return a date as 25 November 2026; nothing for no date.

    Raises
    ------
    BadText
        If it is not a date written like 2026-11-25.
    """
    if not iso_day:
        return ""
    try:
        day = datetime.date.fromisoformat(iso_day)
    except ValueError as problem:
        raise BadText(
            _("date"), iso_day, _("is not a date"), _("Write year, month and day, like 2026-11-25.")
        ) from problem
    months = (
        _("January"), _("February"), _("March"), _("April"), _("May"), _("June"),
        _("July"), _("August"), _("September"), _("October"), _("November"), _("December"),
    )  # fmt: skip
    return _("{day} {month} {year}").format(day=day.day, month=months[day.month - 1], year=day.year)


def litres(volume_l: float) -> str:
    """Return a volume with its unit, to 0.1 L."""
    _check(_("volume"), volume_l, "L")
    return _("{number} L").format(number=f"{round(volume_l, 1):g}" if volume_l < 1e5 else f"{volume_l:.0f}")


def grams(mass_g: float) -> str:
    """Return a mass with its unit: to 1 g from 100 g, to 0.1 g from 10 g, to 0.01 g below."""
    _check(_("mass"), mass_g, "g")
    decimals = 0 if mass_g >= 100 else 1 if mass_g >= 10 else 2
    number = f"{mass_g:.{decimals}f}"
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return _("{number} g").format(number=number)


def _check(name: str, value: float, unit: str) -> None:
    if not (value >= 0 and math.isfinite(value)):
        raise BadQuantity(name, value, unit, _("0 or more"))
