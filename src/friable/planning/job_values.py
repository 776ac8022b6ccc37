"""What a potting job asks for, and what its answer consists of."""

from dataclasses import dataclass
from typing import Any

from friable.errors import BadQuantity, shown
from friable.planning.units_in import LARGEST_COUNT
from friable.science.containers import Container
from friable.science.conversion import exact
from friable.wording import gettext as _

ROOTS = ("root ball", "bare root", "none")


@dataclass(frozen=True, slots=True)
class JobLine:
    """So many plants from one container into another.

    With “root ball” the old container's filled volume stays in place; with “bare root” or “none” the new
    container is filled with mix throughout (the volume of bare roots is left out of account).
    """

    container: Container
    count: int
    potted_from: Container | None = None
    root: str = "root ball"

    def __post_init__(self) -> None:
        if (
            isinstance(self.count, bool)
            or not 1 <= self.count <= LARGEST_COUNT
            or self.count != int(self.count)
        ):
            raise BadQuantity(
                _("the count of pots"),
                float(self.count),
                "",
                _("a whole number from 1 to {most}").format(most=f"{LARGEST_COUNT:,}"),
            )
        if self.root not in ROOTS:
            raise ValueError(f"root is {shown(self.root)!r}; it must be one of {', '.join(ROOTS)}")


@dataclass(frozen=True, slots=True)
class LineDetail:
    """One line of the job, worked out for one pot and for all. [L]"""

    container: Container
    count: int
    fill_volume_l: float
    root_ball_l: float
    layer_l: float
    new_mix_per_pot_l: float
    net_l: float
    potted_from: Container | None
    root: str

    def to_json(self) -> dict[str, Any]:
        """Return the line under the names that programs read."""
        return {
            "container": self.container.describe(),
            "headspace_cm": self.container.headspace_cm,
            "count": self.count,
            "potted_from": self.potted_from.describe() if self.potted_from else None,
            "root": self.root,
            "fill_volume_l": self.fill_volume_l,
            "root_ball_l": self.root_ball_l,
            "drainage_layer_l": self.layer_l,
            "new_mix_per_pot_l": self.new_mix_per_pot_l,
            "net_l": self.net_l,
        }


@dataclass(frozen=True, slots=True)
class MaterialAmount:
    """One material to measure out. [L]

    `rounded_l`, `buckets` and `remainder_l` are for print: they belong together, and the rounded
    volumes add up
    to the rounded total. Without a bucket there are none, and the remainder is everything.
    """

    material: str  # as first written
    known: bool  # one row of the tables, or one of our own, has this name
    title: str
    state: str
    volume_l: float
    share: float  # of what is poured
    share_by_finished: float  # by finished base mixes: before any shrinkage
    rounded_l: float
    buckets: int
    remainder_l: float

    def to_json(self, bucket_l: float | None) -> dict[str, Any]:
        """Return the material under the names that programs read, its buckets unrounded."""
        volume = exact(self.volume_l)
        whole = int(volume // exact(bucket_l)) if bucket_l else 0
        return {
            "material": self.material,
            "known": self.known,
            "title": self.title,
            "state": self.state,
            "volume_l": self.volume_l,
            "rounded_l": self.rounded_l,
            "buckets": whole,
            "remainder_l": float(volume - whole * exact(bucket_l or 0)),
            "share_poured": self.share,
            "share_by_finished_mixes": self.share_by_finished,
        }


@dataclass(frozen=True, slots=True)
class StagePart:
    """One component of one mixing, as it is measured. [L]"""

    name: str
    state: str
    volume_l: float
    rounded_l: float
    is_mix: bool


@dataclass(frozen=True, slots=True)
class Stage:
    """One mixing: what is poured in, what comes out. [L]"""

    mix: str
    finished_l: float
    shrinkage: float
    poured_l: float
    parts: tuple[StagePart, ...]

    def to_json(self) -> dict[str, Any]:
        """Return the stage under the names that programs read."""
        return {
            "mix": self.mix,
            "finished_l": self.finished_l,
            "shrinkage": self.shrinkage,
            "poured_l": self.poured_l,
            "parts": [
                {"name": p.name, "state": p.state, "volume_l": p.volume_l, "is_mix": p.is_mix}
                for p in self.parts
            ],
        }


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the working: what was done, and what came out. [L]"""

    text: str
    value_l: float


@dataclass(frozen=True, slots=True)
class JobAmounts:
    """Everything to measure out for a job, and how it was worked out. [L]

    `sum_of_parts_l` counts every material as it is poured, at whatever stage.
    """

    lines_detail: tuple[LineDetail, ...]
    net_l: float
    with_overage_l: float
    with_settling_l: float
    sum_of_parts_l: float
    parts: tuple[MaterialAmount, ...]
    stages: tuple[Stage, ...]  # the made mix first, then what goes into it
    working: tuple[Step, ...]
    advice: tuple[str, ...]
    bucket_l: float | None
    step_l: float  # to which the volumes are printed

    def to_json(self) -> dict[str, Any]:
        """Return the amounts under the names that programs read.

        With one line of pots its own figures stand at the top as well.
        """
        one = self.lines_detail[0] if len(self.lines_detail) == 1 else None
        return {
            "fill_volume_l": one.fill_volume_l if one else None,
            "root_ball_l": one.root_ball_l if one else None,
            "new_mix_per_pot_l": one.new_mix_per_pot_l if one else None,
            "net_l": self.net_l,
            "with_overage_l": self.with_overage_l,
            "with_settling_l": self.with_settling_l,
            "sum_of_parts_l": self.sum_of_parts_l,
            "bucket_l": self.bucket_l,
            "lines": [part.to_json(self.bucket_l) for part in self.parts],
            "pots": [detail.to_json() for detail in self.lines_detail],
            "stages": [stage.to_json() for stage in self.stages],
            "working": [{"text": step.text, "value_l": step.value_l} for step in self.working],
            "advice": list(self.advice),
        }
