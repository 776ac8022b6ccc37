"""What a pot is and what is done to it, as values; and as the rows that the solvers read."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

import friable.science.flow.layout as at
from friable.errors import BadQuantity
from friable.science.flow.column import Column
from friable.science.flow.medium import NO_ROOTS, Medium, Uptake
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

OPEN, HELD, SAUCER = "open holes", "held head", "saucer"
NOBODY, CALENDAR, NEED = "nobody", "calendar", "need"
EVERY_DAY = 0b1111111
DRYING_FROM_CM, DRYING_TO_CM = 500.0, 5000.0  # surface suctions between which evaporation falls to nothing
AVAILABLE_DOWN_TO_CM = 15_000.0
NEVER = 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """How the underside of a pot stands.

    `open holes` let water out and none in. `held head` keeps a pressure head there: above 0 standing water,
    below 0 a capillary mat or a bed of sand. A `saucer` keeps what runs through, up to its volume.
    """

    kind: str = OPEN
    head_cm: float = 0.0
    saucer_area_cm2: float = 0.0
    saucer_cm3: float = 0.0

    def __post_init__(self) -> None:
        if self.kind not in (OPEN, HELD, SAUCER):
            raise ValueError(f"base is {self.kind!r}")
        if not -200 <= self.head_cm <= 100:
            raise BadQuantity(_("pressure head at the base"), self.head_cm, "cm", _("from -200 to 100"))
        if self.kind == SAUCER and not (self.saucer_area_cm2 > 0 and self.saucer_cm3 > 0):
            raise BadQuantity(_("volume of the saucer"), self.saucer_cm3, "cm3", _("above 0"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Watering:
    """Who waters when, and how much.

    `calendar` waters every so many days; `need` asks once a day and waters when the share of the available
    water that is gone reaches `used_share`. Without a dose the missing water is poured, and `surplus` of it
    more. With `flood_cm` the bench is flooded so deep instead, for `flood_hours`.
    """

    by: str = NOBODY
    at_hour: int = 8
    every_days: int = 1
    used_share: float = 0.5
    weekdays: int = EVERY_DAY  # bits, Monday first
    at_most: int = 0  # waterings in all; 0: no limit
    dose_cm3: float | None = None
    surplus: float = 0.1
    rate_cm3_h: float = 10_000.0
    flood_cm: float | None = None
    flood_hours: float = 0.25

    def __post_init__(self) -> None:
        if self.by not in (NOBODY, CALENDAR, NEED):
            raise ValueError(f"watering is by {self.by!r}")
        checks = (
            (_("hour of watering"), self.at_hour, "", 0, 23),
            (_("days between waterings"), self.every_days, "d", 1, 366),
            (_("share of the available water used"), self.used_share, "", 0.01, 1),
            (_("surplus poured"), self.surplus, "", 0, 10),
            (_("rate of watering"), self.rate_cm3_h, "cm3/h", 1e-6, 1e9),
            (_("duration of a flood"), self.flood_hours, "h", 0.01, 24),
        )
        for name, value, unit, low, high in checks:
            if not low <= value <= high:
                raise BadQuantity(name, value, unit, _("from {low:g} to {high:g}").format(low=low, high=high))
        if self.dose_cm3 is not None and not 0 < self.dose_cm3 < 1e7:
            raise BadQuantity(_("dose of water"), self.dose_cm3, "cm3", _("above 0"))
        if self.flood_cm is not None and not 0 < self.flood_cm <= 100:
            raise BadQuantity(_("depth of a flood"), self.flood_cm, "cm", _("above 0 and at most 100"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Repelling:
    """A medium that will not re-wet once dry: from and to which water content of the root zone, and how.

    Under `below` [m³ m⁻³] it begins to repel, and does so until it holds `until` again; meanwhile the share
    `run_past` of each watering runs past it.
    """

    below: float
    until: float
    run_past: float

    def __post_init__(self) -> None:
        if not 0 <= self.below < self.until <= 1:
            raise BadQuantity(
                _("water content that ends repelling"),
                self.until,
                "m³/m³",
                _("above that which begins it ({below:g}), at most 1").format(below=self.below),
            )
        if not 0 <= self.run_past < 1:
            raise BadQuantity(_("share of water that runs past"), self.run_past, "", _("from 0 to below 1"))


@dataclass(frozen=True, slots=True, eq=False)
class Weather:
    """Hourly reference evapotranspiration and rain from a midnight on. [cm/h]"""

    reference_cm: "Array"
    rain_cm: "Array"
    weekday: int = 0  # of the first day, Monday is 0

    def __post_init__(self) -> None:
        if self.reference_cm.shape != self.rain_cm.shape or self.reference_cm.ndim != 1:
            raise ValueError("reference evapotranspiration and rain need one value an hour each")
        for name, values in (
            (_("reference evapotranspiration"), self.reference_cm),
            (_("rain"), self.rain_cm),
        ):
            if not np.all((values >= 0) & (values < 50)):
                bad = values[~((values >= 0) & (values < 50))].flat[0]
                raise BadQuantity(name, float(bad), "cm/h", _("from 0 to 50"))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pot:
    """One pot, or any number of identical ones.

    Parameters
    ----------
    column : Column
    media : tuple of Medium
        From the top: the medium, then that of each layer in the column.
    total_porosity : float
        Of the medium; with the air limit it says from which water content the root zone is too wet.
    evaporation_cm2, uptake_cm2 : float
        Water wanted by the surface and by the plant, cm3 for each cm of reference evapotranspiration.
    entry_suction_cm : float or None
        Suction at which water enters the layer under the medium; None: its films are continuous.
    """

    column: Column
    media: tuple[Medium, ...]
    total_porosity: float
    uptake: Uptake = NO_ROOTS
    root_depth_share: float = 1.0
    evaporation_cm2: float = 0.0
    uptake_cm2: float = 0.0
    rain_cm2: float = 0.0
    base: Base = field(default_factory=Base)
    watering: Watering = field(default_factory=Watering)
    entry_suction_cm: float | None = None
    repelling: Repelling | None = None
    rim_cm: float = 1.0
    weather: int = 0
    air_limit: float = 0.1
    too_dry_share: float = 0.9

    def __post_init__(self) -> None:
        if len(self.media) != int(self.column.layer[-1]) + 1 or len(self.media) > 3:
            raise ValueError("a pot needs a medium for each layer of its column, three at most")
        for name, value, unit, low, high in (
            (_("share of the depth that has roots"), self.root_depth_share, "", 0.01, 1),
            (_("evaporation"), self.evaporation_cm2, "cm3/cm", 0, 1e7),
            (_("uptake"), self.uptake_cm2, "cm3/cm", 0, 1e7),
            (_("area that catches rain"), self.rain_cm2, "cm2", 0, 1e7),
            (_("height of the rim"), self.rim_cm, "cm", 0, 1000),
            (_("air limit"), self.air_limit, "", 0, 1),
            (_("total porosity"), self.total_porosity, "", 0, 1),
            (_("share used that counts as too dry"), self.too_dry_share, "", 0.01, 10),
        ):
            if not low <= value <= high:
                raise BadQuantity(name, value, unit, _("from {low:g} to {high:g}").format(low=low, high=high))
        if self.entry_suction_cm is not None and not 0 <= self.entry_suction_cm < math.inf:
            raise BadQuantity(
                _("water-entry suction of the layer"), self.entry_suction_cm, "cm", _("0 or more")
            )
        if self.watering.flood_cm is not None and self.base.kind != OPEN:
            raise BadQuantity(
                _("depth of a flood"),
                self.watering.flood_cm,
                "cm",
                _("none where the base stands in water or on a mat"),
            )

    @property
    def drained_suction_cm(self) -> "Array":
        """Suction of each cell after free drainage; below 0 under standing water. [cm]"""
        above_floor = self.column.height_cm
        held = self.base.head_cm if self.base.kind == HELD else 0.0
        if self.entry_suction_cm is None or len(self.media) == 1 or held > 0:
            return np.asarray(above_floor - held)
        joint = float(self.column.face_height_cm[int(np.argmax(self.column.layer > 0))])
        over = np.minimum(self.entry_suction_cm, joint) + above_floor - joint
        return np.where(self.column.layer == 0, over, above_floor - held)

    @property
    def drained_water(self) -> "Array":
        """Water content of each cell after free drainage. [m³ m⁻³]"""
        return self.water_at(self.drained_suction_cm)

    def water_at(self, suction_cm: "Array") -> "Array":
        """Return the water content of each cell at its suction; full under pressure. [m³ m⁻³]"""
        held = np.empty(len(suction_cm))
        for layer, medium in enumerate(self.media):
            here = self.column.layer == layer
            held[here] = medium.water_at(np.maximum(suction_cm[here], 0.0))
        return held + 1e-5 * np.maximum(-suction_cm, 0.0)

    @property
    def full_cm3(self) -> float:
        """Water held after free drainage. [cm3]"""
        return float(self.drained_water @ self.column.volume_cm3)

    @property
    def dry_cm3(self) -> float:
        """Water left when the available water is used up, at 15,000 cm; layers count as drained. [cm3]"""
        return self.dry_beside(self.drained_water)

    def dry_beside(self, drained_water: "Array") -> float:
        """Return the same, given what each cell holds after free drainage. [m³ m⁻³; cm3]"""
        here, volume = self.column.layer == 0, self.column.volume_cm3
        wilted = np.interp(AVAILABLE_DOWN_TO_CM, self.media[0].suction_cm, self.media[0].water)
        return float(wilted * volume[here].sum() + drained_water[~here] @ volume[~here])

    @property
    def root_share(self) -> "Array":
        """Share of the root zone that lies in each cell; adds up to 1."""
        heights = self.column.face_height_cm
        top = heights[0]
        last = int(np.argmax(self.column.layer > 0)) if self.column.layer[-1] else len(self.column.layer)
        floor = top - self.root_depth_share * (top - heights[last])
        inside = np.clip((heights[:-1] - floor) / (heights[:-1] - heights[1:]), 0.0, 1.0)
        weights = np.where(self.column.layer == 0, inside * self.column.volume_cm3, 0.0)
        return np.asarray(weights / weights.sum())


def row_of(pot: Pot, *, shape: int, media: Sequence[int], hours: float, hourly: bool) -> "Array":
    """Return the row of `spec` for a pot; `media` are the places of its tables."""
    column, watering, base = pot.column, pot.watering, pot.base
    row = np.zeros(at.SPEC)
    joints = np.flatnonzero(np.diff(column.layer)) + 1
    thickness = column.thickness_cm
    row[at.SHAPE], row[at.WEATHER] = shape, pot.weather
    row[at.MEDIUM : at.MEDIUM + len(media)] = media
    row[at.JOINT : at.JOINT + len(joints)] = joints
    row[at.ENTRY_CM] = -1.0 if pot.entry_suction_cm is None else pot.entry_suction_cm
    row[at.TOP_CM2], row[at.BASE_CM2] = column.face_area_cm2[0], column.face_area_cm2[-1]
    row[at.HALF_TOP_CM], row[at.HALF_BASE_CM] = thickness[0] / 2, thickness[-1] / 2
    row[at.RIM_CM] = pot.rim_cm
    row[at.EVAPORATION], row[at.UPTAKE], row[at.RAIN_CM2] = pot.evaporation_cm2, pot.uptake_cm2, pot.rain_cm2
    row[at.DRYING_FROM_CM], row[at.DRYING_TO_CM] = DRYING_FROM_CM, DRYING_TO_CM
    lowest = pot.media[-1]
    row[at.BASE] = (OPEN, HELD, SAUCER).index(base.kind)
    row[at.BASE_CM] = base.head_cm
    row[at.BASE_K] = lowest.conductivity_at(np.array([max(0.0, -base.head_cm)]))[0]
    row[at.SAUCER_CM2], row[at.SAUCER_CM3] = base.saucer_area_cm2, base.saucer_cm3
    row[at.RULE] = _rule(watering)
    row[at.HOUR], row[at.DAYS], row[at.SHARE] = watering.at_hour, watering.every_days, watering.used_share
    row[at.WEEKDAYS], row[at.AT_MOST] = watering.weekdays, watering.at_most
    row[at.DOSE] = watering.dose_cm3 or 0.0
    row[at.SURPLUS], row[at.RATE] = watering.surplus, watering.rate_cm3_h
    row[at.FLOOD_CM], row[at.FLOOD_HOURS] = watering.flood_cm or 0.0, watering.flood_hours
    drained = pot.drained_water
    row[at.FULL], row[at.DRY] = drained @ column.volume_cm3, pot.dry_beside(drained)
    row[at.ZONE_WET], row[at.TOO_DRY] = pot.total_porosity - pot.air_limit, pot.too_dry_share
    row[at.REPEL_BELOW], row[at.REPEL_UNTIL] = -1.0, NEVER
    if pot.repelling is not None:
        row[at.REPEL_BELOW], row[at.REPEL_UNTIL] = pot.repelling.below, pot.repelling.until
        row[at.RUN_PAST] = pot.repelling.run_past
    row[at.HOURLY], row[at.END] = float(hourly), hours
    return row


def _rule(watering: Watering) -> int:
    flooding = watering.flood_cm is not None
    if watering.by == CALENDAR:
        return at.FLOOD_BY_CALENDAR if flooding else at.BY_CALENDAR
    if watering.by == NEED:
        return at.FLOOD_BY_NEED if flooding else at.BY_NEED
    return at.BY_NOBODY


def shape_of(pot: Pot) -> "Array":
    """Return the geometry of a pot as the solvers read it, shape (cells, 6)."""
    column = pot.column
    height, face = column.height_cm, column.face_area_cm2
    shape = np.zeros((len(height), 6))
    shape[:, 0] = column.volume_cm3
    shape[1:, 1] = face[1:-1] / (height[:-1] - height[1:])
    shape[1:, 2] = face[1:-1]
    shape[:, 3] = shape[:, 4] = pot.root_share
    shape[:, 5] = column.thickness_cm
    return shape
