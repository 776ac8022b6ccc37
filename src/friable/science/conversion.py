"""Exact factors between the units that a bag, a book or a tape measure uses and ours.

Everything is a `Fraction`, because the units are defined exactly: the inch and the avoirdupois pound by the
international yard and pound agreement of 1959, the US gallon as 231 cubic inches, the US bushel as 2150.42
cubic inches (NIST Handbook 44, Appendix C), the imperial gallon as 4.54609 L (UK Weights and Measures Act
1985, Schedule 1). Ours are the litre, the centimetre and the gram.
"""

from fractions import Fraction

CM_PER_INCH = Fraction("2.54")
CM_PER_FOOT = 12 * CM_PER_INCH
CM_PER_YARD = 3 * CM_PER_FOOT

L_PER_CUBIC_INCH = CM_PER_INCH**3 / 1000
L_PER_CUBIC_FOOT = CM_PER_FOOT**3 / 1000  # 28.316846592
L_PER_CUBIC_YARD = CM_PER_YARD**3 / 1000  # 764.554857984

L_PER_US_GALLON = 231 * L_PER_CUBIC_INCH  # liquid: 3.785411784
L_PER_US_LIQUID_QUART = L_PER_US_GALLON / 4
L_PER_US_LIQUID_PINT = L_PER_US_GALLON / 8
L_PER_US_FLUID_OUNCE = L_PER_US_GALLON / 128

L_PER_US_BUSHEL = Fraction("2150.42") * L_PER_CUBIC_INCH  # 35.23907016688
L_PER_US_PECK = L_PER_US_BUSHEL / 4
L_PER_US_DRY_GALLON = L_PER_US_BUSHEL / 8  # 4.40488377086
L_PER_US_DRY_QUART = L_PER_US_BUSHEL / 32
L_PER_US_DRY_PINT = L_PER_US_BUSHEL / 64

L_PER_IMPERIAL_GALLON = Fraction("4.54609")
L_PER_IMPERIAL_QUART = L_PER_IMPERIAL_GALLON / 4
L_PER_IMPERIAL_PINT = L_PER_IMPERIAL_GALLON / 8
L_PER_IMPERIAL_FLUID_OUNCE = L_PER_IMPERIAL_GALLON / 160
L_PER_IMPERIAL_PECK = 2 * L_PER_IMPERIAL_GALLON
L_PER_IMPERIAL_BUSHEL = 8 * L_PER_IMPERIAL_GALLON  # 36.36872

G_PER_POUND = Fraction("453.59237")
G_PER_OUNCE = G_PER_POUND / 16
G_PER_TONNE = Fraction(1_000_000)
G_PER_US_SHORT_TON = 2000 * G_PER_POUND
G_PER_IMPERIAL_LONG_TON = 2240 * G_PER_POUND


def exact(number: "int | float | Fraction") -> Fraction:
    """Return a number as the fraction that its shortest decimal writing stands for: 0.05 is 1/20.

    Raises
    ------
    ValueError, OverflowError
        If the number is not finite.
    """
    return Fraction(repr(number)) if isinstance(number, float) else Fraction(number)
