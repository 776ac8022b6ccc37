"""A pot's own use of water, from weighing it twice."""

import math
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

import numpy as np

from friable.errors import BadQuantity, Refused
from friable.planning.climate import BUILT_IN, HOURS, Climate
from friable.science.estimate import Estimate
from friable.wording import gettext as _

LARGEST_KG = 2000.0
SHORTEST_H, LONGEST_H = 3.0, 21 * 24.0
WELL_SPACED_H = 20.0  # from here a whole day's light is in it
LARGEST_AREA_CM2 = 100_000.0
LEAST_STEPS = 3.0  # a loss of fewer steps of the scale says too little
LEAST_REFERENCE_MM = 0.1
LARGEST_USE = 10.0
# Two readings, each rounded evenly within half a step: the 5th and 95th percentile of their difference.
ROUNDING = 1 - math.sqrt(0.1)
WHOLE_YEAR_DAYS = 365


@dataclass(frozen=True, slots=True)
class OwnUse:
    """What a pot used between two weighings."""

    use: Estimate  # multiple of reference evapotranspiration on the area of the pot's top
    lost_kg: float
    lost_mm: float  # on that area
    reference_mm: float
    hours: float
    advice: str

    def to_json(self) -> dict[str, Any]:
        """Return the figures under the names that programs read."""
        return {
            "use": dict(self.use.to_json()),
            "lost_kg": self.lost_kg,
            "lost_mm": self.lost_mm,
            "reference_mm": self.reference_mm,
            "hours": self.hours,
            "advice": self.advice,
        }


def use_from_weighings(
    first_kg: float,
    second_kg: float,
    hours: float,
    reference_mm: float,
    top_area_cm2: float,
    *,
    scale_step_g: float = 1.0,
    watered_between: bool = False,
) -> OwnUse:
    """Return the pot's own factor: what it lost over what the reference lost.

    Parameters
    ----------
    first_kg, second_kg : float
        The pot with its plant, drained after a watering, and again later. [kg]
    hours : float
        Between the two, from 3 hours to three weeks. [h]
    reference_mm : float
        Reference evapotranspiration between the two; see `reference_between`. [mm]
    top_area_cm2 : float
        Of the pot's top. [cm²]
    scale_step_g : float
        Smallest step the scale shows. [g]
    watered_between : bool
        Whether anybody watered it or rain reached it.

    Raises
    ------
    BadQuantity
        If a figure is impossible.
    Refused
        If the two weighings cannot tell the use: watered between, heavier, too little lost for the scale,
        hardly any reference, or ten times the reference and more.

    Notes
    -----
    use = (m1 - m2) / (ρ A) / ET0, one gram of water being one cubic centimetre. The range is the scale's:
    each reading is off by up to half a step. An error of the climate that is the same every day cancels as
    long as the factor is used with the same climate.
    """
    _check(first_kg, second_kg, hours, reference_mm, top_area_cm2, scale_step_g)
    lost_g = (first_kg - second_kg) * 1000
    _refuse(lost_g, scale_step_g, reference_mm, watered_between)
    per_g = 10 / top_area_cm2 / reference_mm
    value, slack = lost_g * per_g, ROUNDING * scale_step_g * per_g
    if value > LARGEST_USE:
        raise Refused(
            _(
                "By these weighings the pot lost {use:.0f} times what a lawn loses; look at the kilograms,"
                " the hours and the size of the pot."
            ).format(use=value)
        )
    use = Estimate(value, value - slack, value + slack, "measured", _("two weighings here"))
    return OwnUse(
        use, lost_g / 1000, lost_g * 10 / top_area_cm2, reference_mm, hours, _advice(hours, slack / value)
    )


def _check(
    first_kg: float,
    second_kg: float,
    hours: float,
    reference_mm: float,
    top_area_cm2: float,
    scale_step_g: float,
) -> None:
    for said, value, unit, low, high in (
        (_("first weighing"), first_kg, "kg", 0.0, LARGEST_KG),
        (_("second weighing"), second_kg, "kg", 0.0, LARGEST_KG),
        (_("area of the pot's top"), top_area_cm2, "cm²", 0.0, LARGEST_AREA_CM2),
        (_("step of the scale"), scale_step_g, "g", 0.0, LARGEST_KG * 1000),
    ):
        if not low < value <= high:
            raise BadQuantity(said, value, unit, _("above 0 and at most {high:g}").format(high=high))
    if not SHORTEST_H <= hours <= LONGEST_H:
        raise BadQuantity(
            _("time between the weighings"),
            hours,
            "h",
            _("from {low:g} to {high:g}").format(low=SHORTEST_H, high=LONGEST_H),
            _("A day or two tells most."),
        )
    if not 0 <= reference_mm < math.inf:
        raise BadQuantity(_("reference evapotranspiration"), reference_mm, "mm", _("0 or more"))


def _refuse(lost_g: float, scale_step_g: float, reference_mm: float, watered_between: bool) -> None:
    if watered_between:
        raise Refused(
            _(
                "The pot was watered between the weighings, so they do not tell what it used;"
                " weigh it twice between waterings."
            )
        )
    if lost_g < -scale_step_g:
        raise Refused(
            _(
                "The pot gained {gained:.0f} g, so water came to it between the weighings;"
                " weigh it twice between waterings."
            ).format(gained=-lost_g)
        )
    if lost_g < LEAST_STEPS * scale_step_g:
        raise Refused(
            _(
                "The pot lost {lost:.3g} g, too little for a scale with steps of {step:g} g;"
                " wait longer, or take a finer scale."
            ).format(lost=max(lost_g, 0.0), step=scale_step_g)
        )
    if reference_mm < LEAST_REFERENCE_MM:
        raise Refused(
            _(
                "The air took only {reference:.2g} mm from the reference in that time;"
                " weigh again after a brighter day."
            ).format(reference=reference_mm)
        )


def _advice(hours: float, slack_share: float) -> str:
    said = _("This factor is the pot's own now; weigh again when the plant has grown or the season turns.")
    if hours < WELL_SPACED_H:
        said += " " + _("The weighings lie within one day: leave a whole day between them next time.")
    if slack_share > 0.2:
        said += " " + _(
            "The scale alone leaves it open by {share:.0f} %: wait longer or take a finer one."
        ).format(share=100 * slack_share)
    return said


def reference_between(climate: Climate, start: datetime, end: datetime) -> float:
    """Return the reference evapotranspiration of a climate between two times, part hours in proportion. [mm]

    Parameters
    ----------
    climate : Climate
        A record that covers both times; a year, of which the same dates are taken; or a built-in season, of
        which a plain day is taken.
    start, end : datetime
        Winter time, without a zone.

    Raises
    ------
    Refused
        If the end is not after the start, or the record does not cover them.
    """
    if not end > start:
        raise Refused(_("The second weighing must come after the first; look at the times."))
    if end - start > timedelta(hours=LONGEST_H):
        raise Refused(_("More than three weeks lie between the weighings; weigh again, a day or two apart."))
    first = datetime.combine(climate.starts_on, time())
    begin = (start - first) / timedelta(hours=1)
    length = (end - start) / timedelta(hours=1)
    if begin < 0 or begin + length > climate.hours:
        if climate.days >= WHOLE_YEAR_DAYS:
            begin %= climate.hours
        elif climate.how_known in BUILT_IN:
            begin %= HOURS
        else:
            raise Refused(
                _(
                    "{name} runs from {first} to {last}, which does not cover both weighings;"
                    " take a record that does."
                ).format(name=climate.name, first=climate.starts_on, last=climate.day(climate.days - 1))
            )
    sums = np.concatenate(([0.0], np.cumsum(climate.reference_mm)))
    edges = np.arange(climate.hours + 1)

    def until(hour: float) -> float:
        whole, rest = divmod(hour, climate.hours)
        return float(whole * sums[-1] + np.interp(rest, edges, sums))

    return until(begin + length) - until(begin)
