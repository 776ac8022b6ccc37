"""A stored climate as the value that planning understands."""

from typing import TYPE_CHECKING

from friable.records.models import ClimateFile
from friable.records.models.climates import EPW

if TYPE_CHECKING:
    from friable.planning.climate import Climate


def climate(row: ClimateFile) -> "Climate":
    """Read a stored climate.

    Raises
    ------
    FriableError
        If it cannot be read, which was tried when it was kept.
    """
    from friable.planning.weather_file import read_epw, read_logger_csv

    if row.kind == EPW:
        outdoors = read_epw(row.text, name=row.name)
        if row.under_glass:
            return outdoors.under_glass_of(row.light_transmission, heated_to_c=row.heated_to_c, name=row.name)
        return outdoors if row.light_transmission is None else outdoors.shaded_to(row.light_transmission)
    return read_logger_csv(
        row.text,
        {column.holds: column.answer for column in row.columns.all()} or None,
        name=row.name,
        under_glass=row.under_glass,
        light_transmission=row.light_transmission,
        latitude_deg=row.latitude_deg,
        elevation_m=row.elevation_m,
    )
