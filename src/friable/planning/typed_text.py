"""What was typed, made safe to read: length, hidden characters, pasted cells, and numbers."""

import re
import unicodedata
from fractions import Fraction

from friable.errors import BadText
from friable.wording import gettext as _

MAX_TEXT = 100_000  # characters of a recipe, a job or any other text that may be long
MAX_CELL = 80  # characters of one quantity
LONGEST_NUMBER = 40  # characters of one number
JOINERS = {"\u200c", "\u200d"}  # part of correct spelling in several scripts
INVISIBLE = {"Cf", "Cs", "Co", "Cn"}

VULGAR = {
    "¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10), "⅓": (1, 3), "⅔": (2, 3),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8),
    "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
VULGAR_SIGNS = "".join(VULGAR)
DIGITS = r"[0-9]{1,3}(?:[ ][0-9]{3})+(?![0-9])|[0-9]+"
NUMBER = re.compile(
    rf"""
    (?P<sign>[-+]?)
    (?:
        (?P<whole>[0-9]+)[ ](?P<over>[0-9]+)[ ]?[/⁄][ ]?(?P<under>[0-9]+)   # 1 1/2
      | (?P<top>[0-9]+)[ ]?[/⁄][ ]?(?P<bottom>[0-9]+)                       # 1/2
      | (?P<units>[0-9]*)[ ]?(?P<vulgar>[{VULGAR_SIGNS}])                   # 1½
      | (?P<digits>{DIGITS})?(?:(?P<mark>[.,])(?P<decimals>[0-9]+))?(?P<exponent>[eE][-+]?[0-9]+)?
    )
    """,
    re.VERBOSE,
)


def plain(text: object, what: str, longest: int = MAX_TEXT) -> str:
    """Return typed text on plain spaces, ready to be read; line breaks and tabs stay as they are.

    Raises
    ------
    BadText
        If it is no text, empty, too long, or holds characters that nobody can see.
    """
    if not isinstance(text, str):
        raise BadText(what, text, _("is not text"), _("Type it."))
    if len(text) > longest:
        raise BadText(
            what,
            text,
            _("is too long ({count} characters)").format(count=len(text)),
            _("Give at most {longest}.").format(longest=longest),
        )
    for char in text:
        kind = unicodedata.category(char)
        if (kind in INVISIBLE and char not in JOINERS) or (kind == "Cc" and char not in "\t\n\r"):
            raise BadText(
                what,
                text,
                _("holds a hidden character ({name})").format(
                    name=unicodedata.name(char, f"U+{ord(char):04X}").lower()
                ),
                _("Type it by hand instead of pasting it."),
            )
    spaced = "".join(" " if unicodedata.category(char) in {"Zs", "Zl", "Zp"} else char for char in text)
    if not spaced.strip():
        raise BadText(what, text, _("is empty"), _("Fill it in, or leave it out."))
    return spaced.strip()


def one_cell(text: object, what: str) -> str:
    """Return one short quantity as typed: no line breaks, tabs or quotation marks around it."""
    cell = plain(text, what, MAX_CELL)
    if any(char in "\t\n\r" for char in cell):
        raise BadText(
            what,
            text,
            _("holds a tab or a line break, as a pasted table does"),
            _("Paste one cell at a time."),
        )
    if cell[0] in "\"'“”‘’«»`":
        raise BadText(what, text, _("stands in quotation marks"), _("Leave the quotation marks out."))
    return " ".join(cell.replace("−", "-").split())


def leading_number(cell: str, what: str, example: str) -> tuple[Fraction, str]:
    """Split “1½ cu ft” into the number and what stands after it.

    Raises
    ------
    BadText
        If it does not begin with a number, or the number can be read in two ways.
    """
    lowered = cell.casefold()
    if re.match(r"[-+]?(nan|inf(inity)?)\b", lowered):
        raise BadText(
            what, cell, _("is not a finite number"), _("Write it as {example}.").format(example=example)
        )
    match = NUMBER.match(cell)
    if match is None or not any(ch.isdigit() or ch in VULGAR_SIGNS for ch in match.group()):
        raise BadText(
            what, cell, _("does not begin with a number"), _("Write it as {example}.").format(example=example)
        )
    rest = cell[match.end() :].strip()
    if re.match(r"(-|–|—|to |bis |\.\.)", rest) and re.match(r"\D*[0-9]", rest):
        raise BadText(
            what, cell, _("is a range"), _("Give one number, such as {example}.").format(example=example)
        )
    if rest[:1] in {",", "."} or re.match(r"[0-9]", rest):
        raise BadText(
            what,
            cell,
            _("holds a number that cannot be read"),
            _("Use one decimal point or comma and no other marks, as in {example}.").format(example=example),
        )
    return _value(match, cell, what, example), rest


def _value(match: "re.Match[str]", cell: str, what: str, example: str) -> Fraction:
    if len(match.group()) > LONGEST_NUMBER:
        raise BadText(
            what, cell, _("is out of all proportion"), _("Write it as {example}.").format(example=example)
        )
    sign = -1 if match["sign"] == "-" else 1
    try:
        if match["whole"]:
            return sign * (int(match["whole"]) + Fraction(int(match["over"]), int(match["under"])))
        if match["top"]:
            return sign * Fraction(int(match["top"]), int(match["bottom"]))
    except ZeroDivisionError:
        raise BadText(
            what, cell, _("divides by nought"), _("Write it as {example}.").format(example=example)
        ) from None
    if match["vulgar"]:
        return sign * (int(match["units"] or 0) + Fraction(*VULGAR[match["vulgar"]]))
    digits = (match["digits"] or "").replace(" ", "")
    decimals = match["decimals"] or ""
    if match["mark"] == "," and len(decimals) == 3 and digits.strip("0"):
        raise BadText(
            what,
            cell,
            _("can mean thousands or a decimal comma"),
            _("Write {whole} or {decimal}.").format(whole=digits + decimals, decimal=f"{digits}.{decimals}"),
        )
    exponent = match["exponent"] or ""
    if len(exponent) > len("e-999"):
        raise BadText(
            what, cell, _("is out of all proportion"), _("Write it as {example}.").format(example=example)
        )
    return sign * Fraction(f"{digits or '0'}.{decimals or '0'}{exponent}")
