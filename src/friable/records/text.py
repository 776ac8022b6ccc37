"""What may be written as a name, a note or initials."""

import re
import unicodedata

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

LONGEST_NAME = 120
LONGEST_NOTE = 4000
LONGEST_INITIALS = 6

# Cc control, Cf format (bidi marks, zero width), Cs surrogate, Co private use, Cn unassigned, Zl/Zp line and
# paragraph separators: categories of the Unicode standard, chapter 4.
HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}

CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


def one_line(text: str) -> None:
    """Refuse characters that cannot be seen, or that turn the line round."""
    _refuse_hidden(text, allowed="")


def several_lines(text: str) -> None:
    """Refuse the same, but for line ends and tabs."""
    _refuse_hidden(text, allowed="\n\r\t")


def pasted_file(text: str) -> None:
    """Refuse control characters, which no list and no weather file has; quick on long texts."""
    found = CONTROLS.search(text)
    if found:
        raise ValidationError(
            _("has a character that is no text (U+%(code)s, character %(position)s); is it a picture?"),
            code="written",
            params={"code": f"{ord(found.group()):04X}", "position": found.start() + 1},
        )


def initials(text: str) -> None:
    """Refuse anything but one to six letters or digits."""
    if not re.fullmatch(rf"[^\W_]{{1,{LONGEST_INITIALS}}}", text):
        raise ValidationError(
            _("must be one to %(most)s letters or digits, such as “MK”."),
            code="written",
            params={"most": LONGEST_INITIALS},
        )


def tidy(text: str) -> str:
    """Return a name in one normal form (NFC), with single spaces and none at the ends."""
    return re.sub(" +", " ", unicodedata.normalize("NFC", text)).strip(" ")


def _refuse_hidden(text: str, allowed: str) -> None:
    for position, ch in enumerate(text, start=1):
        if unicodedata.category(ch) in HIDDEN and ch not in allowed:
            raise ValidationError(
                _("has a character that cannot be seen (U+%(code)s, character %(position)s); type it again."),
                code="written",
                params={"code": f"{ord(ch):04X}", "position": position},
            )
