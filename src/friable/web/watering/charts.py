"""The dry-down of one pot or of several: mass and air against time, with the weight at which to water."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from friable.web.watering.answers import KEPT, PotAnswer

if TYPE_CHECKING:
    from friable.drawing.dry_down import DryDown, DryDownTable


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart, and its title."""

    key: str
    title: str
    spec: dict[str, Any]


def dry_down_charts(answers: Sequence[PotAnswer]) -> list[Chart]:
    """Return the charts of one pot, or of several that are compared."""
    return _charts(tuple(answers), get_language())


@lru_cache(maxsize=KEPT)
def _charts(answers: tuple[PotAnswer, ...], _language: str) -> list[Chart]:
    from friable.drawing.dry_down import air_spec, mass_spec, water_and_air_spec

    several = len(answers) > 1
    choices = [_dry_down(one, with_pot=several) for one in answers]
    mass = Chart("mass", _("Mass while it dries"), mass_spec(choices))
    if not several:
        return [mass, Chart("air", _("Water and air while it dries"), water_and_air_spec(choices[0]))]
    return [mass, Chart("air", _("Air in the root zone while it dries"), air_spec(choices))]


def table_of(answer: PotAnswer) -> "DryDownTable":
    """Return the dry-down at round times as a table."""
    from friable.drawing.dry_down import dry_down_table

    return dry_down_table(_dry_down(answer))


def _dry_down(one: PotAnswer, *, with_pot: bool = False) -> "DryDown":
    from friable.drawing.dry_down import DryDown

    answer = one.answer
    name = one.name
    if with_pot:
        name = _("{mix} in {pot}").format(mix=name, pot=answer.container.describe())
    return DryDown(
        name=name,
        series=_from_the_fullest(answer.series),
        medium_volume_l=answer.container.medium_volume_l,
        target_mass_kg=answer.target_mass_kg.value,
        full_mass_kg=answer.full_mass_kg.value,
        air_limit=answer.air_limit,
    )


def _from_the_fullest(series):
    """Leave out the hours in which water still goes in."""
    first = max(range(len(series)), key=lambda place: series[place].mass_kg)
    return series[first:] if len(series) - first > 1 else series
