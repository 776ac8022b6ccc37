"""Writing down what lies in the store and what it cost; nothing that was written down is changed."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from friable.errors import FriableError, Refused
from friable.records.actions.act import act, keep
from friable.records.actions.materials import use_material
from friable.records.models import Material, MaterialPrice, MaterialStock
from friable.records.queries.at_hand import currencies, newest_count, newest_price
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreLine:
    """One material of a list of the store: its count, its price, or both."""

    material: Material | str  # a stored one, or the key of one of the table
    amount_l: float | None = None
    amount_typed: str = ""
    cost_per_l: float | None = None
    currency: str = ""
    price_typed: str = ""


@act
def set_stock(material, amount_l, *, by, counted_on=None, typed="", note=""):
    """Write down how much of a material lies here; it counts from now on. [L]

    Raises
    ------
    Refused
        If the day is still to come, or a later count was written down already.
    """
    return _count(material, amount_l, by, day_of(counted_on, "counted_on"), typed, note)


@act
def set_price(material, cost_per_l, *, by, currency="", holds_from=None, typed="", note=""):
    """Write down what a loose litre costs; None: it is not known any more.

    Raises
    ------
    Refused
        If the day is still to come, a later price was written down already, or prices would stand in two
        currencies.
    """
    price = _price(material, cost_per_l, by, day_of(holds_from, "holds_from"), currency, typed, note)
    _refuse_two_currencies()
    return price


@act
def count_store(lines: Iterable[StoreLine], *, by, counted_on=None):
    """Write down many counts and prices at once, all or none; return how many materials were written down.

    Raises
    ------
    Refused
        As `set_stock` and `set_price`.
    """
    day = day_of(counted_on, "counted_on")
    written = 0
    for line in lines:
        material = line.material
        if not isinstance(material, Material):
            material = use_material(material, by=by)
        try:
            if line.amount_l is not None:
                _count(material, line.amount_l, by, day, line.amount_typed, "")
            if line.cost_per_l is not None:
                _price(material, line.cost_per_l, by, day, line.currency, line.price_typed, "")
        except FriableError as problem:
            problem.line = line
            raise
        written += line.amount_l is not None or line.cost_per_l is not None
    _refuse_two_currencies()
    return written


def day_of(day: date | None, field: str) -> date:
    """Return a day (today, if none is given); refuse one that is still to come."""
    today = timezone.localdate()
    if day is None:
        return today
    if day > today:
        raise _of(
            field,
            _("{day} is still to come; give today or an earlier day.").format(day=day.isoformat()),
        )
    return day


def _count(material, amount_l, by, day, typed, note):
    newest = newest_count(material)
    if newest is not None and newest.counted_on > day:
        raise _of(
            "counted_on",
            _(
                "{name} was counted on {later} already, later than {day}; give that day or a later one."
            ).format(name=material, later=newest.counted_on.isoformat(), day=day.isoformat()),
        )
    return keep(
        MaterialStock(
            material=material, amount_l=amount_l, typed=typed, counted_on=day, counted_by=by, note=note
        )
    )


def _price(material, cost_per_l, by, day, currency, typed, note):
    newest = newest_price(material)
    if newest is not None and newest.holds_from > day:
        raise _of(
            "holds_from",
            _(
                "{name} has a price from {later} on already, later than {day}; give that day or a later one."
            ).format(name=material, later=newest.holds_from.isoformat(), day=day.isoformat()),
        )
    return keep(
        MaterialPrice(
            material=material,
            cost_per_l=cost_per_l,
            currency=currency if cost_per_l is not None else "",
            typed=typed,
            holds_from=day,
            entered_by=by,
            note=note,
        )
    )


def _refuse_two_currencies():
    """Prices are compared and added up, so they stand in one currency; without a sign, they are in it."""
    signs = currencies()
    if len(signs) > 1:
        raise _of(
            "price",
            _("Prices would stand in {signs}, and are compared; give all of them in one of these.").format(
                signs=_(" and ").join(signs)
            ),
        )


def _of(field, sentence):
    refusal = Refused(sentence)
    refusal.field = field
    return refusal
