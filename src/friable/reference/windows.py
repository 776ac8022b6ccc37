"""A window: the range asked of one quantity, or the words allowed of one flag, and who says so."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from friable.errors import BadQuantity, BadText
from friable.science.estimate import HOW_KNOWN
from friable.wording import gettext as _

SHARES = (
    "air_space", "container_capacity", "total_porosity", "available_water", "easily_available_water",
    "mineral_share", "peat_share",
)  # fmt: skip
NUMBERS = (
    "air_space", "container_capacity", "total_porosity", "available_water", "easily_available_water",
    "wet_density_kg_l", "dry_bulk_density_g_cm3", "mineral_share", "peat_share", "cost_per_l", "years",
)  # fmt: skip
FLAGS = ("lime", "feed", "dust", "hygiene")

# The words of each flag, from best to worst: in a mix the worst part decides.
YES_OR_NO = ("no", "sometimes", "unknown", "yes")
HYGIENE = ("clean", "usually clean", "unknown", "treat first")
WORDS_OF: Mapping[str, tuple[str, ...]] = {
    "lime": YES_OR_NO,
    "feed": YES_OR_NO,
    "dust": YES_OR_NO,
    "hygiene": HYGIENE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What is asked of one quantity: low and high (None: no such end), or for a flag the words allowed.

    Shares of bulk volume run 0 to 1. An end belongs to the window.

    Raises
    ------
    BadText, BadQuantity
        If the quantity is none of ours, the window has no end, its ends are impossible or out of order, or
        a flag allows a word that it does not have.
    """

    quantity: str  # one of NUMBERS or FLAGS
    low: float | None = None
    high: float | None = None
    allowed: tuple[str, ...] = ()
    how_known: str
    source: str  # keys of the bibliography joined by ;, or "keeper"
    note: str = ""
    set_on: date | None = None  # day on which a keeper set it; None: from the tables

    def __post_init__(self) -> None:
        if self.how_known not in (*HOW_KNOWN, "keeper"):
            raise ValueError(f"how_known is {self.how_known!r}; it must be one of {', '.join(HOW_KNOWN)}")
        if self.quantity in FLAGS:
            self._refuse_bad_flag()
        elif self.quantity in NUMBERS:
            self._refuse_bad_ends()
        else:
            raise BadText(
                _("the quantity"),
                self.quantity,
                _("is none that a window is set for"),
                _("Use one of: {names}.").format(names=", ".join((*NUMBERS, *FLAGS))),
            )

    @property
    def is_flag(self) -> bool:
        """Whether this window allows words, not a range of numbers."""
        return self.quantity in FLAGS

    def holds(self, figure: float | str) -> bool:
        """Say whether a figure, or the word of a flag, lies within."""
        if isinstance(figure, str):
            return figure in self.allowed
        return (self.low is None or figure >= self.low) and (self.high is None or figure <= self.high)

    def _refuse_bad_flag(self) -> None:
        words = WORDS_OF[self.quantity]
        if self.low is not None or self.high is not None or not self.allowed:
            raise BadText(
                _("the window"),
                self.quantity,
                _("takes words that are allowed, not a range"),
                _("Allow some of: {words}.").format(words=", ".join(words)),
            )
        for word in self.allowed:
            if word not in words:
                raise BadText(
                    label(self.quantity),
                    word,
                    _("is not a word of this flag"),
                    _("Use some of: {words}.").format(words=", ".join(words)),
                )

    def _refuse_bad_ends(self) -> None:
        if self.allowed or (self.low is None and self.high is None):
            raise BadText(
                _("the window"),
                self.quantity,
                _("has no end"),
                _("Give it a low end, a high end, or both."),
            )
        most = 1.0 if self.quantity in SHARES else math.inf
        for end in (self.low, self.high):
            if end is not None and not (0 <= end <= most and math.isfinite(end)):
                must_be = _("from 0 to 1 (0 to 100 %)") if most == 1 else _("0 or more")
                raise BadQuantity(
                    _("an end of the window of {quantity}").format(quantity=label(self.quantity)),
                    end,
                    unit(self.quantity),
                    must_be,
                )
        if self.low is not None and self.high is not None and not self.low <= self.high:
            raise BadQuantity(
                _("the low end of the window of {quantity}").format(quantity=label(self.quantity)),
                self.low,
                unit(self.quantity),
                _("at most the high end, {high:g}").format(high=self.high),
            )


def label(quantity: str) -> str:
    """Return the name of a quantity of a window, as a reader calls it."""
    return {
        "air_space": _("air"),
        "container_capacity": _("water held"),
        "total_porosity": _("pores"),
        "available_water": _("available water"),
        "easily_available_water": _("easily available water"),
        "wet_density_kg_l": _("wet weight"),
        "dry_bulk_density_g_cm3": _("dry bulk density"),
        "mineral_share": _("mineral share"),
        "peat_share": _("peat share"),
        "cost_per_l": _("cost"),
        "years": _("life"),
        "lime": _("lime"),
        "feed": _("plant food"),
        "dust": _("dust"),
        "hygiene": _("hygiene"),
    }[quantity]


def unit(quantity: str) -> str:
    """Return the unit in which a quantity of a window is kept; shares and flags have none."""
    return {
        "wet_density_kg_l": _("kg/L"),
        "dry_bulk_density_g_cm3": _("g/cm3"),
        "cost_per_l": _("per litre"),
        "years": _("years"),
    }.get(quantity, "")


def worst(flag: str, words: tuple[str, ...]) -> str:
    """Return the worst of the words of a flag: what a mix of such parts must be called."""
    return max(words, key=WORDS_OF.get(flag, YES_OR_NO).index)
