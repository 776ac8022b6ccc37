"""What a page shows of a season: the whole of it, week by week, and what stands out."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from friable.planning.reading import per_cent
from friable.science.estimate import Estimate
from friable.web.templatetags.friable import about

if TYPE_CHECKING:
    from friable.planning.season_answer import GroupSeason, SeasonAnswer

TOLD_FROM = 0.05  # share of days from which too wet or too dry is named in the sentence


@dataclass(frozen=True, slots=True)
class Week:
    """One week of the whole collection."""

    begins: date
    litres: Estimate
    hours: Estimate


@dataclass(frozen=True, slots=True)
class GroupShown:
    """A group with its mean and its busiest week."""

    group: "GroupSeason"
    litres: float  # a week, mean over the season
    hours: float
    busiest: date
    busiest_litres: Estimate
    busiest_hours: Estimate


@dataclass(frozen=True, slots=True)
class Whole:
    """The whole collection over the season."""

    hours: Estimate
    litres: Estimate
    weeks: list[Week]
    busiest: Week
    groups: list[GroupShown]
    reading: str

    @property
    def by_week(self) -> list[tuple[date, list[tuple[float, float]]]]:
        """Litres and hours of each group in each week."""
        return [
            (
                week.begins,
                [
                    (one.group.litres_by_week[place].value, one.group.hours_by_week[place].value)
                    for one in self.groups
                ],
            )
            for place, week in enumerate(self.weeks)
        ]


def whole(answer: "SeasonAnswer") -> Whole:
    """Return the season as a page shows it."""
    from friable.planning.season_answer import estimates_over_members, over_members

    weeks = [
        Week(begins, litres, hours)
        for begins, litres, hours in zip(
            answer.weeks,
            estimates_over_members(answer.member_litres),
            estimates_over_members(answer.member_hours),
            strict=True,
        )
    ]
    busiest = max(weeks, key=lambda week: week.hours.value)
    hours = over_members(answer.member_hours.sum(axis=1))
    litres = over_members(answer.member_litres.sum(axis=1))
    groups = [_group(answer, group) for group in answer.groups]
    return Whole(hours, litres, weeks, busiest, groups, _reading(answer, hours, busiest))


def _group(answer: "SeasonAnswer", group: "GroupSeason") -> GroupShown:
    place = max(range(len(answer.weeks)), key=lambda week: group.hours_by_week[week].value)
    count = len(answer.weeks)
    return GroupShown(
        group,
        sum(one.value for one in group.litres_by_week) / count,
        sum(one.value for one in group.hours_by_week) / count,
        answer.weeks[place],
        group.litres_by_week[place],
        group.hours_by_week[place],
    )


def _reading(answer: "SeasonAnswer", hours: Estimate, busiest: Week) -> str:
    said = [
        ngettext(
            "Watering this pot takes about {hours} hours over {days} days.",
            "Watering these {pots} pots takes about {hours} hours over {days} days.",
            answer.pots,
        ).format(pots=f"{answer.pots:,}", hours=about(hours.value), days=len(answer.days)),
        _("The busiest week, from {day}, takes {hours} and {litres} L.").format(
            day=date_format(busiest.begins, "j F"),
            hours=_hours(busiest.hours),
            litres=about(busiest.litres.value),
        ),
    ]
    wet = max(answer.groups, key=lambda group: group.too_wet.value)
    dry = max(answer.groups, key=lambda group: group.too_dry.value)
    if wet.too_wet.value >= TOLD_FROM:
        said.append(
            _("Most often too wet: {group}, {share} of its days.").format(
                group=wet.name, share=per_cent(wet.too_wet.value)
            )
        )
    if dry.too_dry.value >= TOLD_FROM:
        said.append(
            _("Most often too dry: {group}, {share} of its days.").format(
                group=dry.name, share=per_cent(dry.too_dry.value)
            )
        )
    if wet.too_wet.value < TOLD_FROM and dry.too_dry.value < TOLD_FROM:
        said.append(_("No group is too wet or too dry on more than a few days."))
    return " ".join(said)


def _hours(hours: Estimate) -> str:
    return _("{value:.1f} hours ({low:.1f} to {high:.1f})").format(
        value=hours.value, low=hours.low, high=hours.high
    )
