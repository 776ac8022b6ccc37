"""The answer for one pot that is watered, put together for the pages and kept for a while."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from friable.records.models import PotWeighing
from friable.records.queries import stores
from friable.records.queries.water import newest_weighing
from friable.science.estimate import Estimate
from friable.web.climates.known import pot_climate, version_of
from friable.web.watering.forms import CaseForm, ChoiceForm

if TYPE_CHECKING:
    from friable.planning.watering import WateringAnswer

KEPT = 64
SOLVER = "pot"  # by which the commands call it too
LONG_H = 96  # from here on time is told in days
ALL_FOUR, ONE = 700.0, 560.0  # widths of the drawings, px


@dataclass(frozen=True, slots=True)
class Moments:
    """The four moments in one drawing, and each in one of its own: what is said of it, and the drawing."""

    together: SafeString
    single: Sequence[tuple[str, SafeString]]


@dataclass(frozen=True, slots=True, eq=False)
class PotAnswer:
    """What is shown of a pot that is watered; drawings are kept by its identity."""

    name: str
    answer: "WateringAnswer"
    reading: str

    @property
    def too_wet_for(self) -> tuple[Estimate, str]:
        """How long it is too wet after a watering, and the unit: hours, or days where they are many."""
        hours = self.answer.hours_wet
        if hours.value < LONG_H:
            return hours, _("hours")
        days = Estimate(hours.value / 24, hours.low / 24, hours.high / 24, hours.how_known, hours.source)
        return days, _("days")


def pot_answer(choice: ChoiceForm, case: CaseForm) -> PotAnswer:
    """Return the answer for a choice under a case; both forms are valid.

    Raises
    ------
    FriableError
        If the climate has no such day, or the pot cannot be followed.
    """
    said, asked = choice.cleaned_data, case.cleaned_data
    mix = said["mix"]
    weighing = taken_weighing(choice, case)
    climate = asked["climate"]
    return _answer(
        mix.name,
        tuple(mix.poured.parts),
        frozenset(mix.poured.losses.items()),
        choice.pot,
        said["layer_material"],
        choice.stands_in,
        climate,
        version_of(climate),
        asked["first_day"],
        asked["plant"],
        asked["factor"] or (_factor(weighing) if weighing else None),
        asked["dose"].value if asked["dose"] else None,
        asked["rate"],
        case.used_share,
        get_language(),
    )


def taken_weighing(choice: ChoiceForm, case: CaseForm) -> PotWeighing | None:
    """Return the newest weighing of this mix in this container with this plant, unless a use is typed."""
    said = choice.cleaned_data
    if case.cleaned_data["factor"]:
        return None
    typed = choice["container"].value() or ""
    container = stores.container_named(typed) or stores.container_like(said["container"])
    if container is None:
        return None
    plant = case.cleaned_data["plant"]
    return newest_weighing(container=container, plant=plant, **what_is_in(said["mix"]))


def what_is_in(mix) -> dict[str, Any]:
    """Return by what a weighing knows its mix: the version, or the recipe as it was typed."""
    return {"mix_version": mix.version, "recipe_text": "" if mix.version else mix.name}


def _factor(weighing: PotWeighing) -> Estimate:
    return Estimate(
        weighing.factor, weighing.factor_low, weighing.factor_high, "measured", _("weighed twice here")
    )


@lru_cache(maxsize=KEPT)
def _answer(
    name, parts, losses, pot, layer, base, climate, _version, first_day, plant, use, dose_l, rate, used,
    _language,
) -> PotAnswer:  # fmt: skip
    from friable.planning.watering_values import WateringCase
    from friable.reference.plant_water import find_plant
    from friable.science.compiled_code import first_use

    case = WateringCase(
        parts=parts,
        container=pot,
        climate=pot_climate(climate, first_day),
        plant=find_plant(plant) if plant else None,
        use=use,
        base=base,
        dose_l=dose_l,
        rate_l_h=rate,
        used_share=used,
        layer_material=layer,
        pair_overlap_loss=dict(losses) or None,
    )
    with first_use(SOLVER, lambda _seconds: None):
        from friable.planning.watering import watering, watering_reading

        answer = watering(case)
    return PotAnswer(name, answer, watering_reading(answer))


def first_answer_takes_s() -> int:
    """Return how much longer the first answer after installing takes; 0 once it was given. [s]"""
    from friable.science.compiled_code import EXPECTED_SECONDS, choose_folder

    return 0 if (choose_folder() / f"ready-{SOLVER}").exists() else EXPECTED_SECONDS


def moments(found: PotAnswer, layer_name: str = "") -> Moments:
    """Return the drawings of the four moments, ready to stand in a page."""
    return _moments(found, layer_name, get_language())


@lru_cache(maxsize=KEPT)
def _moments(found: PotAnswer, layer_name: str, _language: str) -> Moments:
    from friable.drawing.four_moments import four_moments_svg, moment_pictures

    answer = found.answer
    told = {
        "title": _("{mix}, watered and drying").format(mix=found.name),
        "layer_name": layer_name,
        "wet_below": answer.air_limit,
    }
    # Built by an XML writer from numbers and escaped text.
    together = four_moments_svg(answer.container, answer.moments, width=ALL_FOUR, key="moments", **told)
    single = moment_pictures(answer.container, answer.moments, width=ONE, key="moment", **told)
    return Moments(
        mark_safe(together),  # noqa: S308
        [(f"{one.said}, {one.when}", mark_safe(one.svg)) for one in single],  # noqa: S308
    )
