"""Weather by the hour at the plants, and what it makes a well-watered surface lose."""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from friable.errors import BadQuantity, Refused
from friable.planning.hourly_light import guessed_light_w_m2
from friable.planning.reference_loss import lost_outdoors_mm, lost_under_glass_mm
from friable.reference.evaporation_defaults import evaporation_default
from friable.science.estimate import HOW_KNOWN
from friable.science.evaporation import saturation_vapour_pressure_kpa
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOURS = 24
COLDEST_C, WARMEST_C = -60.0, 70.0
BRIGHTEST_W_M2 = 1600.0  # edges of clouds can exceed a clear sky
FASTEST_M_S = 60.0
WETTEST_MM = 300.0  # in an hour
LONGEST_YEARS = 11
BUILT_IN = ("memory", "common practice")
DAMPEST = 0.98  # of air that was cooled or wetted by us


@dataclass(frozen=True, eq=False)
class Climate:
    """Hourly weather: one value an hour from 00:00 of `starts_on`, winter time, whole days.

    Temperature and humidity are those of the air around the plants. `radiation_w_m2` is the light where it
    was measured; times `light_transmission` it is the light at the plants. Under glass there is no rain.
    """

    name: str
    source: str
    how_known: str
    starts_on: date
    temperature_c: "NDArray[np.float64]"
    relative_humidity: "NDArray[np.float64]"  # 0 to 1
    radiation_w_m2: "NDArray[np.float64] | None" = None
    wind_m_s: "NDArray[np.float64] | None" = None  # at 2 m
    rain_mm: "NDArray[np.float64] | None" = None  # None: nothing falls
    latitude_deg: float | None = None
    elevation_m: float = 0.0
    under_glass: bool = False
    light_transmission: float = 1.0
    mean_noon_h: float = 12.0  # clock time at which the sun stands highest on the mean of the year
    notes: tuple[str, ...] = field(default=())  # what was filled in, dropped or assumed

    def __post_init__(self) -> None:
        if self.how_known not in HOW_KNOWN:
            raise ValueError(f"how_known is {self.how_known!r}; it must be one of {', '.join(HOW_KNOWN)}")
        hours = len(self.temperature_c)
        if hours < HOURS or hours % HOURS or hours > LONGEST_YEARS * 366 * HOURS:
            raise BadQuantity(
                _("hours of weather"),
                hours,
                "h",
                _("whole days, from one to {years} years").format(years=LONGEST_YEARS),
            )
        for name, said, low, high, unit in (
            ("temperature_c", _("air temperature"), COLDEST_C, WARMEST_C, "°C"),
            ("relative_humidity", _("relative humidity"), 0.0, 1.0, ""),
            ("radiation_w_m2", _("light"), 0.0, BRIGHTEST_W_M2, "W/m²"),
            ("wind_m_s", _("wind"), 0.0, FASTEST_M_S, "m/s"),
            ("rain_mm", _("rain in an hour"), 0.0, WETTEST_MM, "mm"),
        ):
            if getattr(self, name) is None:
                continue
            values = np.array(getattr(self, name), dtype=float)
            if values.shape != (hours,):
                raise BadQuantity(_("values of {name}").format(name=said), values.size, "", str(hours))
            outside = ~((values >= low) & (values <= high))
            if outside.any():
                raise BadQuantity(
                    said,
                    float(values[outside][0]),
                    unit,
                    _("from {low:g} to {high:g}").format(low=low, high=high),
                )
            values.flags.writeable = False
            object.__setattr__(self, name, values)
        if self.latitude_deg is not None and not -90 < self.latitude_deg < 90:
            raise BadQuantity(_("latitude"), self.latitude_deg, "°", _("above -90 and below 90"))
        if not 0 <= self.light_transmission <= 1:
            raise BadQuantity(_("light that comes through"), self.light_transmission, "", _("from 0 to 1"))

    @property
    def hours(self) -> int:
        """How many hours it covers."""
        return len(self.temperature_c)

    @property
    def days(self) -> int:
        """How many days it covers."""
        return self.hours // HOURS

    @property
    def hour_of_day(self) -> "NDArray[np.int_]":
        """0 for the hour that begins at midnight."""
        return np.arange(self.hours) % HOURS

    def day(self, number: int) -> date:
        """Return the date of a day; 0 is the first."""
        return self.starts_on + timedelta(days=number)

    @cached_property
    def day_of_year(self) -> "NDArray[np.float64]":
        """1 on 1 January, for every hour."""
        days = [self.day(number).timetuple().tm_yday for number in range(self.days)]
        return np.repeat(np.array(days, dtype=float), HOURS)

    @property
    def light_known(self) -> str:
        """How light is known: “measured”, “from temperature”, or “unknown” (latitude guessed too)."""
        if self.radiation_w_m2 is not None:
            return "measured"
        return "from temperature" if self.latitude_deg is not None else "unknown"

    @cached_property
    def outside_light_w_m2(self) -> "NDArray[np.float64]":
        """Light as measured, or guessed from the swing of temperature where it was not. [W m⁻²]"""
        if self.radiation_w_m2 is not None:
            return self.radiation_w_m2
        return guessed_light_w_m2(
            self.temperature_c, self.day_of_year, self.latitude_taken_deg, self.mean_noon_h, self.elevation_m
        )

    @property
    def light_w_m2(self) -> "NDArray[np.float64]":
        """Light at the plants. [W m⁻²]"""
        return self.outside_light_w_m2 * self.light_transmission

    @property
    def rain_at_plants_mm(self) -> "NDArray[np.float64]":
        """Rain that falls on the pots in each hour. [mm]"""
        if self.under_glass or self.rain_mm is None:
            return np.zeros(self.hours)
        return self.rain_mm

    @cached_property
    def reference_mm(self) -> "NDArray[np.float64]":
        """Reference evapotranspiration of each hour: FAO-56 outdoors, a big leaf under glass. [mm]"""
        lost = lost_under_glass_mm(self) if self.under_glass else lost_outdoors_mm(self)
        lost = np.maximum(lost, 0.0)  # dew is not counted as water for the pot
        lost.flags.writeable = False
        return lost

    @property
    def reference_factors(self) -> tuple[float, float]:
        """What to multiply `reference_mm` by for its low and its high end."""
        if self.how_known in BUILT_IN:
            row = "reference_of_plain_season"
        elif self.light_known == "measured":
            row = "reference_of_measured_light"
        elif self.light_known == "from temperature":
            row = "reference_of_light_from_temperature"
        else:
            row = "reference_of_unknown_light"
        known = evaporation_default(row)
        return known.low, known.high

    @property
    def light_sentence(self) -> str:
        """Say how the light is known and what that leaves open."""
        low, high = self.reference_factors
        if self.how_known in BUILT_IN:
            said = _("This is built-in weather of no real place.")
        elif self.light_known == "measured":
            said = _("Light was recorded.")
        elif self.light_known == "from temperature":
            said = _("Light was not recorded; it was guessed from how far the temperature swings.")
        else:
            said = _("Neither light nor latitude is known; both were guessed. Give the latitude.")
        return (
            said
            + " "
            + _("What the air takes may be {low:g} to {high:g} times the figure.").format(low=low, high=high)
        )

    @property
    def latitude_taken_deg(self) -> float:
        """The latitude, or the one taken where nobody said. [°]"""
        if self.latitude_deg is not None:
            return self.latitude_deg
        return evaporation_default("unknown_latitude_deg").value

    def under_glass_of(
        self,
        light_transmission: float | None = None,
        *,
        heated_to_c: float | None = None,
        warming_k_m2_w: float | None = None,
        name: str = "",
    ) -> "Climate":
        """Return this weather as it is in a vented house that stands in it.

        Parameters
        ----------
        light_transmission : float, optional
            Share of the light outside that reaches the plants, 0 to 1; by default that of clean glass.
        heated_to_c : float, optional
            The heating keeps the house at least this warm. [°C]
        warming_k_m2_w : float, optional
            How much warmer than outdoors the house gets for each W/m² of light inside. [K m² W⁻¹]
        name : str, optional
            What to call it.

        Raises
        ------
        Refused
            If it is under glass already.
        BadQuantity
            If no such share of light comes through.

        Notes
        -----
        The house holds the water vapour of the air outside, which light and heating warm. Damping down,
        misting and full crops make a house moister than that: record the humidity inside where it matters.
        """
        if self.under_glass:
            raise Refused(
                _("{name} is under glass already; shade it instead, or take the weather outside.").format(
                    name=self.name
                )
            )
        if light_transmission is None:
            light_transmission = evaporation_default("glass_light_transmission").value
        if warming_k_m2_w is None:
            warming_k_m2_w = evaporation_default("warming_under_glass_k_m2_w").value
        if not 0 <= light_transmission <= 1:
            raise BadQuantity(_("light that comes through"), light_transmission, "", _("from 0 to 1"))
        vapour = saturation_vapour_pressure_kpa(self.temperature_c) * self.relative_humidity
        inside = self.temperature_c + warming_k_m2_w * self.outside_light_w_m2 * light_transmission
        if heated_to_c is not None:
            inside = np.maximum(inside, heated_to_c)
        return replace(
            self,
            name=name or _("{name}, under glass").format(name=self.name),
            temperature_c=np.minimum(inside, WARMEST_C),
            relative_humidity=np.minimum(vapour / saturation_vapour_pressure_kpa(inside), DAMPEST),
            radiation_w_m2=self.outside_light_w_m2,
            wind_m_s=None,
            rain_mm=None,
            under_glass=True,
            light_transmission=light_transmission,
            how_known="estimated" if self.how_known in ("measured", "published") else self.how_known,
        )

    def shaded_to(self, light_share: float) -> "Climate":
        """Return the same weather with only this share of the light (0 to 1), as under a net or a tree.

        Raises
        ------
        BadQuantity
            If there is no such share.
        """
        if not 0 <= light_share <= 1:
            raise BadQuantity(_("share of light"), light_share, "", _("from 0 to 1"))
        return replace(
            self,
            name=_("{name}, {share:.0f} % of the light").format(name=self.name, share=100 * light_share),
            light_transmission=self.light_transmission * light_share,
        )

    def between(self, first_day: int, days: int) -> "Climate":
        """Return some days of it; 0 is the first.

        Raises
        ------
        BadQuantity
            If it has no such days.
        """
        if first_day < 0 or days < 1 or first_day + days > self.days:
            raise BadQuantity(
                _("last day asked for"),
                first_day + days,
                "",
                _("within its {days} days").format(days=self.days),
            )
        return self.rearranged(np.arange(first_day, first_day + days), self.day(first_day))

    def rearranged(self, day_numbers: "NDArray[np.int_]", starts_on: date, **changes: Any) -> "Climate":
        """Return a climate made of whole days of this one, in this order."""

        def picked(values: "NDArray[np.float64]") -> "NDArray[np.float64]":
            return values.reshape(-1, HOURS)[day_numbers].reshape(-1)

        return replace(
            self,
            starts_on=starts_on,
            temperature_c=picked(self.temperature_c),
            relative_humidity=picked(self.relative_humidity),
            radiation_w_m2=None if self.radiation_w_m2 is None else picked(self.radiation_w_m2),
            wind_m_s=None if self.wind_m_s is None else picked(self.wind_m_s),
            rain_mm=None if self.rain_mm is None else picked(self.rain_mm),
            **changes,
        )
