"""Every refusal friable makes on purpose. Anything else that is raised is a bug.

FriableError
├── BadQuantity     a number that is physically impossible
├── BadText         something typed that cannot be read
├── UnknownName     a name that nothing has
├── AmbiguousName   a name that several things have
├── BadRecipe       a recipe that cannot be made
├── BadFile         a file that is torn, foreign or too new
└── Refused         an act that is not allowed now

`str(error)` is one sentence for the person: what, its value and unit, what it must be, what to do next.
"""

import math
import unicodedata
from collections.abc import Sequence

from friable.wording import gettext as _

LONGEST_ECHO = 60


def shown(text: object) -> str:
    """Return typed text fit to stand in a sentence: short, on one line, without hidden characters."""
    raw = str(text)
    kept = "".join(
        " " if unicodedata.category(ch) in {"Cc", "Zl", "Zp", "Zs"} else ch
        for ch in raw[: 4 * LONGEST_ECHO]
        if unicodedata.category(ch) not in {"Cf", "Cs", "Co", "Cn"} or ch in "\t\n\r"
    )
    kept = " ".join(kept.split())
    return kept if len(kept) <= LONGEST_ECHO else kept[: LONGEST_ECHO - 1] + "…"


class FriableError(Exception):
    """Something was refused on purpose; the text says what, why and what to do."""


class BadQuantity(FriableError):
    """A quantity lies outside what is physically possible."""

    def __init__(self, name: str, value: float, unit: str, must_be: str, remedy: str = "") -> None:
        self.name, self.value, self.unit, self.must_be, self.remedy = name, value, unit, must_be, remedy
        number = _("not a number") if math.isnan(value) else f"{value:.6g}"
        amount = f"{number} {unit}" if unit else number
        sentence = _("{name} is {amount}; it must be {must_be}.").format(
            name=name, amount=amount, must_be=must_be
        )
        super().__init__(f"{sentence} {remedy}".strip())


class BadText(FriableError):
    """Something typed cannot be read."""

    def __init__(self, what: str, text: object, problem: str, remedy: str = "") -> None:
        self.what, self.text, self.problem, self.remedy = what, text, problem, remedy
        sentence = _("{what} “{text}” {problem}.").format(what=what, text=shown(text), problem=problem)
        super().__init__(f"{sentence} {remedy}".strip())


class UnknownName(FriableError):
    """A name that nothing has."""

    def __init__(self, kind: str, name: object, near: Sequence[str] = ()) -> None:
        self.kind, self.name, self.near = kind, name, tuple(near)
        sentence = _("No {kind} is called “{name}”.").format(kind=kind, name=shown(name))
        if near:
            sentence += " " + _("Nearest: {near}.").format(near=", ".join(near))
        else:
            sentence += " " + _("Look at the list of what is known, or write it in another way.")
        super().__init__(sentence)


class AmbiguousName(FriableError):
    """A name that several things have."""

    def __init__(self, kind: str, name: object, choices: Sequence[str]) -> None:
        self.kind, self.name, self.choices = kind, name, tuple(choices)
        super().__init__(
            _("“{name}” can mean more than one {kind}; say which: {choices}.").format(
                name=shown(name), kind=kind, choices=", ".join(choices)
            )
        )


class BadRecipe(FriableError):
    """A recipe that cannot be made as it stands."""


class BadFile(FriableError):
    """A file that is torn, foreign, or from a newer friable."""


class Refused(FriableError):
    """An act that is not allowed as things stand."""
