"""The answer of `friable season` as people read it: work and water first, then what stands wrong."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from friable.cli.answer import columns, share, titled
from friable.errors import shown
from friable.wording import gettext as _

if TYPE_CHECKING:
    from datetime import date

    from friable.planning.door_list import DoorLine
    from friable.planning.season_answer import GroupSeason, SeasonAnswer
    from friable.science.estimate import Estimate

WORST = 6
WORTH_TELLING = 0.02  # share of the days of a month
MOST_TO_LEAVE = 12


def season_lines(answer: "SeasonAnswer", weekend: "Mapping[date, Sequence[DoorLine]]") -> list[str]:
    """Return the season in words, then groups, worst months, the weekend and the weeks."""
    lines = [
        _("{name}: {pots:,} pots of {kinds} kinds, {climate}, {days} days").format(
            name=answer.name,
            pots=answer.pots,
            kinds=answer.distinct_kinds,
            climate=answer.climate,
            days=len(answer.days),
        ),
        "",
        *_reading(answer),
    ]
    for day, there in weekend.items():
        lines += titled(_("To water on {day}").format(day=day.isoformat()), _to_water(there))
    lines += titled(_("Groups, with 90 % range"), _groups(answer))
    lines += titled(_("Worst months: share of the days"), _worst(answer))
    lines += titled(_("Week by week"), _weeks(answer))
    lines += titled(_("Take care"), list(answer.warnings))
    return [
        *lines,
        "",
        _(
            "Ranges are over {weathers} weathers and {draws} draws of what is uncertain; shares too wet and "
            "too dry are of the days of all pots of a group."
        ).format(weathers=answer.weathers, draws=answer.draws),
    ]


def _reading(answer: "SeasonAnswer") -> list[str]:
    from friable.planning.season_answer import estimates_over_members

    hours = estimates_over_members(answer.member_hours)
    litres = estimates_over_members(answer.member_litres)
    most = max(range(len(hours)), key=lambda week: hours[week].value)
    said = [
        _("The week of {day} takes most: {hours} of watering, {litres} of water.").format(
            day=answer.weeks[most].isoformat(),
            hours=_spread(hours[most], _("h")),
            litres=_spread(litres[most], _("L")),
        ),
        _("The whole season takes {hours:,.0f} h and {litres:,.0f} L.").format(
            hours=sum(one.value for one in hours), litres=sum(one.value for one in litres)
        ),
    ]
    for word, name in ((_("too wet"), "too_wet"), (_("too dry"), "too_dry")):
        worst = max(answer.groups, key=lambda group: getattr(group, name).value)
        figure = getattr(worst, name)
        if figure.value >= WORTH_TELLING:
            said.append(
                _("Most often {wrong}: {group}, {share} of its days.").format(
                    wrong=word, group=worst.name, share=_shares(figure)
                )
            )
    return said


def _spread(figure: "Estimate", unit: str) -> str:
    places = 0 if figure.value >= 10 else 1
    return _("{value} {unit} ({low} to {high})").format(
        value=f"{figure.value:,.{places}f}",
        unit=unit,
        low=f"{figure.low:,.{places}f}",
        high=f"{figure.high:,.{places}f}",
    )


def _shares(figure: "Estimate") -> str:
    low, high = round(100 * figure.low), round(100 * figure.high)
    if low == high:
        return share(figure.value)
    return _("{value}, {low} to {high}").format(value=share(figure.value), low=low, high=high)


def _groups(answer: "SeasonAnswer") -> list[str]:
    rows = [
        ("", _("pots"), _("too wet"), _("too dry"), _("L a week"), _("at most"), _("h a week"), _("at most"))
    ]
    rows += [_group(group) for group in answer.groups]
    return columns(rows, right=(1, 4, 5, 6, 7))


def _group(group: "GroupSeason") -> tuple[str, ...]:
    litres = [one.value for one in group.litres_by_week]
    hours = [one.value for one in group.hours_by_week]
    return (
        group.name,
        f"{group.pots:,}",
        _shares(group.too_wet),
        _shares(group.too_dry),
        f"{sum(litres) / len(litres):,.0f}",
        f"{max(litres):,.0f}",
        f"{sum(hours) / len(hours):,.1f}",
        f"{max(hours):,.1f}",
    )


def _worst(answer: "SeasonAnswer") -> list[str]:
    found = [
        (figure.value, (group.name, month.month, word, _shares(figure)))
        for group in answer.groups
        for month in group.by_month
        for word, figure in ((_("too wet"), month.too_wet), (_("too dry"), month.too_dry))
        if figure.value >= WORTH_TELLING
    ]
    found.sort(key=lambda pair: -pair[0])
    return columns([row for _value, row in found[:WORST]])


def _weeks(answer: "SeasonAnswer") -> list[str]:
    from friable.planning.season_answer import estimates_over_members

    litres = estimates_over_members(answer.member_litres)
    hours = estimates_over_members(answer.member_hours)
    rows = [(_("from"), _("L"), _("range"), _("h"), _("range"))]
    for week, water, work in zip(answer.weeks, litres, hours, strict=True):
        rows.append(
            (
                week.isoformat(),
                f"{water.value:,.0f}",
                _("{low} to {high}").format(low=f"{water.low:,.0f}", high=f"{water.high:,.0f}"),
                f"{work.value:,.1f}",
                _("{low} to {high}").format(low=f"{work.low:,.1f}", high=f"{work.high:,.1f}"),
            )
        )
    return columns(rows, right=(1, 3))


def _to_water(lines: "Sequence[DoorLine]") -> list[str]:
    from friable.planning.door_list import MUST, NOT

    rows = []
    for line in lines:
        if line.verdict == NOT or not line.litres_each > 0:
            continue
        word = _("water") if line.verdict == MUST else _("look first")
        litres = _("{litres:.2g} L each").format(litres=line.litres_each)
        what = _("{mix}, {container}").format(mix=shown(line.mix), container=shown(line.container))
        rows.append((word, f"{line.count:,}", line.group, what, litres, share(line.chance)))
    left = sorted({line.group for line in lines} - {row[2] for row in rows})
    said = columns(rows, right=(1, 5)) or [_("Nothing needs water.")]
    if left:
        named = ", ".join(left[:MOST_TO_LEAVE]) + (", …" if len(left) > MOST_TO_LEAVE else "")
        said.append(_("Leave alone: {groups}.").format(groups=named))
    return said
