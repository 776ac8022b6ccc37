"""Figures as the answers to sayings say them."""

from friable.planning.reading import with_range
from friable.planning.sayings.drawn_together import TELLS_APART
from friable.science.estimate import Estimate
from friable.wording import gettext as _


def share_said(figure: Estimate) -> str:
    """Return a share with its range, to stand inside a sentence: “27 % (18 to 36)”."""
    value, comma, between = with_range(figure).partition(", ")
    return _("{value} ({between})").format(value=value, between=between) if comma else value


def points(change: Estimate) -> str:
    """Return a change of a share in points, with its range: “-15 points (-20 to -9)”."""
    value, low, high = (f"{round(100 * x) or 0:+d}" for x in (change.value, change.low, change.high))
    value, low, high = (text if int(text) else "0" for text in (value, low, high))
    if low == high:
        return _("{value} points").format(value=value)
    return _("{value} points ({low} to {high})").format(value=value, low=low, high=high)


def centimetres(height: Estimate) -> str:
    """Return a height with its range: “3.1 cm (1.9 to 5)”."""
    value, low, high = (f"{round(x, 1):g}" for x in (height.value, height.low, height.high))
    if low == high:
        return _("{value} cm").format(value=value)
    return _("{value} cm ({low} to {high})").format(value=value, low=low, high=high)


def between_litres(low: float, high: float) -> str:
    """Return a span of litres: “3.1 to 5 L”."""
    return _("{low} to {high} L").format(low=f"{low:.3g}", high=f"{high:.3g}")


def litres(volume: float) -> str:
    """Return a volume in litres, to three digits."""
    return _("{number} L").format(number=f"{volume:.3g}")


def times(factor: float) -> str:
    """Return a multiple, to two digits."""
    return f"{factor:.2g}"


def tells(change: float, apart: float = TELLS_APART) -> int:
    """Return 1 for more, -1 for less, 0 where a difference is too small to be told."""
    if abs(change) < apart:
        return 0
    return 1 if change > 0 else -1


def too_little() -> str:
    """Return the sentence on a difference that the rule cannot tell."""
    return _(
        "On published mixes forecasts of air miss by about {points} points, so this tells nothing."
    ).format(points=round(100 * TELLS_APART))
