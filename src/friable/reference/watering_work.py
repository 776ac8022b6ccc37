"""How long it takes to water by hand, and from when a pot counts as too wet, due or too dry."""

from functools import cache

from friable.errors import BadText
from friable.reference.load import read_table
from friable.science.estimate import Estimate
from friable.wording import gettext as _

ANY = "any"
TIME_FOR_A_POT, TIME_FOR_A_LITRE, TIME_TO_LOOK = "time for a pot", "time for a litre", "time to look"
PER_CENT = "% of volume"


def ways_of_watering() -> tuple[str, ...]:
    """Return the ways of watering by hand that have a time."""
    return tuple(dict.fromkeys(row["way"] for row in read_table("watering_work") if row["way"] != ANY))


@cache
def watering_time_s(quantity: str, way: str = "hose") -> Estimate:
    """Return a time of watering by hand. [s]

    Parameters
    ----------
    quantity : str
        “time for a pot” (however much it gets), “time for a litre” (besides), “time to look” (passed by).
    way : str
        “hose” or “can”.

    Raises
    ------
    BadText
        If there is no such way of watering.
    LookupError
        If the table has no such time.
    """
    if way not in ways_of_watering():
        raise BadText(
            _("The way of watering"),
            way,
            _("is unknown"),
            _("Use one of: {ways}.").format(ways=", ".join(ways_of_watering())),
        )
    return _figure(quantity, way)


@cache
def air_limit() -> Estimate:
    """Return the share of air in the root zone below which a pot is too wet, where no plant is named."""
    return _figure("air limit", ANY)


@cache
def used_share() -> Estimate:
    """Return the share of the available water that is gone when a pot is watered."""
    return _figure("share of available water used before watering", ANY)


@cache
def too_dry_share() -> Estimate:
    """Return the share of the available water gone from which a pot counts as too dry."""
    return _figure("too dry from", ANY)


@cache
def too_wet_day_hours() -> Estimate:
    """Return the hours with too little air from which a day counts as too wet."""
    return _figure("a day is too wet from", ANY)


@cache
def too_dry_day_hours() -> Estimate:
    """Return the hours with too little water from which a day counts as too dry."""
    return _figure("a day is too dry from", ANY)


def _figure(quantity: str, way: str) -> Estimate:
    for row in read_table("watering_work"):
        if (row["quantity"], row["way"]) == (quantity, way):
            part = 100 if row["unit"] == PER_CENT else 1
            return Estimate(
                row.number("value") / part,
                row.number("low") / part,
                row.number("high") / part,
                row["how_known"],
                row["source"],
            )
    raise LookupError(
        _("{table}.csv has no row “{name}”.").format(table="watering_work", name=f"{quantity}, {way}")
    )
