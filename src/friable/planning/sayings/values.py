"""What a saying is asked of, and what its answer consists of."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeVar

from friable.errors import Refused
from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast
    from friable.reference.materials import Material
    from friable.reference.sayings import Saying, SayingEvidence
    from friable.science.containers import Container

HOLDS, FAILS, DEPENDS, NOT_COMPUTED = "holds", "fails", "depends", "not computed"
VERDICTS = (HOLDS, FAILS, DEPENDS, NOT_COMPUTED)

# What may be asked besides media and containers.
SHARE, LAYER, NEED, PACK_L, PACK_KG, POT_NAME = "share", "layer", "need", "pack_l", "pack_kg", "pot_name"

Needed = TypeVar("Needed")
Figure = Estimate | float | int | str | None


@dataclass(frozen=True, slots=True)
class Medium:
    """A material, or several in their loose volumes, as the user named it."""

    name: str
    parts: "tuple[tuple[Material, float], ...]"
    pair_overlap_loss: Mapping[frozenset[str], float] = field(default_factory=dict)

    @property
    def single(self) -> "Material | None":
        """The material, where it is only one."""
        return self.parts[0][0] if len(self.parts) == 1 else None


@dataclass(frozen=True, slots=True)
class Role:
    """One medium that a saying is asked of: what it stands for, and what is taken if nobody says."""

    words: str
    usual: str
    one_material: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a saying takes; a text is what is taken if nobody says, None what it has no use for."""

    media: tuple[Role, ...] = ()
    most_media: int = 0  # more than the roles may be named, up to this many; 0: as many as there are roles
    container: str | None = None
    container_words: str = ""
    container_needed: bool = True
    other: str | None = None
    other_words: str = ""
    share: str | None = None
    share_words: str = ""
    layer: str | None = None
    need: str | None = None
    pack_l: str | None = None
    pack_kg: str | None = None
    pot_name: str | None = None

    def takes(self, what: str) -> bool:
        """Say whether the saying has a use for a share, a layer, a need, a pack or a name of a pot."""
        return getattr(self, what) is not None

    @property
    def most(self) -> int:
        """How many media may be named."""
        return self.most_media or len(self.media)


@dataclass(frozen=True, slots=True, kw_only=True)
class SayingCase:
    """What a saying is asked of, read and checked. `samples` draws make the ranges; 0 leaves them out."""

    media: tuple[Medium, ...] = ()
    container: "Container | None" = None
    other: "Container | None" = None
    share: float | None = None
    drainage_layer_cm: float | None = None
    need_l: float | None = None
    pack_l: float | None = None
    pack_kg: float | None = None
    pot_name: str = ""
    samples: int = 256

    @property
    def pot(self) -> "Container":
        """The container; refused where it is missing."""
        return _needed(
            self.container,
            _("This saying needs a container; give its inside sizes, such as round 17/12/13 cm."),
        )

    @property
    def other_pot(self) -> "Container":
        """The second container; refused where it is missing."""
        return _needed(
            self.other,
            _("This saying compares two containers; give the second too, such as tray 50x30x4 cm."),
        )

    @property
    def a_share(self) -> float:
        """The share; refused where it is missing."""
        return _needed(self.share, _("This saying needs a share; give one, such as 20 %."))

    @property
    def a_layer(self) -> float:
        """Thickness of the drainage layer; refused where it is missing. [cm]"""
        return _needed(
            self.drainage_layer_cm, _("This saying needs the thickness of a layer; give it, such as 3 cm.")
        )

    @property
    def a_need(self) -> float:
        """Loose litres that are needed; refused where it is missing. [L]"""
        return _needed(self.need_l, _("This saying needs a volume; give it, such as 168 L."))

    def to_json(self) -> dict[str, Any]:
        """Return what was asked under the names that programs read; what it has no use for is left out."""
        said: dict[str, Any] = {"materials": [medium.name for medium in self.media]} if self.media else {}
        for name, pot in (("container", self.container), ("other_container", self.other)):
            if pot is not None:
                said[name] = pot.describe()
                said[f"{name}_headspace_cm"] = pot.headspace_cm
        numbers = {
            "share": self.share,
            "drainage_layer_cm": self.drainage_layer_cm,
            "need_l": self.need_l,
            "pack_l": self.pack_l,
            "pack_kg": self.pack_kg,
            "pot_name": self.pot_name or None,
        }
        return said | {name: value for name, value in numbers.items() if value is not None}


def _needed(value: Needed | None, sentence: str) -> Needed:
    if value is None:
        raise Refused(sentence)
    return value


@dataclass(frozen=True, slots=True)
class Number:
    """One line of figures: what it is of, and figures under names that say quantity and unit."""

    what: str
    figures: Mapping[str, Figure]

    def to_json(self) -> dict[str, Any]:
        """Return the line; an estimate with its range and origin."""
        return {
            "what": self.what,
            **{
                name: dict(figure.to_json()) if isinstance(figure, Estimate) else figure
                for name, figure in self.figures.items()
            },
        }


@dataclass(frozen=True, slots=True)
class Drawn:
    """A forecast that a picture can be made of."""

    title: str
    forecast: "Forecast"
    layer_material: "Material | None" = None


@dataclass(frozen=True, slots=True)
class HeightCurve:
    """Air of one medium against the height of the pot: (height [cm], air, low, high)."""

    name: str
    points: Sequence[tuple[float, float, float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a computation says: verdict, one or two sentences, and the figures behind them."""

    verdict: str
    answer: str
    numbers: tuple[Number, ...]
    remarks: tuple[str, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    by_height: tuple[HeightCurve, ...] = ()

    @property
    def is_forecast(self) -> bool:
        """Whether air or water of a mix in a pot are forecast for it."""
        return any({"air_space", "container_capacity"} & set(number.figures) for number in self.numbers)


@dataclass(frozen=True, slots=True, kw_only=True)
class SayingAnswer:
    """A saying, what the computation says of it, and what is published for and against it."""

    saying: "Saying"
    case: SayingCase | None
    told: Told
    evidence: "tuple[SayingEvidence, ...]"

    def to_json(self) -> dict[str, Any]:
        """Return the answer under the names that programs read."""
        return {
            "name": self.saying.key,
            "claim": self.saying.claim,
            "verdict": self.told.verdict,
            "answer": self.told.answer,
            "numbers": [number.to_json() for number in self.told.numbers],
            "remarks": list(self.told.remarks),
            "evidence": [
                {"text": one.text, "side": one.side, "how_known": one.how_known, "source": one.source}
                for one in self.evidence
            ],
            "asked": {} if self.case is None else self.case.to_json(),
        }
