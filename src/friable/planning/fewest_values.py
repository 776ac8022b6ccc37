"""What the question for the fewest mixes is made of, and its answer."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from friable.planning.collection_values import Mix
from friable.planning.limits import Limits
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.reference.plant_groups import PlantGroup
    from friable.reference.windows import Window
    from friable.science.containers import Container

PRESENT, GIVEN, FOUND = "present", "given", "found"


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """One group of plants at a stage in one kind of container: what one mix must suit."""

    group: "PlantGroup"
    container: "Container"
    container_as_typed: str

    @property
    def windows(self) -> "tuple[Window, ...]":
        """What is asked of its mix; empty where nothing is known."""
        return self.group.windows

    @property
    def asks_of_pot(self) -> bool:
        """Whether anything is asked of air, water or weight, not only of what the mix is made of."""
        from friable.planning.find_question import IN_THE_POT

        return any(window.quantity in IN_THE_POT for window in self.windows)

    @property
    def key(self) -> tuple[str, str]:
        """What is the same for lines that belong together."""
        return self.group.key, repr(self.container)

    @property
    def title(self) -> str:
        """Group, stage and container."""
        return _("{group}, in {container}").format(group=self.group.title, container=self.container_as_typed)


@dataclass(frozen=True, slots=True, eq=False)
class PotLine:
    """One line of the collection: so many pots of a stand, and what they stand in now, if that is known."""

    number: int  # of the line in the file
    stand: int  # place in `Stands.stands`
    count: int
    mix: Mix | None


@dataclass(frozen=True, slots=True, eq=False)
class Stands:
    """All lines, and the distinct stands among them in the order of the file."""

    lines: tuple[PotLine, ...]
    stands: tuple[Stand, ...]

    @property
    def pots(self) -> int:
        """How many pots there are in all."""
        return sum(line.count for line in self.lines)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FewestCase:
    """What is asked: a collection, materials to find mixes of, mixes to choose from, the least chance."""

    stands: Stands
    at_hand: "tuple[AtHand, ...]" = ()
    given: tuple[Mix, ...] = ()
    least_chance: float = 0.5
    parts: int = 10
    kinds: int = 3
    found_each: int = 20  # recipes taken of the best for each stand
    limits: Limits = field(default_factory=Limits)
    pair_overlap_loss: Mapping[frozenset[str], float] = field(
        default_factory=dict
    )  # of recipes that are found
    longest_s: float = 20.0  # for the choice among the mixes, once their chances are known


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """A mix that may be kept: in use now, given, or found for a stand."""

    name: str  # no two candidates have the same
    mix: Mix
    origin: str  # PRESENT, GIVEN or FOUND

    @property
    def shares(self) -> tuple[tuple[str, float], ...]:
        """Its materials with their shares of the loose volume, the largest first."""
        total = sum(volume for _material, volume in self.mix.parts)
        named = [(material.title, volume / total) for material, volume in self.mix.parts]
        return tuple(sorted(named, key=lambda one: (-one[1], one[0])))


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """How a mix does in a stand: whether all windows hold at mid-range, and their chance over the ranges."""

    keeps: bool
    chance: float | None  # None: not worked out, since the middle lies outside or a figure is not known
    outside: tuple[str, ...] = ()  # the windows that do not hold, in words
    distance: float = 0.0  # how far outside; 0 within
    figures: Mapping[str, float | str | None] = field(default_factory=dict)

    def serves(self, least_chance: float) -> bool:
        """Whether it keeps the stand with at least this chance."""
        return self.keeps and self.chance is not None and self.chance >= least_chance


@dataclass(frozen=True, slots=True, eq=False)
class Served:
    """Pots of a stand that one mix was on, and the mix that they end on."""

    stand: Stand
    pots: int
    before: str  # name of the present mix; empty where it is not known
    mix: str
    chance: float
    figures: Mapping[str, float | str | None]
    before_chance: float | None = None  # of the present mix, if its middle lies within
    why_not_before: tuple[str, ...] = ()  # windows that the present mix does not hold

    @property
    def stays(self) -> bool:
        """Whether these pots stay on their mix."""
        return self.before == self.mix

    def to_json(self) -> dict[str, Any]:
        """Return it by name."""
        return {
            **_stand_json(self.stand),
            "pots": self.pots,
            "before": self.before or None,
            "mix": self.mix,
            "stays": self.stays,
            "chance": self.chance,
            "figures": dict(self.figures),
            "chance_before": self.before_chance,
            "before_is_outside": list(self.why_not_before),
        }


@dataclass(frozen=True, slots=True, eq=False)
class Left:
    """Pots that stay on what they are on.

    No window is known of them, or none of air and water; or no candidate keeps them within it.
    """

    stand: Stand
    pots: int
    mixes: tuple[str, ...]  # what they stand in now
    nearest: str = ""  # of the candidates
    chance: float | None = None  # of the nearest, if its middle lies within
    why: tuple[str, ...] = ()
    openings: tuple[str, ...] = ()  # which end, moved how far, would let something in

    def to_json(self) -> dict[str, Any]:
        """Return it by name."""
        return {
            **_stand_json(self.stand),
            "pots": self.pots,
            "mixes": list(self.mixes),
            "nearest": self.nearest or None,
            "nearest_chance": self.chance,
            "why": list(self.why),
            "openings": list(self.openings),
        }


@dataclass(frozen=True, slots=True, eq=False)
class KeptMix:
    """A mix that stays or is taken up, the pots that it serves, and why it stays where it serves none."""

    candidate: Candidate
    served: tuple[Served, ...]
    left: tuple[Left, ...]  # pots that are left on it

    @property
    def name(self) -> str:
        """Its name."""
        return self.candidate.name

    @property
    def pots(self) -> int:
        """How many pots end on it."""
        return sum(one.pots for one in self.served)

    @property
    def least_chance(self) -> float | None:
        """The least chance among what it serves; None where it serves nothing."""
        return min((one.chance for one in self.served), default=None)

    def to_json(self) -> dict[str, Any]:
        """Return it by name."""
        return {
            "mix": self.name,
            "origin": self.candidate.origin,
            "materials": [{"material": title, "share": share} for title, share in self.candidate.shares],
            "pots": self.pots,
            "least_chance": self.least_chance,
            "serves": [one.to_json() for one in self.served],
            "stays_for": [one.stand.title for one in self.left],
        }


@dataclass(frozen=True, slots=True)
class Proof:
    """What was proved: the fewest mixes, the bound below which none do, and the goals that follow."""

    fewest: int
    bound: int
    proved: bool
    staying_bound: int
    staying_proved: bool
    least_chance_proved: bool
    names_proved: bool
    seconds: float
    said: str

    def to_json(self) -> dict[str, Any]:
        """Return it by name."""
        return {
            "fewest": self.fewest,
            "bound": self.bound,
            "proved": self.proved,
            "staying_bound": self.staying_bound,
            "staying_proved": self.staying_proved,
            "least_chance_proved": self.least_chance_proved,
            "names_proved": self.names_proved,
            "seconds": round(self.seconds, 3),
            "said": self.said,
        }


@dataclass(frozen=True, slots=True, eq=False)
class FewestAnswer:
    """The mixes that are kept, whom each serves, what can go, who is left, and what was proved."""

    kept: tuple[KeptMix, ...]
    can_go: tuple[tuple[str, int], ...]  # present mixes and how many pots leave them
    no_window: tuple[Left, ...]
    no_figure: tuple[Left, ...]  # nothing is asked of air, water and weight; `why`: what their mix lacks
    cannot: tuple[Left, ...]
    present: tuple[str, ...]  # mixes in use now
    pots: int
    staying: int  # of the pots that are served
    candidates: Mapping[str, int]  # by origin
    least_chance_asked: float
    proof: Proof
    reading: str
    remarks: tuple[str, ...]
    warnings: tuple[str, ...]

    @property
    def served(self) -> tuple[Served, ...]:
        """All pots that are served, mix by mix."""
        return tuple(one for mix in self.kept for one in mix.served)

    @property
    def served_pots(self) -> int:
        """How many pots are served."""
        return sum(one.pots for one in self.served)

    @property
    def least_chance(self) -> float | None:
        """The least chance among all that is served; None where nothing is."""
        return min((one.chance for one in self.served), default=None)

    def to_json(self) -> dict[str, Any]:
        """Return it by name."""
        return {
            "fewest": len(self.kept),
            "mixes": [mix.to_json() for mix in self.kept],
            "mixes_now": list(self.present),
            "can_go": [{"mix": name, "pots": pots} for name, pots in self.can_go],
            "no_window": [one.to_json() for one in self.no_window],
            "no_figure": [one.to_json() for one in self.no_figure],
            "cannot": [one.to_json() for one in self.cannot],
            "pots": self.pots,
            "pots_served": self.served_pots,
            "pots_staying": self.staying,
            "least_chance": self.least_chance,
            "least_chance_asked": self.least_chance_asked,
            "candidates": dict(self.candidates),
            "proof": self.proof.to_json(),
            "reading": self.reading,
            "remarks": list(self.remarks),
            "warnings": list(self.warnings),
        }


def _stand_json(stand: Stand) -> dict[str, Any]:
    return {
        "group": stand.group.title,
        "container": stand.container_as_typed,
        "windows": [window.quantity for window in stand.windows],
    }
