"""What a command prints: JSON for programs, aligned plain text for people, one sentence for a refusal."""

import json
import re
import sys
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from friable.errors import LONGEST_ECHO
from friable.wording import gettext as _

LONGEST_SENTENCE = 400
FLOOD = re.compile(r"\S{161,}")  # longer than any path that one would type
GAP = "  "


def print_json(answer: Mapping[str, Any]) -> None:
    """Print an answer as JSON in plain ASCII, which every terminal and pipe carries."""
    sys.stdout.write(json.dumps(answer, indent=2, allow_nan=False) + "\n")


def print_lines(lines: Iterable[str]) -> None:
    """Print lines for people."""
    sys.stdout.write("\n".join(lines) + "\n")


def print_refusal(sentence: str) -> None:
    """Print one sentence on one line of standard error."""
    seen = "".join(" " if unicodedata.category(ch) in {"Cc", "Zl", "Zp"} else ch for ch in sentence)
    clean = " ".join("".join(ch for ch in seen if unicodedata.category(ch) not in {"Cf", "Cs"}).split())
    clean = FLOOD.sub(lambda flood: flood[0][: LONGEST_ECHO - 1] + "…", clean)
    if len(clean) > LONGEST_SENTENCE:
        clean = clean[: LONGEST_SENTENCE - 1] + "…"
    sys.stderr.write(clean + "\n")


def columns(rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """Return rows set in columns; those named in `right` end flush, as numbers do."""
    if not rows:
        return []
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append(GAP.join(cells).rstrip())
    return lines


def titled(title: str, lines: Sequence[str]) -> list[str]:
    """Return lines under a title, with a blank line before; nothing if there are none."""
    return ["", title, *(f"{GAP}{line}" for line in lines)] if lines else []


def share(value: float) -> str:
    """Return a share as whole per cent."""
    return _("{number} %").format(number=round(100 * value))


def how_known(how: str) -> str:
    """Return how a figure is known, in the reader's language."""
    words = {
        "computed": _("computed"),
        "measured": _("measured"),
        "published": _("published"),
        "estimated": _("estimated"),
        "memory": _("memory"),
        "common practice": _("common practice"),
    }
    return words.get(how, how)
