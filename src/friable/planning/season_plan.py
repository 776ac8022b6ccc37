"""A season before it is run: every kind of pot, every weather, every draw, in numbers and plain values.

A plan holds all that its numbers come from, so that it means the same tomorrow and on another machine: media
as tables, weather by the hour, draws of what is uncertain. Pots are numbered by kind, weather and draw.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from friable.errors import BadFile
from friable.planning.collection_values import Habit
from friable.planning.watering_text import Base
from friable.science.containers import Container
from friable.science.flow.medium import Uptake
from friable.science.flow.pot import Base as FlowBase
from friable.science.flow.pot import Watering
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

FORM = 1  # of a plan: raised when its numbers would mean something else
HOURS = 24
DAYS_A_WEEK = 7
ARRAYS = (
    "reference_cm", "rain_cm", "water", "conductivity_cm_h", "total_porosity",
    "layer_water", "layer_conductivity_cm_h", "wanted_cm2", "repels", "work_s",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedKind:
    """One kind of pot: what it is called, and what its water hangs on."""

    mix: str
    container_said: str
    plant: str
    place: str
    watering: str
    habit: Habit
    container: Container
    medium: int  # place in the media of the plan
    layers: tuple[int, int]  # places in its layers, with broken and with continuous films; -1: none
    entry_suction_cm: float  # suction at which water enters the layer where films are broken
    weather: int  # place in the weathers of the plan
    uptake: Uptake
    root_depth_share: float
    base: FlowBase
    rule: Watering
    rain_cm2: float
    rim_cm: float
    air_limit: float


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """So many pots of a kind in a group."""

    group: int
    kind: int
    count: int


@dataclass(frozen=True, kw_only=True, eq=False)
class SeasonPlan:
    """What a season is worked out from.

    Parameters
    ----------
    reference_cm, rain_cm : ndarray, shape (places, weathers, hours)
        Reference evapotranspiration and rain at each distinct place. [cm/h]
    water, conductivity_cm_h : ndarray, shape (media, draws, nodes)
        On the suctions of `friable.science.flow.medium`.
    total_porosity : ndarray, shape (media, draws)
    layer_water, layer_conductivity_cm_h : ndarray, shape (layers, nodes)
    wanted_cm2 : ndarray, shape (kinds, draws, 2)
        Water wanted by the surface and by the plant, cm3 for each cm of reference evapotranspiration.
    repels : ndarray, shape (kinds, draws, 3)
        Water contents from which a medium sheds water and takes it up again, and the share of a watering
        that runs past; nan where it never sheds.
    work_s : ndarray, shape (draws, 3)
        Time for a pot, for a litre, to look. [s]
    """

    name: str
    climate: str
    climate_mark: str  # of the hourly figures of all its weathers
    starts_on: date
    weathers: int
    draws: int
    groups: tuple[str, ...]
    lines: tuple[PlannedLine, ...]
    kinds: tuple[PlannedKind, ...]
    way: str
    too_dry_share: float
    too_wet_day_hours: float
    too_dry_day_hours: float
    block_pots: int
    reference_cm: "Array"
    rain_cm: "Array"
    water: "Array"
    conductivity_cm_h: "Array"
    total_porosity: "Array"
    layer_water: "Array"
    layer_conductivity_cm_h: "Array"
    wanted_cm2: "Array"
    repels: "Array"
    work_s: "Array"

    @property
    def hours(self) -> int:
        """How many hours it covers."""
        return int(self.reference_cm.shape[-1])

    @property
    def days(self) -> int:
        """How many days it covers."""
        return self.hours // HOURS

    @property
    def members(self) -> int:
        """Weathers times draws: how often each kind is run."""
        return self.weathers * self.draws

    @property
    def pots(self) -> int:
        """How many pots there are to water."""
        return sum(line.count for line in self.lines)

    @property
    def pots_to_run(self) -> int:
        """How many are run: each kind once for each member."""
        return len(self.kinds) * self.members

    @property
    def blocks(self) -> int:
        """How many blocks the pots to run are cut into."""
        return -(-self.pots_to_run // self.block_pots)

    def pots_of(self, block: int) -> range:
        """Return the numbers of the pots of a block."""
        if not 0 <= block < self.blocks:
            raise IndexError(f"block {block} of {self.blocks}")
        first = block * self.block_pots
        return range(first, min(first + self.block_pots, self.pots_to_run))

    def member_of(self, pot: int) -> tuple[int, int, int]:
        """Return kind, weather and draw of a pot to run."""
        kind, member = divmod(pot, self.members)
        return kind, *divmod(member, self.draws)

    def dates(self) -> list[date]:
        """Return every date it covers."""
        return [self.starts_on + timedelta(days=number) for number in range(self.days)]

    @cached_property
    def mark(self) -> str:
        """What makes this plan this plan: the same for the same numbers, different for any other."""
        facts, arrays = self.parts()
        digest = hashlib.sha256(json.dumps(facts, sort_keys=True).encode())
        for name in ARRAYS:
            digest.update(f"{name}{arrays[name].shape}".encode())
            digest.update(np.ascontiguousarray(arrays[name]).tobytes())
        return digest.hexdigest()[:32]

    @cached_property
    def compared_by(self) -> str:
        """What two seasons must have in common for their members to be laid side by side."""
        own = (
            str(self.starts_on),
            self.weathers,
            self.draws,
            self.way,
            self.work_s.tolist(),
            self.climate_mark,
        )
        return hashlib.sha256(json.dumps(own).encode()).hexdigest()[:16]

    def parts(self) -> "tuple[dict[str, Any], dict[str, Array]]":
        """Return it as plain values for JSON, and arrays."""
        facts: dict[str, Any] = {"form": FORM, "starts_on": self.starts_on.isoformat()}
        for name in (
            "name", "climate", "climate_mark", "weathers", "draws", "groups", "way", "too_dry_share",
            "too_wet_day_hours", "too_dry_day_hours", "block_pots",
        ):  # fmt: skip
            facts[name] = getattr(self, name)
        facts["groups"] = list(self.groups)
        facts["lines"] = [[line.group, line.kind, line.count] for line in self.lines]
        facts["kinds"] = [json.loads(json.dumps(asdict(kind))) for kind in self.kinds]
        return facts, {name: getattr(self, name) for name in ARRAYS}


def plan_of_parts(facts: Mapping[str, Any], arrays: "Mapping[str, Array]") -> SeasonPlan:
    """Return the plan that `SeasonPlan.parts` took apart.

    Raises
    ------
    BadFile
        If it is from a newer friable, or not a plan.
    """
    if facts.get("form") != FORM:
        raise BadFile(_("This plan of a season is from another version of friable; plan it again."))
    try:
        apart = ("form", "lines", "kinds")
        plain: dict[str, Any] = {key: value for key, value in facts.items() if key not in apart}
        plain["starts_on"] = date.fromisoformat(plain["starts_on"])
        plain["groups"] = tuple(plain["groups"])
        held: dict[str, Any] = {name: np.asarray(arrays[name]) for name in ARRAYS}
        return SeasonPlan(
            **plain,
            lines=tuple(PlannedLine(*line) for line in facts["lines"]),
            kinds=tuple(_kind(kind) for kind in facts["kinds"]),
            **held,
        )
    except (KeyError, TypeError, ValueError):
        raise BadFile(_("The plan of this season is damaged; plan it again in a new folder.")) from None


def _kind(facts: Mapping[str, Any]) -> PlannedKind:
    own = dict(facts)
    habit = dict(own["habit"])
    own["habit"] = Habit(**{**habit, "base": Base(**habit["base"])})
    own["container"] = Container(**own["container"])
    own["layers"] = tuple(own["layers"])
    own["uptake"] = Uptake(**own["uptake"])
    own["base"] = FlowBase(**own["base"])
    own["rule"] = Watering(**own["rule"])
    return PlannedKind(**own)
