"""An end of a window as it is typed: “20 %”, “1.1 kg/L”, “18 months”."""

from collections.abc import Mapping
from fractions import Fraction

from friable.errors import BadText
from friable.planning.prices import price_per_l
from friable.planning.typed_text import leading_number, one_cell
from friable.planning.units_in import fraction
from friable.reference.windows import SHARES, label, unit
from friable.wording import gettext as _

LARGEST_END = 10_000
ONE = Fraction(1)
MILLI = Fraction(1, 1000)
DENSITIES: Mapping[str, Fraction] = {
    "kg/l": ONE, "kg/dm3": ONE, "kg/dm³": ONE, "g/cm3": ONE, "g/cm³": ONE, "g/cc": ONE, "g/ml": ONE,
    "t/m3": ONE, "t/m³": ONE, "g/l": MILLI, "kg/m3": MILLI, "kg/m³": MILLI,
}  # fmt: skip
YEARS: Mapping[str, Fraction] = {
    "year": ONE, "years": ONE, "yr": ONE, "y": ONE, "month": Fraction(1, 12), "months": Fraction(1, 12),
}  # fmt: skip
UNITS: Mapping[str, Mapping[str, Fraction]] = {
    "wet_density_kg_l": DENSITIES,
    "dry_bulk_density_g_cm3": DENSITIES,
    "years": YEARS,
    "cost_per_l": {},
}
EXAMPLES: Mapping[str, str] = {
    "wet_density_kg_l": "1.1 kg/L",
    "dry_bulk_density_g_cm3": "0.2 g/cm3",
    "years": "2 years",
    "cost_per_l": "0.20 per L",
}


def example(quantity: str) -> str:
    """Return how an end of the window of a quantity is written."""
    return EXAMPLES.get(quantity, "20 %")


def window_end(quantity: str, text: str, what: str = "") -> float:
    """Read one end of the window of a quantity, in the unit in which it is kept.

    A bare number is in that unit; a share needs its per cent, or is below 1.

    Raises
    ------
    BadText
        If it cannot be read, is in a unit of something else, or is impossible.
    """
    what = what or label(quantity)
    if quantity in SHARES:
        return fraction(text, what).value
    cell = one_cell(text, what)
    if quantity == "cost_per_l" and any(mark in cell.casefold() for mark in ("/", "per ", "for ")):
        return price_per_l(cell, what).cost_per_l
    write = _("Write it as {example}.").format(example=example(quantity))
    number, rest = leading_number(cell, what, example(quantity))
    sign = "".join(rest.casefold().split())
    if sign and sign not in UNITS[quantity]:
        raise BadText(what, text, _("is in a unit of another kind ({unit})").format(unit=rest), write)
    number *= UNITS[quantity].get(sign, ONE)
    if not 0 <= number <= LARGEST_END:
        must = _("It must be from 0 to {most} {unit}.").format(most=f"{LARGEST_END:,}", unit=unit(quantity))
        raise BadText(what, text, _("is out of range"), must)
    return float(number)
