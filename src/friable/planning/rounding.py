"""Round once, at the edge, so that what is printed still adds up."""

from collections.abc import Sequence
from fractions import Fraction

from friable.science.conversion import exact

# Whole decilitres on a bench, centilitres for a jug, millilitres for a spoon: common practice, no source.
FINE_BELOW_L = 10
FINEST_BELOW_L = 1


def step_for(total_l: float) -> float:
    """Return the step to which a volume of this size is printed. [L]"""
    if total_l < FINEST_BELOW_L:
        return 0.001
    return 0.01 if total_l < FINE_BELOW_L else 0.1


def rounded(value: "float | Fraction", step: "float | Fraction") -> Fraction:
    """Return the multiple of the step that is nearest; halves go up."""
    size = exact(step)
    steps = exact(value) / size + Fraction(1, 2)
    return (steps.numerator // steps.denominator) * size


def add_up(
    values: "Sequence[float | Fraction]", total: "float | Fraction", step: "float | Fraction"
) -> list[float]:
    """Round values so that they add up to the rounded total.

    Parameters
    ----------
    values : sequence of numbers, 0 or more
        They add up to `total` before rounding.
    total, step : number
        Sum of the values, and the step to which it and they are printed.

    Returns
    -------
    list of float
        Multiples of the step; each less than one step from its value. Where rounding each to the
        nearest misses
        the total, the largest values give way, because there one step matters least.
    """
    size = exact(step)
    true = [exact(value) for value in values]
    near = [rounded(value, size) for value in true]
    missing = (rounded(total, size) - sum(near, Fraction(0))) / size
    up = missing > 0
    for place in sorted(range(len(true)), key=lambda i: (-true[i], i)):
        if missing == 0:
            break
        if up and near[place] < true[place]:
            near[place] += size
            missing -= 1
        elif not up and near[place] > true[place]:
            near[place] -= size
            missing += 1
    return [float(value) for value in near]


def whole_and_remainder(volume_l: float, bucket_l: float, step: float) -> tuple[int, float]:
    """Return how many whole buckets a volume is, and what is left over. [L]

    The volume is rounded to the step first, so a remainder never prints as a full bucket.
    """
    volume, bucket = rounded(volume_l, step), exact(bucket_l)
    whole = volume // bucket
    return int(whole), float(volume - whole * bucket)
