"""What is asked of a search for a mix, and what it answers."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from friable.errors import FriableError
from friable.planning.at_hand import AtHand
from friable.planning.forecast_values import Figures
from friable.planning.limits import Limits
from friable.reference.materials import Material
from friable.reference.windows import Window
from friable.science.containers import Container
from friable.wording import gettext as _

MOST_PARTS, MOST_KINDS = 12, 5
DRAWS = 256
CHANCES_OF = 2000  # recipes, the deepest within the windows, whose chance is worked out


class Cancelled(FriableError):
    """The search was called off."""

    def __init__(self) -> None:
        super().__init__(_("The search was stopped; nothing was changed."))


@dataclass(frozen=True, slots=True, kw_only=True)
class FindCase:
    """A question: which recipes keep a pot within these windows."""

    windows: tuple[Window, ...]
    container: Container
    at_hand: tuple[AtHand, ...]  # materials that may be used
    parts: int = 10  # at most, in all
    kinds: int = 4  # materials at most
    limits: Limits = field(default_factory=Limits)
    layer_material: Material | None = None
    pair_overlap_loss: Mapping[frozenset[str], float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One recipe with its figures in the container."""

    parts: tuple[tuple[Material, int], ...]  # largest first
    chance: float | None  # share of the draws within every window; None: not worked out
    margin: float  # least depth within the windows in steps of 5 points, at the middle; below 0: outside
    figures: Figures
    cost_per_l: float | None  # of finished mix; None: a price is not known
    flags: Mapping[str, Any]
    tight: str  # which end is nearest, in words
    account: str  # what it does in the pot, what was tight, in plain words

    @property
    def text(self) -> str:
        """The recipe as it is typed."""
        return " + ".join(f"{parts} {material.title}" for material, parts in self.parts)

    @property
    def total_parts(self) -> int:
        """Sum of the parts."""
        return sum(parts for _material, parts in self.parts)

    @property
    def kinds(self) -> int:
        """Number of materials."""
        return len(self.parts)

    def to_json(self) -> dict[str, Any]:
        """Return the recipe under the names that programs read."""
        return {
            "recipe": self.text,
            "parts": [{"material": m.title, "key": m.key, "parts": n} for m, n in self.parts],
            "chance": self.chance,
            "margin": self.margin,
            **self.figures.figures_json(),
            "cost": self.cost_per_l,
            "flags": dict(self.flags),
            "tight": self.tight,
            "account": self.account,
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One limit that, relaxed alone, would let a recipe in."""

    quantity: str
    end: str  # "low" or "high"
    asked: float
    needed: float
    recipe: str
    said: str  # the same in words

    def to_json(self) -> dict[str, Any]:
        """Return the opening under the names that programs read."""
        return {
            "quantity": self.quantity,
            "end": self.end,
            "asked": self.asked,
            "needed": self.needed,
            "recipe": self.recipe,
            "said": self.said,
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class FindAnswer:
    """The best recipes of all, and how many were looked at."""

    considered: int  # recipes in the space asked for
    pruned: int  # ruled out by a limit before they were computed
    feasible: int  # within every window at the middle
    chances_of: int  # recipes whose chance was worked out: the deepest within
    draws: int
    best: tuple[Found, ...]  # by chance, then fewer kinds, fewer parts, name
    front: tuple[Found, ...]  # none of those beaten in chance, cost, weight and number of kinds at once
    nearest: tuple[Found, ...]  # where nothing is within: the least outside
    openings: tuple[Opening, ...]
    windows: tuple[Window, ...]
    container: Container
    warnings: tuple[str, ...]
    seconds: float = 0.0

    @property
    def proof(self) -> str:
        """What was proved, with its number."""
        if self.feasible == self.chances_of:
            return _(
                "Proved best of {n} recipes: the chance of every one within the windows was worked out."
            ).format(n=f"{self.considered:,}")
        return _(
            "Best of {n} recipes: every one was computed at the middle of the ranges or ruled out by a "
            "limit, and of those within, the chance of the {m} deepest was worked out."
        ).format(n=f"{self.considered:,}", m=f"{self.chances_of:,}")

    def to_json(self) -> dict[str, Any]:
        """Return the answer under the names that programs read."""
        return {
            "considered": self.considered,
            "pruned": self.pruned,
            "feasible": self.feasible,
            "chances_of": self.chances_of,
            "draws": self.draws,
            "best": [found.to_json() for found in self.best],
            "front": [found.to_json() for found in self.front],
            "nearest": [found.to_json() for found in self.nearest],
            "openings": [opening.to_json() for opening in self.openings],
            "container": self.container.describe(),
            "warnings": list(self.warnings),
            "seconds": self.seconds,
        }
