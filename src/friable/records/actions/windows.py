"""Setting what is asked of the media of a plant group; old values stay with their day."""

from datetime import date

from friable.errors import BadText, FriableError, Refused, UnknownName
from friable.records.actions.act import act, keep
from friable.records.actions.stock import day_of
from friable.records.models import GroupWindow
from friable.records.queries.windows import newest_window
from friable.reference.plant_groups import plant_groups
from friable.reference.windows import FLAGS, NUMBERS, Window
from friable.wording import gettext as _


@act
def set_window(group, quantity, *, by, low=None, high=None, allowed=(), set_on=None, note=""):
    """Ask a range of a quantity (or words of a flag) for a plant group, from a day on.

    Raises
    ------
    UnknownName, BadText, BadQuantity
        If there is no such group or quantity, or no such window.
    Refused
        If the day is still to come, or the window was set later already.
    """
    Window(quantity=quantity, low=low, high=high, allowed=tuple(allowed), how_known="keeper", source="keeper")
    return _set(group, quantity, by, set_on, note, low=low, high=high, allowed="; ".join(allowed))


@act
def ask_nothing(group, quantity, *, by, set_on=None, note=""):
    """Say that nothing is asked of this quantity here, whatever the table says."""
    return _set(group, quantity, by, set_on, note)


@act
def drop_window(group, quantity, *, by, set_on=None, note=""):
    """Take the keeper's window away, so that the table's holds again, if it has one.

    Raises
    ------
    Refused
        If the keeper has set none.
    """
    newest = newest_window(group, quantity)
    if newest is None or newest.removed:
        raise Refused(_("No window of our own is set here; there is nothing to take away."))
    return _set(group, quantity, by, set_on, note, removed=True)


def _set(group: str, quantity: str, by: str, set_on: date | None, note: str, **values):
    if group not in {known.key for known in plant_groups()}:
        raise UnknownName(_("plant group"), group)
    if quantity not in (*NUMBERS, *FLAGS):
        raise BadText(_("the quantity"), quantity, _("is none that a window is set for"))
    day = day_of(set_on, "set_on")
    newest = newest_window(group, quantity)
    if newest is not None and newest.set_on > day:
        raise _of_the_day(
            _(
                "This window was set on {later} already, later than {day}; give that day or a later one."
            ).format(later=newest.set_on.isoformat(), day=day.isoformat())
        )
    return keep(GroupWindow(group=group, quantity=quantity, set_on=day, set_by=by, note=note, **values))


def _of_the_day(sentence: str) -> FriableError:
    refusal = Refused(sentence)
    refusal.field = "set_on"
    return refusal
