"""What a pot stands in, how fast it is watered and two weighings, as people write them."""

import re
from dataclasses import dataclass
from fractions import Fraction

from friable.errors import BadText
from friable.planning import unit_names as units
from friable.planning.typed_text import leading_number, one_cell
from friable.planning.units_in import centimetres, kilograms, litres
from friable.wording import gettext as _

OPEN, STANDING, SAUCER, MAT, FLOOD = "open holes", "standing water", "saucer", "mat", "flood"
MOST_BASE_CM = 100.0  # of water or of suction below a pot
LONGEST_HOURS = 24 * 366
LARGEST_RATE_L_H = 100_000.0
HOURS = {
    "s": Fraction(1, 3600), "sec": Fraction(1, 3600), "second": Fraction(1, 3600),
    "min": Fraction(1, 60), "minute": Fraction(1, 60),
    "h": Fraction(1), "hr": Fraction(1), "hour": Fraction(1),
    "d": Fraction(24), "day": Fraction(24), "week": Fraction(168),
}  # fmt: skip
_UNIT = "|".join(sorted((*HOURS, *(f"{name}s" for name in HOURS if len(name) > 2)), key=len, reverse=True))
_AMOUNT = r"[-+]?[0-9][0-9.,/ ]*"
_BASES = (
    (OPEN, r"(?:open|holes|open holes|bench|drained|free)"),
    (STANDING, r"(?:standing water|standing in water|water|tray|standing)"),
    (SAUCER, r"(?:saucer|plate)"),
    (MAT, r"(?:mat|capillary mat|sand|sand bed|plunge|sand plunge)"),
    (FLOOD, r"(?:flood|flooded|ebb and flow)"),
)


@dataclass(frozen=True, slots=True)
class Base:
    """What the holes of a pot open into.

    `depth_cm` is the depth of standing or flooding water above the floor of the pot, or how far below it the
    water of a mat or sand bed stands; `saucer_l` what a saucer holds; `hours` how long a flood stands.
    """

    kind: str
    depth_cm: float = 0.0
    saucer_l: float = 0.0
    hours: float = 0.0


def read_base(text: str, what: str = "") -> Base:
    """Read “open holes”, “standing water 2 cm”, “saucer 1 L”, “mat 5 cm” or “flood 4 cm 15 min”.

    Raises
    ------
    BadText
        If it is none of them, or a depth, volume or time is missing or out of range.
    """
    what = what or _("base")
    cell = one_cell(text, what)
    for kind, called in _BASES:
        if match := re.fullmatch(rf"{called}(?:\s+(?:of\s+)?(?P<rest>{_AMOUNT}.*))?", cell, re.IGNORECASE):
            return _base(kind, match["rest"] or "", cell, what)
    raise BadText(what, text, _("is no base that is known"), _examples())


def _base(kind: str, rest: str, cell: str, what: str) -> Base:
    if kind == OPEN and not rest:
        return Base(OPEN)
    if kind == SAUCER and rest:
        return Base(SAUCER, saucer_l=litres(rest, what).value)
    if kind == FLOOD and (parts := re.fullmatch(rf"({_AMOUNT}[^\W\d]+)\s+(?:for\s+)?(.+)", rest)):
        return Base(FLOOD, depth_cm=_depth_cm(parts[1], what), hours=hours(parts[2], what))
    if kind in (STANDING, MAT) and rest:
        return Base(kind, depth_cm=_depth_cm(rest, what))
    raise BadText(what, cell, _("does not say all that it needs"), _examples())


def _depth_cm(text: str, what: str) -> float:
    depth_cm = centimetres(text, what).value
    if depth_cm > MOST_BASE_CM:
        raise BadText(
            what, text, _("is too deep"), _("It must be at most {most:g} cm.").format(most=MOST_BASE_CM)
        )
    return depth_cm


def _examples() -> str:
    return _(
        "Write it as open holes, standing water 2 cm, saucer 1 L, mat 5 cm (water 5 cm below the pot) or "
        "flood 4 cm 15 min."
    )


def hours(text: str, what: str = "") -> float:
    """Read a time above 0 with its unit, up to a year. [h]"""
    what = what or _("time")
    cell = one_cell(text, what)
    number, rest = leading_number(cell, what, "24 h")
    unit = rest.casefold()
    unit = unit if unit in HOURS else unit.removesuffix("s")
    if unit not in HOURS:
        problem = _("has no unit") if not rest else _("has a unit that is no time")
        raise BadText(what, text, problem, _("Write it as 15 min, 24 h or 3 days."))
    value = number * HOURS[unit]
    if not 0 < value <= LONGEST_HOURS:
        raise BadText(what, text, _("is out of range"), _("It must be above 0 and at most a year."))
    return float(value)


def rate_l_h(text: str, what: str = "") -> float:
    """Read how fast water is given, such as “6 L/min” or “2 L/h”. [L/h]"""
    what = what or _("rate")
    cell = one_cell(text, what)
    volume, slash, time = re.sub(r"\s+(?:per|an|a)\s+", "/", cell).partition("/")
    if not slash or not time.strip() or re.match(r"\s*[0-9]", time):
        raise BadText(what, text, _("is no volume per time"), _("Write it as 6 L/min or 2 L/h."))
    poured_l = litres(volume, what).value
    rate = poured_l / hours(f"1 {time.strip()}", what)
    if not rate <= LARGEST_RATE_L_H:
        raise BadText(
            what,
            text,
            _("is too fast"),
            _("It must be at most {most} L/h.").format(most=f"{LARGEST_RATE_L_H:,.0f}"),
        )
    return rate


def weighings(text: str, what: str = "") -> tuple[float, float, float]:
    """Read two masses of one pot and the time between, such as “2.31 kg 2.05 kg 24 h”. [kg, kg, h]"""
    what = what or _("weighings")
    cell = one_cell(text, what).replace(";", " ")
    mass = "|".join(sorted((re.escape(name) for name in units.GRAMS), key=len, reverse=True))
    parts = re.fullmatch(
        rf"({_AMOUNT}(?:{mass}))[ ,]+({_AMOUNT}(?:{mass}))[ ,]+(?:after\s+)?({_AMOUNT}(?:{_UNIT}))",
        cell,
        re.IGNORECASE,
    )
    if parts is None:
        raise BadText(
            what,
            text,
            _("does not give two masses and the time between"),
            _("Write it as 2.31 kg 2.05 kg 24 h."),
        )
    return kilograms(parts[1], what).value, kilograms(parts[2], what).value, hours(parts[3], what)
