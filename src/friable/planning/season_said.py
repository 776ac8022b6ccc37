"""Habits of watering and places in words."""

from friable.planning.collection_values import (
    AS_RECORDED,
    EVERY_DAYS,
    GLASS,
    NOBODY,
    OUTDOORS,
    Habit,
    Place,
)
from friable.planning.watering_text import OPEN, SAUCER
from friable.wording import gettext as _


def habit_said(habit: Habit) -> str:
    """Return a habit of watering in words."""
    under = "" if habit.base.kind == OPEN else habit.base.kind
    if habit.base.depth_cm:
        under += f" {habit.base.depth_cm:g} cm"
    elif habit.base.kind == SAUCER:
        under += f" {habit.base.saucer_l:g} L"
    if habit.by == NOBODY:
        return under or _("rain only")
    if habit.by == EVERY_DAYS:
        said = _("daily") if habit.every_days == 1 else _("every {days} days").format(days=habit.every_days)
    else:
        said = _("on need")
    return f"{said}, {under}" if under else said


def place_said(place: Place) -> str:
    """Return a place in words."""
    where = {AS_RECORDED: "", GLASS: _("glass"), OUTDOORS: _("outdoors")}[place.where]
    shade = (
        ""
        if place.light_share == 1
        else _("{share:.0f} % of the light").format(share=100 * place.light_share)
    )
    return ", ".join(part for part in (where, shade) if part)
