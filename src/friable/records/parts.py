"""Parts by volume: a fraction on the bench, a decimal in the database, and back without loss of thirds."""

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

STEP = Decimal("0.000001")
LARGEST_DENOMINATOR = 1000


def stored(parts: Fraction) -> Decimal:
    """Return parts as the column holds them, to a millionth."""
    return (Decimal(parts.numerator) / Decimal(parts.denominator)).quantize(STEP, ROUND_HALF_EVEN)


def exact(column: Decimal) -> Fraction:
    """Return parts as they were written: the simplest fraction that is stored as this decimal."""
    simple = Fraction(column).limit_denominator(LARGEST_DENOMINATOR)
    return simple if stored(simple) == column.quantize(STEP) else Fraction(column)


def written(column: Decimal) -> str:
    """Return parts as text: `5`, `3.3`, `1/3`."""
    parts = exact(column)
    short = f"{column.normalize():f}"
    return short if len(short) <= len("0.1234") else f"{parts.numerator}/{parts.denominator}"
