"""A weather file as it is given: a logger's CSV or a year for building simulation."""

from collections.abc import Mapping

from friable.errors import BadFile
from friable.planning.climate import Climate
from friable.planning.epw_file import looks_like_epw, read_epw
from friable.planning.logger_columns import ColumnsWanted
from friable.planning.logger_file import read_logger_csv
from friable.wording import gettext as _

__all__ = ["MOST_BYTES", "ColumnsWanted", "read_epw", "read_logger_csv", "read_weather", "weather_text"]

MOST_BYTES = 9_000_000
BYTE_ORDER_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
CONTROLS = frozenset(range(32)) - {9, 10, 12, 13, 26}


def weather_text(data: bytes) -> str:
    """Return the text of a weather file: UTF-8, UTF-16 with its mark, or Western European.

    Raises
    ------
    BadFile
        If it is larger than 9 MB or not text.
    """
    if len(data) > MOST_BYTES:
        raise BadFile(
            _("The weather file has {size:.1f} MB; the most is {most:g} MB. Give one year.").format(
                size=len(data) / 1e6, most=MOST_BYTES / 1e6
            )
        )
    for mark, encoding in BYTE_ORDER_MARKS:
        if data.startswith(mark):
            try:
                return data.decode(encoding)
            except UnicodeDecodeError:
                raise _not_text() from None
    if CONTROLS & set(data[:100_000]) or b"\0" in data:
        raise _not_text()
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _not_text() -> BadFile:
    return BadFile(
        _("The weather file is not text; give a logger's CSV or an EnergyPlus weather file (.epw).")
    )


def read_weather(
    given: bytes | str,
    columns: Mapping[str, str] | None = None,
    *,
    name: str = "",
    under_glass: bool | None = None,
    light_transmission: float | None = None,
    latitude_deg: float | None = None,
    elevation_m: float = 0.0,
) -> Climate:
    """Read a weather file of either kind.

    Parameters
    ----------
    given : bytes or str
        The file.
    columns : mapping, optional
        Answers to `ColumnsWanted`, for a logger; see `read_logger_csv`.
    name : str
        What to call it.
    under_glass : bool, optional
        Whether the pots stand in a house. By default yes for a logger, which is taken to hang with them, and
        no for the other kind of file, which is weather outdoors; with yes, that is brought under glass.
    light_transmission : float, optional
        Share of the light outside that reaches them.
    latitude_deg, elevation_m : float, optional
        Where the logger hangs; the other kind of file says it itself.

    Raises
    ------
    ColumnsWanted
        If a logger's headers do not say which is which.
    BadFile
        If it cannot be read.
    """
    text = weather_text(given) if isinstance(given, bytes) else given
    if not looks_like_epw(text):
        return read_logger_csv(
            text,
            columns,
            name=name,
            under_glass=under_glass is not False,
            light_transmission=light_transmission,
            latitude_deg=latitude_deg,
            elevation_m=elevation_m,
        )
    outdoors = read_epw(text, name=name)
    if under_glass:
        return outdoors.under_glass_of(light_transmission, name=name)
    return outdoors if light_transmission is None else outdoors.shaded_to(light_transmission)
