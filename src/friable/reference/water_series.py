"""Published series of drying and draining containers; nothing is tuned on them."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from friable.errors import UnknownName
from friable.reference.load import read_table
from friable.reference.materials import Material, find_material
from friable.reference.row import Row
from friable.reference.words import nearest
from friable.wording import gettext as _

KINDS = {"drying": ("drying_series", "loss_mm_d"), "drainage": ("drainage_series", "drained_share")}
BASES = ("open", "sealed")


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterSeries:
    """One published series: what stood in the container, and what was read against time.

    `values` of a drying series are losses to the air, in mm a day; of a drainage series the share drained of
    all that drains.
    """

    key: str
    kind: str  # drying, drainage
    medium: str  # as published
    parts: tuple[tuple[Material, float], ...]  # what stands for it here, by loose volume
    height_cm: float
    height_given: bool
    demand_mm_d: float | None  # of a wet surface; drying alone
    demand_given: bool
    base: str  # open, sealed
    hours: tuple[float, ...]
    values: tuple[float, ...]
    how_known: str
    source: str
    remark: str


@cache
def all_series() -> tuple[WaterSeries, ...]:
    """Return every series, in the order of the table.

    Raises
    ------
    LookupError
        If a row cannot be: an unknown kind or base, no points, hours that do not rise, a value below 0.
    """
    return tuple(_series(row) for row in read_table("series"))


def find_series(key: str) -> WaterSeries:
    """Return a series by its key.

    Raises
    ------
    UnknownName
        With near names.
    """
    found = {series.key: series for series in all_series()}
    if key not in found:
        raise UnknownName(_("series"), key, nearest(key, {name: name for name in found}))
    return found[key]


def _series(row: Row) -> WaterSeries:
    if row["kind"] not in KINDS:
        raise row.refused(
            _("kind is “{word}”; it must be one of: {words}").format(word=row["kind"], words=", ".join(KINDS))
        )
    if row["base"] not in BASES:
        raise row.refused(
            _("base is “{word}”; it must be one of: {words}").format(word=row["base"], words=", ".join(BASES))
        )
    hours, values = _points(row)
    if not hours or any(later <= earlier for earlier, later in pairwise(hours)):
        raise row.refused(_("it has no points, or their hours do not rise"))
    if min(values) < 0 or min(hours) < 0:
        raise row.refused(_("an hour or a value is below 0"))
    demand = row.maybe("demand_mm_d")
    if (row["kind"] == "drying") is not (demand is not None and demand > 0):
        raise row.refused(_("a drying series needs a demand above 0, a drainage series none"))
    if not row.number("height_cm") > 0:
        raise row.refused(_("height_cm must be above 0"))
    return WaterSeries(
        key=row["series"],
        kind=row["kind"],
        medium=row["medium"],
        parts=tuple(_part(row, text) for text in row.list("parts")),
        height_cm=row.number("height_cm"),
        height_given=row["height_given"] == "yes",
        demand_mm_d=demand,
        demand_given=row["demand_given"] == "yes",
        base=row["base"],
        hours=hours,
        values=values,
        how_known=row["how_known"],
        source=row["source"],
        remark=row["remark"],
    )


def _points(row: Row) -> tuple[tuple[float, ...], tuple[float, ...]]:
    table, column = KINDS[row["kind"]]
    points = [point for point in read_table(table) if point["series"] == row["series"]]
    return tuple(p.number("hour") for p in points), tuple(p.number(column) for p in points)


def _part(row: Row, text: str) -> tuple[Material, float]:
    key, _space, volume = text.partition(" ")
    try:
        part = find_material(key), float(volume)
    except (UnknownName, ValueError):
        part = None
    if part is None or not part[1] > 0:
        raise row.refused(_("“{text}” is no part: a material and a volume above 0").format(text=text))
    return part
