"""What a season says: per group, per day, per kind; with ranges over weathers and draws."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import numpy as np

from friable.errors import Refused
from friable.science.estimate import Estimate
from friable.science.ranges import range_of
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Single = NDArray[np.float32]

SOURCE = "season of pots by the flow of water; docs/science/season.md"
SECONDS_AN_HOUR = 3600.0
GAPS = 7  # days after a watering for which the chance of the next one is kept


@dataclass(frozen=True, slots=True)
class MonthShare:
    """Shares of the days of one month. `month` is written 2026-01."""

    month: str
    too_wet: Estimate
    too_dry: Estimate


@dataclass(frozen=True, slots=True)
class GroupSeason:
    """One group: shares of the days of its pots, and its weeks."""

    name: str
    pots: int
    too_wet: Estimate
    too_dry: Estimate
    litres_by_week: tuple[Estimate, ...]
    hours_by_week: tuple[Estimate, ...]
    by_month: tuple[MonthShare, ...]


@dataclass(frozen=True, slots=True)
class DaySeason:
    """One day of the whole collection: litres, pots to water, and shares of pots too wet and too dry."""

    date: date
    litres: Estimate
    pots_to_water: Estimate
    too_wet: Estimate
    too_dry: Estimate


@dataclass(frozen=True, slots=True)
class KindSeason:
    """The pots of one kind in one group; `kind` is its place in the arrays of the answer."""

    kind: int
    group: str
    mix: str
    container: str
    plant: str
    place: str
    watering: str
    count: int
    by_hand: bool  # watered from above by somebody, and not by a base or the rain
    topped_up: bool  # stands in water that somebody fills up
    too_wet: float  # shares of days, mean over weathers and draws
    too_dry: float


@dataclass(frozen=True, kw_only=True, eq=False)
class SeasonAnswer:
    """The answer of a season.

    Parameters
    ----------
    watered, litres_each, wet, dry : ndarray, shape (kinds, days)
        Chance that a pot of the kind is watered that day, litres it then gets (where a base feeds it: what it
        draws up), and the chances that it is too wet and too dry; over weathers and draws.
    next_within : ndarray, shape (kinds, days, 7)
        Of the weathers and draws in which it was watered that day, in how many it was watered again within
        1, 2 ... 7 days.
    watered_in : ndarray, shape (kinds, days)
        In how many it was watered that day.
    member_litres, member_hours : ndarray, shape (weathers × draws, weeks)
        Of the whole collection.
    """

    name: str
    climate: str
    mark: str
    compared_by: str
    starts_on: date
    pots: int
    distinct_kinds: int
    weathers: int
    draws: int
    way: str
    weeks: tuple[date, ...]
    groups: tuple[GroupSeason, ...]
    days: tuple[DaySeason, ...]
    kinds: tuple[KindSeason, ...]
    warnings: tuple[str, ...]
    watered: "Single"
    litres_each: "Single"
    wet: "Single"
    dry: "Single"
    next_within: "NDArray[np.uint16]"
    watered_in: "NDArray[np.uint16]"
    member_litres: "NDArray[np.float64]"
    member_hours: "NDArray[np.float64]"

    @property
    def members(self) -> int:
        """Weathers times draws."""
        return self.weathers * self.draws

    def day_number(self, day: date) -> int:
        """Return the place of a date in `days`.

        Raises
        ------
        Refused
            If the season does not cover it.
        """
        number = (day - self.starts_on).days
        if not 0 <= number < len(self.days):
            last = self.starts_on + timedelta(days=len(self.days) - 1)
            raise Refused(
                _("{day} is not in this season, which runs from {first} to {last}.").format(
                    day=day.isoformat(), first=self.starts_on.isoformat(), last=last.isoformat()
                )
            )
        return number

    def to_json(self) -> dict[str, Any]:
        """Return what programs read: groups, weeks, days and kinds, without the arrays."""
        return {
            "name": self.name,
            "climate": self.climate,
            "starts_on": self.starts_on.isoformat(),
            "pots": self.pots,
            "distinct_kinds": self.distinct_kinds,
            "weathers": self.weathers,
            "draws": self.draws,
            "way": self.way,
            "weeks": [week.isoformat() for week in self.weeks],
            "groups": [_group_json(group) for group in self.groups],
            "days": [
                {
                    "date": day.date.isoformat(),
                    "litres": day.litres.to_json(),
                    "pots_to_water": day.pots_to_water.to_json(),
                    "too_wet": day.too_wet.to_json(),
                    "too_dry": day.too_dry.to_json(),
                }
                for day in self.days
            ],
            "kinds": [{name: getattr(kind, name) for name in KindSeason.__slots__} for kind in self.kinds],
            "warnings": list(self.warnings),
        }


def over_members(values: "NDArray[Any]") -> Estimate:
    """Return mean, 5th and 95th percentile of one figure over weathers and draws."""
    return estimates_over_members(np.asarray(values)[:, None])[0]


def estimates_over_members(values: "NDArray[Any]") -> tuple[Estimate, ...]:
    """Return an estimate for each column of values, members leading."""
    values = np.asarray(values, dtype=float)
    mean = values.mean(axis=0)
    low, high = range_of(values)
    return tuple(
        Estimate(float(m), float(min(lo, m)), float(max(hi, m)), "computed", SOURCE)
        for m, lo, hi in zip(mean, low, high, strict=True)
    )


def _group_json(group: GroupSeason) -> dict[str, Any]:
    return {
        "name": group.name,
        "pots": group.pots,
        "too_wet": group.too_wet.to_json(),
        "too_dry": group.too_dry.to_json(),
        "litres_by_week": [one.to_json() for one in group.litres_by_week],
        "hours_by_week": [one.to_json() for one in group.hours_by_week],
        "by_month": [
            {"month": one.month, "too_wet": one.too_wet.to_json(), "too_dry": one.too_dry.to_json()}
            for one in group.by_month
        ],
    }
