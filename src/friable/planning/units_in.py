"""What was typed with a unit, read exactly and echoed in ours."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from friable.errors import BadText
from friable.planning import unit_names as units
from friable.planning.recipe import MOST_DAYS
from friable.planning.typed_text import VULGAR_SIGNS, leading_number, one_cell
from friable.wording import gettext as _

LARGEST_L = 1_000_000
LARGEST_CM = 1_000
LARGEST_G = 1_000_000_000
LARGEST_RATE_G_PER_L = 2_000
LARGEST_COUNT = 1_000_000
SMALLEST = Fraction(1, 1_000_000)
HUNDRED = 100


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in one of our units, exact, and what was typed for it."""

    exact: Fraction
    unit: str
    typed: str

    @property
    def value(self) -> float:
        """The number to compute with."""
        return float(self.exact)

    @property
    def echo(self) -> str:
        """The reading said back: “3.8 cu ft = 107.6 L”; nothing to say back if it was typed in our unit."""
        said = f"{figures(self.value)} {self.unit}".strip()
        return said if self.typed.replace(" ", "") == said.replace(" ", "") else f"{self.typed} = {said}"


def figures(value: float) -> str:
    """Return a number to four significant figures without an exponent."""
    rounded = float(f"{value:.4g}")
    return f"{rounded:.0f}" if rounded == int(rounded) else f"{rounded:.10f}".rstrip("0")


def litres(
    text: str, what: str = "", *, bucket_l: Fraction | float | None = None, zero: bool = False
) -> Quantity:
    """Read a volume. [L]

    Parameters
    ----------
    text : str
        Such as “12 L”, “3.8 cu ft”, “1½ US dry quarts”; “2 buckets” where `bucket_l` says how large ours is.
    what : str
        What the sentence of a refusal calls it.
    bucket_l : number, optional
        Our own bucket. [L]
    zero : bool
        Whether nothing at all is allowed.

    Raises
    ------
    BadText
        If there is no number, no unit, a unit that says too little (“gallon”), or the volume is impossible.
    """
    own = {} if bucket_l is None else {"bucket": Fraction(bucket_l)}
    what = what or _("volume")
    return _read(text, what, "L", "12 L", {**units.LITRES, **own}, LARGEST_L, zero=zero)


def centimetres(text: str, what: str = "") -> Quantity:
    """Read a length of 0 or more. [cm]"""
    return _read(text, what or _("length"), "cm", "1.5 cm", units.CENTIMETRES, LARGEST_CM, zero=True)


def grams(text: str, what: str = "") -> Quantity:
    """Read a mass above 0. [g]"""
    return _read(text, what or _("mass"), "g", "250 g", units.GRAMS, LARGEST_G, zero=False)


def kilograms(text: str, what: str = "") -> Quantity:
    """Read a mass above 0. [kg]"""
    per_kg = {name: factor / 1000 for name, factor in units.GRAMS.items()}
    return _read(text, what or _("mass"), "kg", "14 kg", per_kg, LARGEST_G // 1000, zero=False)


def fraction(text: str, what: str = "", *, below_one: bool = False, most: int = 1) -> Quantity:
    """Read a share: “5 %”, “5 per cent”, “0.05” or “1/3”. [0..`most`]

    A bare number of 1 or more is refused, because “5” can mean 5 % and 500 %.
    """
    what = what or _("share")
    cell = one_cell(text, what)
    number, rest = leading_number(cell, what, "5 %")
    sign = rest.casefold().replace(" ", "")
    if sign in {"%", "percent", "pct", "pc", "٪", "％"}:
        number /= HUNDRED
    elif sign:
        raise BadText(what, text, _("has a unit that is no share"), _("Write it as 5 %."))
    elif abs(number) >= 1:
        raise BadText(
            what,
            text,
            _("does not say per cent of what"),
            _("Write per cent with its sign, or a share below 1."),
        )
    if not 0 <= number <= most or (below_one and number == most):
        must = (
            _("It must be from 0 to less than {most} %.")
            if below_one
            else _("It must be from 0 to {most} %.")
        )
        raise BadText(what, text, _("is out of range"), must.format(most=HUNDRED * most))
    return Quantity(number, "", cell)


def count(text: str, what: str = "") -> Quantity:
    """Read a whole number of pots or plants, from 1 to a million."""
    what = what or _("count")
    cell = one_cell(text, what)
    number, rest = leading_number(cell, what, "60")
    if rest.casefold() not in {"", "pots", "pot", "plants", "plant", "x", "×", "pcs", "cells", "trays"}:
        raise BadText(what, text, _("is not a plain count"), _("Give a whole number such as 60."))
    if number.denominator != 1 or number < 1:
        raise BadText(what, text, _("is not a whole number above 0"), _("Give one such as 60."))
    if number > LARGEST_COUNT:
        raise BadText(
            what, text, _("is too large"), _("Give at most {most}.").format(most=f"{LARGEST_COUNT:,}")
        )
    return Quantity(number, "", cell)


def days(text: str, what: str = "") -> Quantity:
    """Read how long a mix keeps: a whole number of days or weeks, up to ten years. [days]"""
    what = what or _("days")
    cell = one_cell(text, what)
    number, rest = leading_number(cell, what, "14")
    weeks = rest.casefold() in {"week", "weeks"}
    if not weeks and rest.casefold() not in {"", "d", "day", "days"}:
        raise BadText(what, text, _("is not a time in days"), _("Give it such as 14 days or 2 weeks."))
    number = 7 * number if weeks else number
    if number.denominator != 1 or not 1 <= number <= MOST_DAYS:
        raise BadText(
            what,
            text,
            _("is not a whole number of days from 1 to {most}").format(most=MOST_DAYS),
            _("Give one such as 14."),
        )
    return Quantity(number, "", cell)


def rate_g_per_l(text: str, what: str = "") -> Quantity:
    """Read how much of an amendment goes into a litre of finished mix. [g/L]

    Parameters
    ----------
    text : str
        “3 g/L”, “3 kg/m3”, “10 lb/yd3”, “4 oz per 8 imperial gal”, “2 oz per US bushel”.

    Raises
    ------
    BadText
        If it is in spoons or other measures that hold a different mass of each material, or cannot be read.
    """
    what = what or _("rate")
    cell = one_cell(text, what)
    example = "3 g/L"
    number, rest = leading_number(cell, what, example)
    parts = re.split(r"\s*(?:/|\bper\b|\bto the\b)\s*", rest, maxsplit=1, flags=re.IGNORECASE)
    mass = units.tidy(parts[0])
    if mass in units.SPOONS:
        raise BadText(
            what,
            text,
            _("is in a measure ({unit}) that holds a different mass of every material").format(unit=mass),
            _("Weigh one level measure of it here and give grams, such as {example}.").format(
                example=example
            ),
        )
    if len(parts) == 1 or not parts[1]:
        raise BadText(
            what,
            text,
            _("does not say per how much mix"),
            _("Write it as {example} or 3 kg/m3.").format(example=example),
        )
    per_number, per_unit = Fraction(1), parts[1]
    if re.match(rf"[0-9{VULGAR_SIGNS}]", parts[1]):
        per_number, per_unit = leading_number(parts[1], what, example)
    factor = _factor(mass, text, what, example, units.GRAMS)
    volume = _factor(units.tidy(per_unit), text, what, example, units.LITRES)
    if not per_number > 0:
        raise BadText(
            what, text, _("is per no volume at all"), _("Write it as {example}.").format(example=example)
        )
    return _within(
        Quantity(number * factor / (per_number * volume), "g/L", cell), what, LARGEST_RATE_G_PER_L, zero=False
    )


def _read(
    text: str,
    what: str,
    unit: str,
    example: str,
    factors: Mapping[str, Fraction],
    largest: int,
    *,
    zero: bool,
) -> Quantity:
    cell = one_cell(text, what)
    number, rest = leading_number(cell, what, example)
    factor = _factor(units.tidy(rest), text, what, example, factors)
    return _within(Quantity(number * factor, unit, cell), what, largest, zero=zero)


def _within(quantity: Quantity, what: str, largest: int, *, zero: bool) -> Quantity:
    if quantity.exact < 0 or (quantity.exact == 0 and not zero):
        must = _("It must be 0 or more.") if zero else _("It must be above 0.")
        problem = _("is below 0") if quantity.exact < 0 else _("is nothing at all")
        raise BadText(what, quantity.typed, problem, must)
    if quantity.exact > largest:
        raise BadText(
            what,
            quantity.typed,
            _("is too large"),
            _("It must be at most {largest} {unit}.").format(largest=f"{largest:,}", unit=quantity.unit),
        )
    if 0 < quantity.exact < SMALLEST:
        raise BadText(
            what,
            quantity.typed,
            _("is too small"),
            _("It must be at least 0.000001 {unit}.").format(unit=quantity.unit),
        )
    return quantity


def _factor(unit: str, text: str, what: str, example: str, factors: Mapping[str, Fraction]) -> Fraction:
    if unit in factors:
        return factors[unit]
    write = _("Write it as {example}.").format(example=example)
    if not unit:
        raise BadText(what, text, _("has no unit"), write)
    if unit == "%":
        raise BadText(what, text, _("is in per cent"), write)
    if unit in units.TRADE_POT:
        raise BadText(
            what,
            text,
            _("names a pot, not a volume"),
            _("Measure the pot and give litres, or its inside sizes."),
        )
    if several := units.choices(unit):
        raise BadText(
            what,
            text,
            _("can mean more than one size"),
            _("Say which: {choices}.").format(choices=units.any_of(several)),
        )
    if unit in units.OWN_VESSELS | units.SPOONS:
        raise BadText(
            what,
            text,
            _("is in a measure of no fixed size ({unit})").format(unit=unit),
            _("Say what yours holds, as in {example}.").format(example=example),
        )
    if unit in units.LITRES or unit in units.CENTIMETRES or unit in units.GRAMS:
        raise BadText(what, text, _("is in a unit of another kind ({unit})").format(unit=unit), write)
    raise BadText(what, text, _("has a unit that is not known"), write)
