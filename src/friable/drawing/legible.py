"""Typed text made fit for paper and pictures: visible characters only, lines of a width."""

import re
import unicodedata

from friable.wording import gettext as _

# Marks that turn the direction of the text around them; they can make a label read as something else.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_HELD_BACK = frozenset({"Cc", "Cs", "Co", "Cn", "Zl", "Zp"})
_WIDE = frozenset({"W", "F"})
AVERAGE_WIDTH = 0.53  # of the type size, for the shipped typeface; a little on the wide side
_STAYS_WITH_NUMBER = re.compile(r"(?<=\d) (?=(%|cm|L|kg|g|mm)(?!\w))")


def plain_text(text: object, longest: int = 400) -> str:
    """Return text on one line without control characters and without marks that turn its direction.

    Everything else prints as it was typed. Text beyond `longest` characters ends in an ellipsis.
    """
    raw = str(text)[: 4 * longest]
    kept = "".join(" " if unicodedata.category(ch) in _HELD_BACK else ch for ch in raw if ch not in _TURNING)
    kept = " ".join(kept.split())
    return kept if len(kept) <= longest else kept[: longest - 1].rstrip() + "…"


def text_width(text: str, size: float) -> float:
    """Return about how wide a line of text is, in the unit of its type size."""
    em = sum(1.05 if unicodedata.east_asian_width(ch) in _WIDE else AVERAGE_WIDTH for ch in text)
    return em * size


def wrapped(text: str, size: float, width: float, most_lines: int = 4) -> list[str]:
    """Return the text as lines that fit a width; a word longer than a line is broken.

    A number stays with its unit. Text beyond `most_lines` ends in an ellipsis.
    """
    lines: list[str] = []
    line = ""
    for word in _STAYS_WITH_NUMBER.sub("\u00a0", " ".join(text.split())).split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer, size) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, size) > width and len(word) > 1:
            cut = max(1, _characters_that_fit(word, size, width))
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    if line:
        lines.append(line)
    if len(lines) > most_lines:
        lines = lines[:most_lines]
        lines[-1] = lines[-1][: max(1, len(lines[-1]) - 2)].rstrip() + "…"
    return [line.replace("\u00a0", " ") for line in lines]


def per_cent(share: float) -> str:
    """Return a share as whole per cent, with its sign."""
    return _("{number} %").format(number=f"{100 * share:.0f}")


def figure(number: float) -> str:
    """Return a length or volume with one decimal at most."""
    return f"{round(number, 1):g}"


def _characters_that_fit(word: str, size: float, width: float) -> int:
    count = 0
    while count < len(word) and text_width(word[: count + 1], size) <= width:
        count += 1
    return count
