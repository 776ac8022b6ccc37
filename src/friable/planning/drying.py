"""One drying of a pot, cut out of its run: from a watering until a share of its water is gone again."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from friable.planning import watering_text as stands
from friable.planning.flow_media import MediumFigures
from friable.planning.watering_values import WateringCase
from friable.science.flow.layout import HOURLY_ROW
from friable.science.flow.pot import Pot

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.science.flow.pots import PotRuns

    Array = NDArray[np.float64]

SURPLUS = 0.1  # poured beyond what is missing; common practice, no source
DRAINED_HOURS = 24
STORED, IN_ZONE, RAN_THROUGH, DRAWN_UP, LOST, POURED = (
    HOURLY_ROW.index(name) for name in ("stored", "in_zone", "ran_through", "drawn_up", "lost", "poured")
)


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One member after its watering: by the hour, and what it comes to."""

    pot: Pot
    dry_kg: float  # mass without the available and the bound water: of the dry materials
    stored: "Array"  # cm3, from the hour of the watering on, in medium and layer
    in_medium: "Array"  # share of the medium's volume
    zone: "Array"
    profiles: "Array"
    hours_wet: float
    hours_to_water: float
    dries: bool
    poured_cm3: float
    ran_through: float
    lost_cm3_h: float


def course_of(pot: Pot, runs: "PotRuns", m: int, figures: MediumFigures, case: WateringCase) -> Course:
    """Cut the drying after the watering out of a run; the one before it where the run ends too soon."""
    if runs.hourly is None or runs.profiles is None:
        raise ValueError("this run was not kept by the hour")
    rows, profiles = runs.hourly[m], runs.profiles[m]
    came = rows[:, DRAWN_UP] if case.base.kind == stands.FLOOD else rows[:, POURED]
    watered = np.flatnonzero(came > 0)
    start = int(watered[0]) - 1 if len(watered) else 0
    dose = pot.watering.dose_cm3 or max(0.0, pot.full_cm3 - float(rows[start, STORED])) * (1 + SURPLUS)
    pouring = min(int(np.ceil(dose / pot.watering.rate_cm3_h)), len(rows) - 1) if len(watered) else 0
    if case.base.kind == stands.FLOOD:
        pouring = int(np.ceil(case.base.hours or 0.25))
    end, hours = _due(pot, rows[start:, STORED], pouring, case.used_share)
    dries = end is not None
    poured, through = 0.0, 0.0
    if len(watered):
        drained = min(start + pouring + DRAINED_HOURS, len(rows) - 1)
        poured = float(came[drained] - came[start])
        through = min(1.0, float(rows[drained, RAN_THROUGH] - rows[start, RAN_THROUGH]) / poured)
    if end is None and start:  # the run ends within the drying after the watering: take the one before it
        end, hours = _due(pot, rows[: start + 1, STORED], 0, case.used_share)
        dries, start = end is not None, 0
    elif end is not None and not len(watered):  # due for the first time only: what it would get
        poured, through = (
            (1 + SURPLUS) * case.used_share * (pot.full_cm3 - pot.dry_cm3),
            SURPLUS / (1 + SURPLUS),
        )
    last = len(rows) - 1 - start if end is None else end
    rows, profiles = rows[start : start + last + 1], profiles[start : start + last + 1]
    wet = figures.total_porosity - rows[:, IN_ZONE] < pot.air_limit
    return Course(
        pot=pot,
        dry_kg=figures.dry_bulk_density_g_cm3 * case.container.medium_volume_l,
        stored=rows[:, STORED],
        in_medium=_in_medium(pot, profiles),
        zone=figures.total_porosity - rows[:, IN_ZONE],
        profiles=profiles,
        hours_wet=float(wet[1:].sum()),
        hours_to_water=float(last) if hours is None else hours,
        dries=dries,
        poured_cm3=poured,
        ran_through=through,
        lost_cm3_h=float(rows[-1, LOST] - rows[0, LOST]) / max(last, 1),
    )


def _in_medium(pot: Pot, profiles: "Array") -> "Array":
    """Return the water of the medium at each hour, as a share of its volume; a layer under it left out."""
    inside = pot.column.layer == 0
    volumes = pot.column.volume_cm3[inside]
    return np.asarray(profiles[:, inside] @ volumes / volumes.sum())


def _due(pot: Pot, stored: "Array", pouring: int, used_share: float) -> tuple[int | None, float | None]:
    """Return the hour by which, and the time at which, a share of the available water is gone again."""
    gone = (pot.full_cm3 - stored) / (pot.full_cm3 - pot.dry_cm3)
    first = pouring + 1
    due = np.flatnonzero(gone[first:] >= used_share)
    if not len(due):
        return None, None
    end = int(due[0]) + first
    step = float(gone[end] - gone[end - 1])
    over = (float(gone[end]) - used_share) / step if step > 0 else 0.0
    return end, max(0.0, end - min(over, 1.0))
