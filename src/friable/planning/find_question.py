"""From windows and limits to what is judged of every recipe: linear forms of its figures."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import Refused
from friable.planning.at_hand import AtHand
from friable.planning.find_values import MOST_KINDS, MOST_PARTS, FindCase
from friable.planning.forecast import ENSEMBLE_NODES, suctions_under
from friable.planning.windows import A_FIFTH, asked, flag_word
from friable.reference.materials import all_materials
from friable.reference.windows import FLAGS, label
from friable.science.drainage import NODES, Column, drained_column
from friable.science.mixture import grades
from friable.science.retention import AVAILABLE_DOWN_TO_CM, EASILY_FROM_CM, EASILY_TO_CM
from friable.science.search.question import NO_LIMIT, Question
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

STEP = 0.05  # a depth of 1: five points of air or water, 50 g a litre
HARD = 1e4  # gain of a limit that is no matter of degree
BELOW_A_FIFTH = A_FIFTH - 1e-6
IN_THE_POT = (
    "air_space", "container_capacity", "total_porosity", "available_water", "easily_available_water",
    "wet_density_kg_l", "dry_bulk_density_g_cm3",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class End:
    """One end that every recipe is held against."""

    quantity: str
    end: str  # "low" or "high"
    asked: float
    is_window: bool  # False: a limit, which takes no part in the chance


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """A case as the search takes it: `ends` belong to the forms of the question, in their order."""

    question: Question
    at_hand: tuple[AtHand, ...]  # those that may be used, in the order of their keys
    ends: tuple[End, ...]
    probes_of_draws: tuple[Column, ...]
    forms_of_draws: "Array"  # of the windows alone, for figures without cost
    left_out: tuple[str, ...]  # sentences: which materials may not be used, and why


def asked_of(case: FindCase, *, exactly: bool = False, keep: int = 2000) -> Asked:
    """Return the question of a case.

    Raises
    ------
    Refused
        If nothing is asked of the pot, no material is left, or a limit cannot be met by any recipe.
    """
    _refuse_sizes(case)
    usable, left_out = _usable(case)
    usable.sort(key=lambda item: item.material.key)
    keys = [item.material.key for item in usable]
    held = tuple(_place(keys, key, case) for key in case.limits.must)
    _refuse_quarrel(case)
    kinds = tuple(range(max(1, len(held)), min(case.kinds, len(usable)) + 1))
    if not kinds:
        raise Refused(
            _(
                "{held} materials must be in the mix, but it may have {kinds} at most; ask for more kinds."
            ).format(held=len(held), kinds=case.kinds)
        )
    parts = case.parts if case.limits.most_buckets is None else min(case.parts, case.limits.most_buckets)
    curves = grades(tuple(item.material.physics for item in usable), case.pair_overlap_loss)
    has_cost = _asks_cost(case)
    figures = _Figures(case, NODES, sums=2 if has_cost else 1)
    ends, forms = _ends(case, figures)
    plain = _Figures(case, ENSEMBLE_NODES, sums=1)
    only_windows = [end for end in ends if end.is_window]
    rows, bounds = _linear(case, usable)
    return Asked(
        question=Question(
            grades=curves,
            probes=figures.probes,
            also_summed=np.array([[item.cost_per_l or 0.0 for item in usable]]) if has_cost else None,
            forms=forms[:, :-2],
            wanted=forms[:, -2],
            gain=forms[:, -1],
            parts=parts,
            kinds=kinds,
            exactly=exactly,
            held=held,
            never=_never(case, keys),
            most_share=_most_share(case, usable),
            limits=rows,
            bounds=bounds,
            most_of_volume=_of_stock(case, usable),
            keep=keep,
        ),
        at_hand=tuple(usable),
        ends=tuple(ends),
        probes_of_draws=plain.probes,
        forms_of_draws=np.array([plain.form(end) for end in only_windows]),
        left_out=left_out,
    )


class _Figures:
    """Where each quantity stands among the figures: porosity, density, perhaps cost, then the probes."""

    def __init__(self, case: FindCase, nodes: int, *, sums: int) -> None:
        self.sums = sums
        bases = suctions_under(case.container, case.layer_material)
        self.bases = len(bases)
        quantities = {window.quantity for window in case.windows}
        self.fixed: list[float] = []
        if "easily_available_water" in quantities:
            self.fixed += [EASILY_FROM_CM, EASILY_TO_CM]
        if "available_water" in quantities:
            self.fixed.append(AVAILABLE_DOWN_TO_CM)
        at = [Column(np.zeros(1), np.array([s]), np.ones(1)) for s in self.fixed]
        self.probes = (*(drained_column(case.container, base, nodes) for base in bases), *at)

    @property
    def count(self) -> int:
        return 1 + self.sums + len(self.probes)

    def of(self, quantity: str) -> "Array":
        """Return the quantity as a linear form of the figures."""
        porosity, capacity, density = (np.zeros(self.count) for _ in range(3))
        porosity[0], density[1] = 1.0, 1.0
        capacity[1 + self.sums : 1 + self.sums + self.bases] = 1 / self.bases
        if quantity == "cost_per_l":
            cost = np.zeros(self.count)
            cost[2] = 1.0
            return cost
        return {
            "total_porosity": porosity,
            "container_capacity": capacity,
            "air_space": porosity - capacity,
            "dry_bulk_density_g_cm3": density,
            "wet_density_kg_l": density + capacity,
            "available_water": capacity - self._at(AVAILABLE_DOWN_TO_CM),
            "easily_available_water": self._at(EASILY_FROM_CM) - self._at(EASILY_TO_CM),
        }[quantity]

    def _at(self, suction_cm: float) -> "Array":
        water = np.zeros(self.count)
        if suction_cm in self.fixed:
            water[1 + self.sums + self.bases + self.fixed.index(suction_cm)] = 1.0
        return water

    def form(self, end: End) -> "Array":
        """Return the coefficients of an end, what it asks, and its gain."""
        sign = 1.0 if end.end == "low" else -1.0
        gain = sign * (1 / STEP if end.is_window else HARD)
        return np.concatenate([self.of(end.quantity), [end.asked, gain]])


def _ends(case: FindCase, figures: _Figures) -> tuple[list[End], "Array"]:
    ends = [
        End(window.quantity, name, value, is_window=True)
        for window in case.windows
        if window.quantity in IN_THE_POT
        for name, value in (("low", window.low), ("high", window.high))
        if value is not None
    ]
    if not ends:
        raise Refused(
            _(
                "Nothing is asked of the pot itself; give a window of air, of water or of weight, such as "
                "air 20 to 35 %."
            )
        )
    if case.limits.most_wet_kg_l is not None:
        ends.append(End("wet_density_kg_l", "high", case.limits.most_wet_kg_l, is_window=False))
    for name, value in _cost_ends(case):
        ends.append(End("cost_per_l", name, value, is_window=False))
    return ends, np.array([figures.form(end) for end in ends])


def _cost_ends(case: FindCase) -> list[tuple[str, float]]:
    ends = []
    if case.limits.most_cost_per_l is not None:
        ends.append(("high", case.limits.most_cost_per_l))
    for window in case.windows:
        if window.quantity == "cost_per_l":
            ends += [(n, v) for n, v in (("low", window.low), ("high", window.high)) if v is not None]
    return ends


def _asks_cost(case: FindCase) -> bool:
    return bool(_cost_ends(case))


def allowed_words(case: FindCase) -> dict[str, tuple[str, ...]]:
    """Return the words that each flag may have, by windows and limits together."""
    allowed: dict[str, tuple[str, ...]] = {}
    for flag in FLAGS:
        asked_for = [window.allowed for window in case.windows if window.quantity == flag]
        if (limit := getattr(case.limits, flag)) is not None:
            asked_for.append(limit)
        if asked_for:
            allowed[flag] = tuple(word for word in asked_for[0] if all(word in other for other in asked_for))
    return allowed


def _usable(case: FindCase) -> tuple[list[AtHand], tuple[str, ...]]:
    """Return the materials that may be used, and in words which may not."""
    usable: list[AtHand] = []
    out: dict[str, list[str]] = {}
    allowed, peat_high = allowed_words(case), _peat_high(case)
    for item in {item.material.key: item for item in case.at_hand}.values():
        reason = ""
        for flag, words in allowed.items():
            if not reason and getattr(item.flags, flag) not in words:
                reason = _("its {flag} is “{word}”").format(
                    flag=label(flag), word=flag_word(getattr(item.flags, flag))
                )
        if not reason and peat_high == 0 and item.flags.peat:
            reason = _("it is peat")
        if not reason and case.limits.within_stock and not item.stock_l:
            reason = _("none is counted in stock")
        if not reason and _asks_cost(case) and item.cost_per_l is None:
            reason = _("no price is known")
        if reason:
            out.setdefault(reason, []).append(item.material.title)
        else:
            usable.append(item)
    said = tuple(
        _("Left out, as {reason}: {titles}.").format(reason=reason, titles=", ".join(sorted(titles)))
        for reason, titles in sorted(out.items())
    )
    if not usable:
        raise Refused(
            " ".join([_("No material is left to make a mix of."), *said])
            if said
            else _("No material is at hand; name some, or count what is in stock.")
        )
    return usable, said


def _peat_high(case: FindCase) -> float | None:
    highs = [w.high for w in case.windows if w.quantity == "peat_share" and w.high is not None]
    if case.limits.most_peat_share is not None:
        highs.append(case.limits.most_peat_share)
    return min(highs) if highs else None


def _linear(case: FindCase, usable: Sequence[AtHand]) -> tuple["Array | None", "Array | None"]:
    """Return the limits on shares of what is poured: sum of share x row at most the bound."""
    rows: list[list[float]] = []
    bounds: list[float] = []
    peat = [float(item.flags.peat) for item in usable]
    mineral = [float(item.flags.mineral) for item in usable]
    if (high := _peat_high(case)) is not None:
        rows.append(peat)
        bounds.append(high)
    for window in case.windows:
        shares = {"peat_share": peat, "mineral_share": mineral}.get(window.quantity)
        if shares is None:
            continue
        if window.high is not None:
            rows.append(shares)
            bounds.append(window.high)
        if window.low is not None:
            rows.append([-share for share in shares])
            bounds.append(-window.low)
    return (np.array(rows), np.array(bounds)) if rows else (None, None)


def _most_share(case: FindCase, usable: Sequence[AtHand]) -> "Array | None":
    """A part that does not last as long as asked stays below a fifth."""
    years = [w.low for w in case.windows if w.quantity == "years" and w.low is not None]
    if case.limits.least_years is not None:
        years.append(case.limits.least_years)
    if not years:
        return None
    lasts = [item.flags.years_low is not None and item.flags.years_low >= max(years) for item in usable]
    return np.where(lasts, NO_LIMIT, BELOW_A_FIFTH)


def _of_stock(case: FindCase, usable: Sequence[AtHand]) -> "Array | None":
    if not case.limits.within_stock or case.limits.litres is None:
        return None
    return np.array([(item.stock_l or 0.0) / case.limits.litres for item in usable])


def _never(case: FindCase, keys: Sequence[str]) -> tuple[tuple[int, int], ...]:
    return tuple((keys.index(a), keys.index(b)) for a, b in case.limits.never_with if a in keys and b in keys)


def _place(keys: Sequence[str], key: str, case: FindCase) -> int:
    if key in keys:
        return keys.index(key)
    known = (*(item.material for item in case.at_hand), *all_materials())
    title = next((material.title for material in known if material.key == key), key)
    raise Refused(
        _(
            "{title} must be in the mix, but it is not at hand or a limit leaves it out; drop one of the two."
        ).format(title=title)
    )


def _refuse_quarrel(case: FindCase) -> None:
    """Refuse what must be in the mix and never with what must be in it too."""
    titles = {item.material.key: item.material.title for item in case.at_hand}
    for one, other in case.limits.never_with:
        if one in case.limits.must and other in case.limits.must:
            raise Refused(
                _(
                    "{one} and {other} must both be in the mix, yet never together; drop one of the two."
                ).format(one=titles[one], other=titles[other])
            )


def limits_asked(case: FindCase) -> list[str]:
    """Return in words which limits can rule a recipe out before it is computed."""
    asked_for = {window.quantity for window in case.windows}
    named = [
        (_("peat"), case.limits.most_peat_share is not None or "peat_share" in asked_for),
        (_("mineral parts"), "mineral_share" in asked_for),
        (_("years that the mix lasts"), case.limits.least_years is not None or "years" in asked_for),
        (_("pairs that never stand together"), bool(case.limits.never_with)),
    ]
    return [name for name, is_asked in named if is_asked]


def _refuse_sizes(case: FindCase) -> None:
    for name, value, most in (
        (_("parts"), case.parts, MOST_PARTS),
        (_("kinds of material"), case.kinds, MOST_KINDS),
    ):
        if not 1 <= value <= most:
            raise Refused(
                _("The {name} are {value}; they must be from 1 to {most}.").format(
                    name=name, value=value, most=most
                )
            )
    for window in case.windows:
        if window.quantity in FLAGS and not allowed_words(case)[window.quantity]:
            raise Refused(
                _("{flag}: the window allows {asked}, the limits something else; make them agree.").format(
                    flag=label(window.quantity), asked=asked(window)
                )
            )
