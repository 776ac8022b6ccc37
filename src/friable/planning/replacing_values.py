"""What is asked when a material has to go, and what is answered: candidates, what changes, what to watch."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from friable.planning.limits import Limits
from friable.science.estimate import Estimate

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.planning.forecast_values import Figures
    from friable.reference.materials import Material
    from friable.science.containers import Container

SWAP, RECIPE = "swap", "recipe"
THIRDS = ("lower", "middle", "upper")
CHANGED = (
    "air_space",
    "container_capacity",
    "available_water",
    "easily_available_water",
    "total_porosity",
    "dry_bulk_density_g_cm3",
    "wet_mass_kg",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplaceCase:
    """A mix, the materials it has to do without, the containers it is really used in, what is at hand.

    `without` holds keys of materials. `parts` and `kinds` bound the recipes that are looked through: whole
    parts in all, and materials. A drainage layer of the containers needs its material.
    """

    mix: "tuple[tuple[Material, float], ...]"  # loose volumes in any one unit
    without: frozenset[str]
    containers: "tuple[Container, ...]"
    at_hand: "tuple[AtHand, ...]"
    parts: int = 10
    kinds: int = 4
    limits: Limits = field(default_factory=Limits)
    layer_material: "Material | None" = None
    pair_overlap_loss: "Mapping[frozenset[str], float]" = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Distance:
    """How far two mixes are apart in the same containers; 1: everything off by what a forecast is off by.

    The parts are on the same scale: each the root mean square over its own figures.
    """

    value: float  # all figures and what the flags add
    air: float
    water: float
    drying: float
    weight: float
    flags: float  # added for each step that lime, feed, dust or hygiene get worse

    def to_json(self) -> dict[str, float]:
        """Return the distance and its parts."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One figure before and after. The difference is drawn with the materials that stay held the same."""

    quantity: str
    before: Estimate
    after: Estimate
    difference: Estimate

    @property
    def is_sure(self) -> bool:
        """Whether the whole range of the difference lies on one side of none."""
        return self.difference.low > 0 or self.difference.high < 0

    def to_json(self) -> dict[str, Any]:
        """Return the figure before, after and the difference."""
        return {name: getattr(self, name).to_json() for name in ("before", "after", "difference")}


@dataclass(frozen=True, slots=True, kw_only=True)
class ThirdChange:
    """Water and air of one third of the height, before and after, at the middle of their ranges."""

    third: str
    water_before: float
    water_after: float
    air_before: float
    air_after: float

    def to_json(self) -> dict[str, Any]:
        """Return the third under its name."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}


@dataclass(frozen=True, slots=True, kw_only=True)
class PotChange:
    """What changes in one container."""

    container: "Container"
    changes: Mapping[str, Change]
    thirds: tuple[ThirdChange, ...]  # lowest first
    water_lasts: Estimate  # available water after over before: 0.7 = seven days become five
    easy_water_lasts: Estimate | None  # the same of easily available water; None: there was none
    warnings: tuple[str, ...]  # of the forecast after

    def to_json(self) -> dict[str, Any]:
        """Return the changes in one container."""
        return {
            "container": self.container.describe(),
            "figures": {name: change.to_json() for name, change in self.changes.items()},
            "thirds": [third.to_json() for third in self.thirds],
            "water_lasts": self.water_lasts.to_json(),
            "easy_water_lasts": self.easy_water_lasts.to_json() if self.easy_water_lasts else None,
            "warnings": list(self.warnings),
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeSwap:
    """The same name in another grade: both grades, and what they do to air and water in each container."""

    name: str
    before: str
    after: str
    said: str

    def to_json(self) -> dict[str, str]:
        """Return both grades and the sentence."""
        return {"name": self.name, "before": self.before, "after": self.after, "said": self.said}


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A recipe that could stand in for the mix."""

    parts: "tuple[tuple[Material, float], ...]"
    text: str
    how: str  # SWAP: one material in the place of what goes; RECIPE: found among all recipes
    distance: Distance
    pots: tuple[PotChange, ...]
    cost_before: float | None  # of a litre of finished mix; None: a price is not known
    cost_per_l: float | None
    flags_before: Mapping[str, Any]
    flags: Mapping[str, Any]
    changes: tuple[str, ...]
    watch: tuple[str, ...]
    grades: tuple[GradeSwap, ...]
    within_stock: bool | None  # for the litres asked; None: none asked, or a stock was never counted
    keeps_rest: bool  # everything that stays of the mix is in it

    @property
    def figures(self) -> "Mapping[str, Estimate]":
        """The figures in the first container."""
        return {name: change.after for name, change in self.pots[0].changes.items()}

    def to_json(self) -> dict[str, Any]:
        """Return the candidate under the names that programs read."""
        return {
            "recipe": self.text,
            "parts": [{"material": m.title, "key": m.key, "parts": share} for m, share in self.parts],
            "how": self.how,
            "distance": self.distance.value,
            "distances": self.distance.to_json(),
            "changes": list(self.changes),
            "watch": list(self.watch),
            "grades": [grade.to_json() for grade in self.grades],
            **{name: estimate.to_json() for name, estimate in self.figures.items()},
            "cost_per_l": self.cost_per_l,
            "cost_before": self.cost_before,
            "flags": dict(self.flags),
            "within_stock": self.within_stock,
            "keeps_rest": self.keeps_rest,
            "pots": [pot.to_json() for pot in self.pots],
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSwap:
    """A direct swap that is further off than those told in full."""

    text: str
    material: str
    distance: float

    def to_json(self) -> dict[str, Any]:
        """Return recipe, material and distance."""
        return {"recipe": self.text, "material": self.material, "distance": self.distance}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplaceAnswer:
    """What can stand in for a mix without some of its materials, nearest first."""

    text: str  # the mix as it is
    gone: "tuple[Material, ...]"  # of the mix, those that go
    containers: "tuple[Container, ...]"
    before: "tuple[Figures, ...]"  # the mix in each container
    candidates: tuple[Candidate, ...]
    other_swaps: tuple[OtherSwap, ...]
    considered: int  # recipes looked at in the search
    feasible: int  # of these, within the limits
    warnings: tuple[str, ...]
    sources: tuple[str, ...]  # in full, of what the sentences name in short
    published: tuple[str, ...]  # of mixes of the same materials, whatever their grade

    @property
    def swaps(self) -> tuple[Candidate, ...]:
        """Candidates that put one material in the place of what goes."""
        return tuple(candidate for candidate in self.candidates if candidate.how == SWAP)

    @property
    def recipes(self) -> tuple[Candidate, ...]:
        """Candidates found among all recipes."""
        return tuple(candidate for candidate in self.candidates if candidate.how == RECIPE)

    def to_json(self) -> dict[str, Any]:
        """Return the answer under the names that programs read."""
        return {
            "recipe": self.text,
            "without": [material.title for material in self.gone],
            "containers": [container.describe() for container in self.containers],
            "before": [figures.figures_json() for figures in self.before],
            "considered": self.considered,
            "feasible": self.feasible,
            "candidates": [candidate.to_json() for candidate in self.candidates],
            "other_swaps": [swap.to_json() for swap in self.other_swaps],
            "warnings": list(self.warnings),
            "sources": list(self.sources),
            "published": list(self.published),
        }
