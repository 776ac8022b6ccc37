"""Factors between units, held against an independent library and the definitions."""

from fractions import Fraction

import pint
import pytest

from friable.science import conversion

UNITS = pint.UnitRegistry(non_int_type=Fraction)

# pint's names; its definitions are its own, read from NIST SP 811 and SP 1038 by its authors.
LITRES = {
    "L_PER_CUBIC_INCH": "inch**3",
    "L_PER_CUBIC_FOOT": "foot**3",
    "L_PER_CUBIC_YARD": "yard**3",
    "L_PER_US_GALLON": "gallon",
    "L_PER_US_LIQUID_QUART": "quart",
    "L_PER_US_LIQUID_PINT": "pint",
    "L_PER_US_FLUID_OUNCE": "fluid_ounce",
    "L_PER_US_BUSHEL": "bushel",
    "L_PER_US_PECK": "peck",
    "L_PER_US_DRY_GALLON": "dry_gallon",
    "L_PER_US_DRY_QUART": "dry_quart",
    "L_PER_US_DRY_PINT": "dry_pint",
    "L_PER_IMPERIAL_GALLON": "imperial_gallon",
    "L_PER_IMPERIAL_QUART": "imperial_quart",
    "L_PER_IMPERIAL_PINT": "imperial_pint",
    "L_PER_IMPERIAL_FLUID_OUNCE": "imperial_fluid_ounce",
    "L_PER_IMPERIAL_PECK": "imperial_peck",
    "L_PER_IMPERIAL_BUSHEL": "imperial_bushel",
}
GRAMS = {
    "G_PER_POUND": "pound",
    "G_PER_OUNCE": "ounce",
    "G_PER_TONNE": "metric_ton",
    "G_PER_US_SHORT_TON": "short_ton",
    "G_PER_IMPERIAL_LONG_TON": "long_ton",
}
CENTIMETRES = {"CM_PER_INCH": "inch", "CM_PER_FOOT": "foot", "CM_PER_YARD": "yard"}
EVERY = [
    (name, unit, ours)
    for table, ours in ((LITRES, "liter"), (GRAMS, "gram"), (CENTIMETRES, "centimeter"))
    for name, unit in table.items()
]


@pytest.mark.parametrize(("name", "unit", "ours"), EVERY, ids=[name for name, _unit, _ours in EVERY])
def test_a_factor_agrees_with_an_independent_library(name, unit, ours):
    theirs = (Fraction(1) * UNITS.parse_units(unit)).to(ours).magnitude

    assert float(getattr(conversion, name)) == pytest.approx(float(theirs), rel=1e-12)  # its last digits


def test_every_factor_is_checked():
    factors = {name for name in vars(conversion) if "_PER_" in name}

    assert factors == {name for name, _unit, _ours in EVERY}


def test_factors_are_exact_as_defined():
    # NIST Handbook 44, Appendix C: 1 cubic foot, 1 bushel and 1 liquid quart in litres;
    # UK Weights and Measures Act 1985, Schedule 1: the gallon.
    assert Fraction("28.316846592") == conversion.L_PER_CUBIC_FOOT
    assert Fraction("35.23907016688") == conversion.L_PER_US_BUSHEL
    assert Fraction("0.946352946") == conversion.L_PER_US_LIQUID_QUART
    assert Fraction("36.36872") == conversion.L_PER_IMPERIAL_BUSHEL
    assert Fraction("28.349523125") == conversion.G_PER_OUNCE


@pytest.mark.parametrize(
    ("number", "fraction"), [(0.05, "1/20"), (3, "3"), (0.1 + 0.2, "0.30000000000000004")]
)
def test_a_float_is_taken_as_it_is_written(number, fraction):
    assert conversion.exact(number) == Fraction(fraction)
