"""What is taken where a record of the weather does not say it."""

from functools import cache

from friable.reference.load import read_table
from friable.science.estimate import Estimate
from friable.wording import gettext as _


@cache
def evaporation_default(name: str) -> Estimate:
    """Return one default with its range; the unit stands in its name.

    Raises
    ------
    LookupError
        If the table has no such row.
    """
    for row in read_table("evaporation_defaults"):
        if row["name"] == name:
            return Estimate(
                row.number("value"), row.number("low"), row.number("high"), row["how_known"], row["source"]
            )
    raise LookupError(_("{table}.csv has no row “{name}”.").format(table="evaporation_defaults", name=name))
