"""What a collection is made of: mixes, habits of watering, kinds of identical pots, and where they stand."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from friable.planning.watering_text import OPEN, Base

if TYPE_CHECKING:
    from friable.reference.materials import Material
    from friable.reference.plant_water import PlantWater
    from friable.science.containers import Container

ON_NEED, EVERY_DAYS, NOBODY = "on need", "every so many days", "nobody"
AS_RECORDED, GLASS, OUTDOORS = "as recorded", "glass", "outdoors"


@dataclass(frozen=True, slots=True, eq=False)
class Mix:
    """A mix by what it was called, and its materials with their loose volumes in any one unit."""

    title: str
    parts: "tuple[tuple[Material, float], ...]"
    pair_overlap_loss: "Mapping[frozenset[str], float] | None" = None


@dataclass(frozen=True, slots=True)
class Habit:
    """Who waters a pot when, and what its holes open into.

    `by` is “on need” (looked at each morning, watered when `used_share` of its available water is gone; None:
    the usual share), “every so many days”, or “nobody” where a base or the rain sees to it.
    """

    by: str = ON_NEED
    every_days: int = 1
    used_share: float | None = None
    base: Base = field(default_factory=lambda: Base(OPEN))


@dataclass(frozen=True, slots=True)
class Place:
    """Where a pot stands: in the weather as it was recorded, under glass or outdoors, and in what light."""

    where: str = AS_RECORDED
    light_share: float = 1.0


@dataclass(frozen=True, slots=True)
class WaterUse:
    """Own multiple of the reference for the area of the pot's top, with its low and high end."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """Pots that are alike in everything that matters for their water; one stands for all."""

    mix: Mix
    container: "Container"
    container_as_typed: str
    layer_material: "Material | None"
    plant: "PlantWater"
    water_use: WaterUse | None
    place: Place
    habit: Habit

    @property
    def use(self) -> WaterUse:
        """Own multiple of the reference, else that of the group of plants."""
        return self.water_use or WaterUse(self.plant.use_low, self.plant.use, self.plant.use_high)

    @property
    def key(self) -> str:
        """What the pots of a kind have in common, as a short mark."""
        return mark_of(
            mix_facts(self.mix),
            repr(self.container),
            self.layer_material.key if self.layer_material else "",
            self.plant.key,
            repr(self.water_use),
            repr(self.place),
            repr(self.habit),
        )


@dataclass(frozen=True, slots=True)
class CollectionLine:
    """One line of a collection: so many pots of a kind, in a group."""

    number: int  # of the line in the file
    group: str
    kind: int  # place in `Collection.kinds`
    count: int


@dataclass(frozen=True, slots=True, eq=False)
class Collection:
    """All lines, the distinct kinds among them, and the groups in the order of the file."""

    lines: tuple[CollectionLine, ...]
    kinds: tuple[Kind, ...]

    @property
    def groups(self) -> tuple[str, ...]:
        """Names of the groups, each once, in the order of the file."""
        return tuple(dict.fromkeys(line.group for line in self.lines))

    @property
    def pots(self) -> int:
        """How many pots there are in all."""
        return sum(line.count for line in self.lines)


def mark_of(*facts: object) -> str:
    """Return a short mark that is the same for the same facts, whenever and wherever it is made."""
    return hashlib.sha256(json.dumps(facts, sort_keys=True, default=str).encode()).hexdigest()[:16]


@lru_cache(maxsize=4096)
def mix_facts(mix: Mix) -> str:
    """Return what decides how a mix behaves: its materials with all their figures, and their shares."""
    total = sum(share for _material, share in mix.parts)
    parts = sorted(
        (material.key, round(share / total, 12), repr(material.physics)) for material, share in mix.parts
    )
    losses: Sequence[tuple[list[str], float]] = sorted(
        (sorted(pair), loss) for pair, loss in (mix.pair_overlap_loss or {}).items()
    )
    return mark_of(parts, losses)
