"""What a watering answer says, in a sentence or two."""

from friable.planning.watering_values import WateringAnswer
from friable.science.estimate import Estimate
from friable.wording import gettext as _

HOURS_SAID = 48


def watering_reading(answer: WateringAnswer) -> str:
    """Return the answer in words: when to water, how much, how long it stays too wet."""
    said = []
    if answer.dries_within:
        said.append(
            _("Water it about every {days}, {litres} at a time.").format(
                days=_with_range(answer.days_to_water), litres=_litres(answer.litres_per_watering.value)
            )
        )
        if answer.runs_through.value >= 0.005:
            said.append(
                _("About {share:.0f} % of that runs through.").format(share=100 * answer.runs_through.value)
            )
    elif not answer.stands_in_water:
        said.append(
            _(
                "It never uses {share:.0f} % of its water in {days} of this weather: watch the plant instead."
            ).format(share=100 * answer.used_share, days=_days(answer.days_to_water.value))
        )
    else:
        said.append(
            _("It needs no watering from above in {days}; it uses {litres} a week.").format(
                days=_days(answer.days_to_water.value), litres=_litres(answer.litres_per_week.value)
            )
        )
    said.append(_wet(answer))
    return " ".join(said)


def _wet(answer: WateringAnswer) -> str:
    hours, limit = answer.hours_wet, round(100 * answer.air_limit)
    if limit == 0:
        return _("This plant stands it wet: no limit of air is set.")
    if hours.high < 1:
        return _("The roots always have {limit} % air or more.").format(limit=limit)
    if hours.value < 1:
        return _("The roots have {limit} % air or more; at worst less for {high} after a watering.").format(
            limit=limit, high=_hours(hours.high)
        )
    return _("After it the roots have less than {limit} % air for {hours} ({low} to {high}).").format(
        limit=limit, hours=_hours(hours.value), low=_hours(hours.low), high=_hours(hours.high)
    )


def _hours(hours: float) -> str:
    if hours <= HOURS_SAID:
        whole = round(hours)
        return _("1 hour") if whole == 1 else _("{n} hours").format(n=whole)
    return _days(hours / 24)


def _days(days: float) -> str:
    if days < 1.5:
        whole = round(24 * days)
        return _("1 hour") if whole == 1 else _("{n} hours").format(n=whole)
    return _("{n} days").format(n=round(days))


def _with_range(days: Estimate) -> str:
    if days.low == days.high:
        return _days(days.value)
    return _("{days} ({range})").format(days=_days(days.value), range=_between(days))


def _between(days: Estimate) -> str:
    if days.high < 1.5:
        return _("{low:.0f} to {high:.0f} h").format(low=24 * days.low, high=24 * days.high)
    low = f"{days.low:.1f}" if days.low < 2 else f"{days.low:.0f}"
    return _("{low} to {high:.0f} days").format(low=low, high=days.high)


def _litres(litres: float) -> str:
    if litres < 0.1:
        return _("{ml:.0f} mL").format(ml=float(f"{1000 * litres:.2g}"))
    return _("{litres:.2g} L").format(litres=litres)
