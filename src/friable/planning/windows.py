"""Windows typed into a file, told in words, and held against the figures of a mix."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from friable.planning.forecast import merge_parts
from friable.planning.windows_file import WindowsFile, read_windows
from friable.reference.material_flags import MaterialFlags, material_flags
from friable.reference.materials import Material
from friable.reference.sources import cited
from friable.reference.windows import SHARES, Window, label, unit, worst
from friable.wording import gettext as _

__all__ = [
    "Figure", "Verdict", "WindowsFile", "asked", "figure_said", "flag_word", "mix_flags", "read_windows",
    "said", "side", "verdicts", "where",
]  # fmt: skip

A_FIFTH = 0.2
ROUNDING = 1e-9
WORST_OF = ("lime", "feed", "dust", "hygiene", "draws_nitrogen")

Figure = float | str | None  # a number, the word of a flag, or None where it is not known


@dataclass(frozen=True, slots=True)
class Verdict:
    """How one figure lies to its window."""

    window: Window
    figure: Figure
    side: str  # within, below, above; outside (a flag); unknown (there is no figure)

    @property
    def is_within(self) -> bool:
        """Whether the figure is known and lies within."""
        return self.side == "within"

    @property
    def words(self) -> str:
        """The figure and how it lies, as in “air 12 %, below 20 to 35 %”."""
        quantity = label(self.window.quantity)
        if self.figure is None:
            return _("{quantity}: no figure, asked {asked}").format(
                quantity=quantity, asked=asked(self.window)
            )
        figure = (
            self.figure if isinstance(self.figure, str) else figure_said(self.window.quantity, self.figure)
        )
        return {
            "within": _("{quantity} {figure}, within {asked}"),
            "below": _("{quantity} {figure}, below {asked}"),
            "above": _("{quantity} {figure}, above {asked}"),
            "outside": _("{quantity}: {figure}, asked {asked}"),
        }[self.side].format(quantity=quantity, figure=figure, asked=asked(self.window))


def verdicts(windows: Sequence[Window], figures: Mapping[str, Figure]) -> tuple[Verdict, ...]:
    """Return how each window is met by the figures of a mix, in the order of the windows.

    Parameters
    ----------
    windows : sequence of Window
    figures : mapping of quantity to number or word
        Under the names of the windows; one that is missing or None is unknown, never met.
    """
    return tuple(
        Verdict(window, figures.get(window.quantity), side(window, figures.get(window.quantity)))
        for window in windows
    )


def side(window: Window, figure: Figure) -> str:
    """Return where a figure lies: within, below, above; outside for a flag; unknown without a figure."""
    if figure is None or figure != figure:
        return "unknown"
    if window.is_flag:
        return "within" if window.holds(figure) else "outside"
    if isinstance(figure, str):
        return "unknown"
    if window.low is not None and figure < window.low:
        return "below"
    return "above" if window.high is not None and figure > window.high else "within"


def said(window: Window) -> str:
    """Return a window in words with its origin: “air 20 to 35 % [source]”."""
    return f"{label(window.quantity)} {asked(window)} [{where(window)}]"


def asked(window: Window) -> str:
    """Return what a window asks, without its quantity: “at least 2 years”, “no or sometimes”."""
    if window.is_flag:
        return _(" or ").join(flag_word(word) for word in window.allowed)
    quantity, low, high = window.quantity, window.low, window.high
    if low is not None and high is not None:
        return _("{low} to {high}").format(low=_bare(quantity, low), high=figure_said(quantity, high))
    if low is not None:
        return _("at least {low}").format(low=figure_said(quantity, low))
    return _("at most {high}").format(high=figure_said(quantity, high or 0.0))


def where(window: Window) -> str:
    """Return who says so, and how well it is known."""
    if window.how_known == "keeper":
        day = window.set_on.isoformat() if window.set_on else ""
        return _("set by the keeper on {day}").format(day=day) if day else _("set by the keeper")
    if window.source in ("memory", "none-common-practice"):
        return {"memory": _("memory"), "common practice": _("common practice")}[window.how_known]
    known = {
        "memory": _("from memory: {source}"),
        "common practice": _("common practice: {source}"),
        "estimated": _("estimated from: {source}"),
    }.get(window.how_known, "{source}")
    return known.format(source=cited(window.source).rstrip("."))


def figure_said(quantity: str, figure: float) -> str:
    """Return a figure in the unit in which it is read: per cent for shares."""
    if quantity in SHARES:
        return _("{number} %").format(number=_bare(quantity, figure))
    if quantity == "years" and figure == 1:
        return _("1 year")
    return f"{_bare(quantity, figure)} {unit(quantity)}".strip()


def _bare(quantity: str, figure: float) -> str:
    return f"{100 * figure:.3g}" if quantity in SHARES else f"{figure:.3g}"


def flag_word(word: str) -> str:
    """Return the word of a flag in the reader's language."""
    return {
        "no": _("no"),
        "yes": _("yes"),
        "sometimes": _("sometimes"),
        "unknown": _("unknown"),
        "clean": _("clean"),
        "usually clean": _("usually clean"),
        "treat first": _("treat first"),
    }[word]


def mix_flags(
    parts: Sequence[tuple[Material, float]], flags: Mapping[str, MaterialFlags] | None = None
) -> dict[str, Figure]:
    """Return what a mix is without its water: shares, years it lasts, and the word of each flag.

    Parameters
    ----------
    parts : sequence of (Material, loose volume)
        In any one unit of volume.
    flags : mapping, optional
        Flags by key of the material, where they are known otherwise than from the tables.

    Returns
    -------
    dict
        mineral_share and peat_share (of what is poured), years, lime, feed, dust, hygiene, draws_nitrogen.

    Raises
    ------
    BadRecipe, BadQuantity
        If there is no part, or a part is not above 0.

    Notes
    -----
    The worst part decides a flag. A mix lasts as long as the shortest-lived part of at least a fifth of it
    (of all, where none is so large), by the low end of what is known; None where one of these is not known.
    """
    merged = merge_parts(parts)
    total = sum(amount for _material, amount in merged)
    known = [
        ((flags or {}).get(material.key) or material_flags(material), amount / total)
        for material, amount in merged
    ]
    large = [flag for flag, share in known if share >= A_FIFTH - ROUNDING] or [flag for flag, _share in known]
    lives = [flag.years_low for flag in large]
    found: dict[str, Figure] = {
        "mineral_share": sum(share for flag, share in known if flag.mineral),
        "peat_share": sum(share for flag, share in known if flag.peat),
        "years": None if None in lives else min(life for life in lives if life is not None),
    }
    for name in WORST_OF:
        found[name] = worst(name, tuple(getattr(flag, name) for flag, _share in known))
    return found
