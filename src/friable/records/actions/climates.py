"""Keeping weather: files of loggers and weather files."""

from friable.errors import Refused
from friable.records.actions.act import act, keep, keep_lines, refuse_unknown
from friable.records.models import ClimateColumn, ClimateFile
from friable.records.models.climates import LONGEST_TEXT
from friable.wording import gettext as _

CHANGES = {
    "name", "under_glass", "light_transmission", "latitude_deg", "elevation_m", "heated_to_c", "in_use",
    "note",
}  # fmt: skip


@act
def add_climate(name, *, by, kind, text, starts_on, hours, columns=None, **values):
    """Keep a file of weather that was read, with the answers asked for once (`columns`)."""
    refuse_unknown(values, CHANGES)
    if len(text) > LONGEST_TEXT:
        raise Refused(
            _("The file has {length:,} characters; it may have {most:,}. Leave out some of its days.").format(
                length=len(text), most=LONGEST_TEXT
            )
        )
    climate = keep(
        ClimateFile(name=name, kind=kind, text=text, starts_on=starts_on, hours=hours, added_by=by), **values
    )
    keep_lines(
        ClimateColumn(climate=climate, holds=holds, answer=answer)
        for holds, answer in sorted((columns or {}).items())
    )
    return climate


@act
def change_climate(climate, **changes):
    """Change what is said of a climate; its text and columns stay as they came."""
    refuse_unknown(changes, CHANGES)
    return keep(climate, **changes)
