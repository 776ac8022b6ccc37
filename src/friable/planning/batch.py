"""Batches that the mixer can hold, and the order in which to load it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from friable.errors import BadQuantity
from friable.planning.recipe import Amendment
from friable.planning.rounding import add_up, step_for
from friable.planning.units_in import LARGEST_L
from friable.science.conversion import exact
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material

MOST_BATCHES = 1000
COARSE_MM = 4.0  # median grain; coarse and fibrous things go in first: common practice, no source
CRUSHED_BY_TUMBLING = ("perlite", "vermiculite")
SPOILT_BY_HEAT = (
    "controlled", "controlled-release", "slow release", "slow-release", "coated", "mycorrhiza", "inoculant",
    "trichoderma", "beneficial",
)  # fmt: skip
GIVES_FOOD_WHEN_HEATED = ("hoof", "bone", "blood", "horn", "meal", "manure")


@dataclass(frozen=True, slots=True)
class BatchSplit:
    """Equal batches that add up to the whole. [L]"""

    total_l: float
    mixer_l: float | None
    volumes_l: tuple[float, ...]
    advice: str

    @property
    def count(self) -> int:
        """How many batches."""
        return len(self.volumes_l)

    def to_json(self) -> dict[str, Any]:
        """Return the batches under the names that programs read."""
        return {
            "total_l": self.total_l,
            "mixer_l": self.mixer_l,
            "batches": self.count,
            "volumes_l": list(self.volumes_l),
            "advice": self.advice,
        }


@dataclass(frozen=True, slots=True)
class LoadingPlan:
    """How to load and mix, in plain sentences; `order` is the keys of the materials as they are loaded."""

    order: tuple[str, ...]
    dampen_first: tuple[str, ...]
    load: tuple[str, ...]
    amendments: tuple[str, ...]
    stop: tuple[str, ...]
    squeeze: str
    never_heat: tuple[str, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of it in the order of doing."""
        return (
            *self.dampen_first,
            *self.load,
            *self.amendments,
            *self.stop,
            self.squeeze,
            *self.never_heat,
        )

    def to_json(self) -> dict[str, Any]:
        """Return the plan under the names that programs read."""
        return {
            "dampen_first": list(self.dampen_first),
            "order": list(self.order),
            "load": list(self.load),
            "amendments": list(self.amendments),
            "stop": list(self.stop),
            "squeeze": self.squeeze,
            "never_heat": list(self.never_heat),
        }


def split_batches(total_l: float, mixer_l: float | None) -> BatchSplit:
    """Return batches of equal size, none above what the mixer works with.

    Parameters
    ----------
    total_l : float
        All of what is poured. [L]
    mixer_l : float, optional
        Working volume of the mixer, not its brim; without one everything is one batch. [L]

    Raises
    ------
    BadQuantity
        If a volume is impossible, or more than a thousand batches come out.

    Notes
    -----
    Equal batches rather than full ones and a rest: a small rest mixes poorly and is measured poorly.
    """
    if not 0 < total_l <= LARGEST_L:
        raise BadQuantity(
            _("the volume to mix"), total_l, "L", _("above 0 and at most {most} L").format(most=LARGEST_L)
        )
    if mixer_l is None:
        return BatchSplit(total_l, None, (total_l,), _("One batch, on a clean floor or tarpaulin."))
    if not 0 < mixer_l < math.inf:
        raise BadQuantity(_("the mixer's working volume"), mixer_l, "L", _("above 0"))
    count = math.ceil(exact(total_l) / exact(mixer_l))
    if count > MOST_BATCHES:
        raise BadQuantity(
            _("the number of batches"),
            count,
            "",
            _("at most {most}").format(most=MOST_BATCHES),
            _("Use a larger mixer."),
        )
    step = step_for(total_l)
    volumes = add_up([exact(total_l) / count] * count, total_l, step)
    if max(volumes) > mixer_l:  # rounding up may not overfill
        volumes = [float(exact(total_l) / count)] * count
    words = (
        _("One batch; the mixer works with up to {mixer:g} L.")
        if count == 1
        else _("{count} equal batches; the mixer works with up to {mixer:g} L.")
    )
    return BatchSplit(total_l, mixer_l, tuple(volumes), words.format(count=count, mixer=mixer_l))


def loading_order(materials: "Sequence[Material]", amendments: Sequence[Amendment] = ()) -> LoadingPlan:
    """Return how to load and mix these materials.

    Parameters
    ----------
    materials : sequence of Material
        Known ones only; what is unknown has no figures to go by.
    amendments : sequence of Amendment

    Notes
    -----
    Dampening [hsedust, negreenhouse2008], squeeze states [squeezetest], heat [caution table]; the
    order of loading and when to
    stop: common practice, no source.
    """
    once = list({material.key: material for material in materials}.values())
    soft = [m for m in once if any(word in m.name.casefold() for word in CRUSHED_BY_TUMBLING)]
    first = [m for m in once if m not in soft and (m.kind == "fibrous" or m.d50_mm >= COARSE_MM)]
    then = [m for m in once if m not in soft and m not in first]
    return LoadingPlan(
        order=tuple(material.key for material in (*first, *then, *soft)),
        dampen_first=tuple(_dampen(once)),
        load=tuple(_load(first, then, soft)),
        amendments=tuple(_spread(amendments)),
        stop=tuple(_stop(soft)),
        squeeze=_squeeze(),
        never_heat=tuple(_heat(amendments)),
    )


def _named(materials: "Sequence[Material]") -> str:
    return ", ".join(material.title for material in materials)


def _dampen(materials: "Sequence[Material]") -> list[str]:
    said = []
    sheds = [m for m in materials if m.hydrophobic_when_dry]
    dusty = [m for m in materials if "dust" in m.hazards]
    if sheds:
        said.append(
            _(
                "If dry, wet {names} first and let it rest: overnight is best, a couple of hours the least."
            ).format(names=_named(sheds))
        )
    if dusty:
        said.append(
            _(
                "Dampen {names} before pouring, pour low, and wear a fitted mask if it is dusty all the same."
            ).format(names=_named(dusty))
        )
    return said


def _load(first: "Sequence[Material]", then: "Sequence[Material]", soft: "Sequence[Material]") -> list[str]:
    said = []
    if first:
        said.append(
            _("Load {names} first, teased apart: the coarse and the fibrous.").format(names=_named(first))
        )
    if then:
        word = _("Then {names}, in thin layers.") if first else _("Load {names} in thin layers.")
        said.append(word.format(names=_named(then)))
    if soft:
        said.append(_("Add {names} last: tumbling grinds it to dust.").format(names=_named(soft)))
    return said


def _spread(amendments: Sequence[Amendment]) -> list[str]:
    if not amendments:
        return []
    return [
        _(
            "Stir {names} into a bucket of the damp mix, then spread that over the whole batch "
            "before the last turns."
        ).format(names=", ".join(amendment.name for amendment in amendments))
    ]


def _stop(soft: "Sequence[Material]") -> list[str]:
    said = [_("Stop when ten scoops from all over look alike; more turning only breaks the mix down.")]
    if soft:
        said.append(_("With {names} in, a few turns are enough.").format(names=_named(soft)))
    return said


def _squeeze() -> str:
    from friable.reference.moisture import moisture_targets

    right = next(t.statement for t in moisture_targets() if t.use == "squeeze test" and t.quantity == "right")
    return _("Squeeze a handful: {right}").format(right=_(right))


def _heat(amendments: Sequence[Amendment]) -> list[str]:
    said = []
    spoilt = [a.name for a in amendments if any(word in a.name.casefold() for word in SPOILT_BY_HEAT)]
    food = [a.name for a in amendments if any(word in a.name.casefold() for word in GIVES_FOOD_WHEN_HEATED)]
    if spoilt:
        said.append(
            _("{names} must not be heated: treat the mix first and add it when it is cool.").format(
                names=", ".join(spoilt)
            )
        )
    if food:
        said.append(
            _("Heating with {names} in can set ammonia free: treat the mix first, then add it.").format(
                names=", ".join(food)
            )
        )
    return said
