"""What can hurt someone who waters, for the door sheet: water that stood in a hose, and lifting."""

from friable.reference.cautions import caution_about
from friable.reference.sources import cited
from friable.sheets.cautions import Caution

WHEN_WATERING = ("standing hose", "lifting")


def watering_cautions() -> tuple[Caution, ...]:
    """Return the cautions that belong on every door sheet, each with its source."""
    rows = [caution_about(hazard) for hazard in WHEN_WATERING]
    return tuple(Caution(row.caution, cited(row.source)) for row in rows)
