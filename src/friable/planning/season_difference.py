"""What a change costs: two seasons of the same weather laid side by side."""

from dataclasses import dataclass
from typing import Any

from friable.errors import Refused
from friable.planning.season_answer import SeasonAnswer, estimates_over_members, over_members
from friable.science.estimate import Estimate
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True)
class SeasonDifference:
    """The second season less the first, over the whole collection; each weather and draw with itself."""

    hours: Estimate
    litres: Estimate
    hours_by_week: tuple[Estimate, ...]
    litres_by_week: tuple[Estimate, ...]
    pots_changed: int  # pots in the second season less those in the first

    def to_json(self) -> dict[str, Any]:
        """Return the figures under their names."""
        return {
            "hours": self.hours.to_json(),
            "litres": self.litres.to_json(),
            "hours_by_week": [one.to_json() for one in self.hours_by_week],
            "litres_by_week": [one.to_json() for one in self.litres_by_week],
            "pots_changed": self.pots_changed,
        }


def difference(before: SeasonAnswer, after: SeasonAnswer) -> SeasonDifference:
    """Return what goes over from one season to another, such as the hours that a change of mix costs.

    Raises
    ------
    Refused
        If they are not of the same days, weathers, draws and way of watering.
    """
    if before.compared_by != after.compared_by:
        raise Refused(
            _(
                "“{first}” and “{second}” cannot be compared: they need the same climate, days, weathers, "
                "draws and way of watering."
            ).format(first=before.name, second=after.name)
        )
    hours = after.member_hours - before.member_hours
    litres = after.member_litres - before.member_litres
    return SeasonDifference(
        hours=over_members(hours.sum(axis=1)),
        litres=over_members(litres.sum(axis=1)),
        hours_by_week=estimates_over_members(hours),
        litres_by_week=estimates_over_members(litres),
        pots_changed=after.pots - before.pots,
    )
