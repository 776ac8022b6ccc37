"""Codes of batches: short, written by hand, read out, and checked.

A code is the year, a running number and a check sign, such as `26-334J`. The signs leave out what is
mixed up in handwriting or over a mixer's noise (0 O 1 I L 2 Z 5 S 8 B G Q D U V W); the year is always
two digits at the front, so its 0 and 1 cannot be letters. There are 19 signs, a prime: with different
weights the check sign then finds every single misread sign and every swap of two neighbours.
"""

import re

from friable.errors import BadQuantity, BadText
from friable.wording import gettext as _

SIGNS = "34679ACEFHJKMNPRTXY"
SHORTEST_BODY = 3


def batch_code(year: int, number: int) -> str:
    """Return the code of the batch with this number in this year.

    Raises
    ------
    BadQuantity
        If the number is below 1.
    """
    if not number >= 1:
        raise BadQuantity(_("the number of a batch"), number, "", _("at least 1"))
    body = ""
    rest = number - 1
    while rest or len(body) < SHORTEST_BODY:
        rest, sign = divmod(rest, len(SIGNS))
        body = SIGNS[sign] + body
    shown_year = f"{year % 100:02d}"
    return f"{shown_year}-{body}{_check_sign(shown_year, body)}"


def read_batch_code(text: str) -> str:
    """Return a code as it is stored, from how somebody wrote it.

    Raises
    ------
    BadText
        If it cannot be a code, or its check sign does not fit.
    """
    plain = re.sub(r"[\s.\-–—]", "", text).upper()
    found = re.fullmatch(rf"([0-9]{{2}})([{SIGNS}]{{{SHORTEST_BODY},}})([{SIGNS}])", plain)
    if not found or len(plain) > 10:
        raise BadText(
            _("The batch code"),
            text,
            _("is not the code of a batch"),
            _("It looks like {example}.").format(example=batch_code(2026, 1)),
        )
    year, body, check = found.groups()
    if check != _check_sign(year, body):
        raise BadText(
            _("The batch code"),
            text,
            _("has a sign that does not fit the others"),
            _("Read the label again."),
        )
    return f"{year}-{body}{check}"


def _check_sign(year: str, body: str) -> str:
    values = [int(digit) for digit in year] + [SIGNS.index(sign) for sign in body]
    total = sum((place + 2) * value for place, value in enumerate(values))
    return SIGNS[-total % len(SIGNS)]
