"""What is asked of a pot through a watering and the days after it, and what is answered."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from friable.planning.forecast_values import ProfilePoint
from friable.planning.watering_text import OPEN, Base
from friable.reference.watering_work import used_share
from friable.science.containers import Container
from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.climate import Climate
    from friable.reference.materials import Material
    from friable.reference.plant_water import PlantWater


@dataclass(frozen=True, slots=True, kw_only=True)
class WateringCase:
    """One pot of a mix, the weather it stands in and how it is watered.

    `use` is the pot's own multiple of the reference, such as two weighings gave; without it that of the
    plant, or of any pot (0.3 to 1.2) where there is none. `dose_l` None: what is missing and a tenth more.
    """

    parts: "tuple[tuple[Material, float], ...]"
    container: Container
    climate: "Climate"
    plant: "PlantWater | None" = None
    use: "Estimate | float | None" = None
    base: Base = field(default_factory=lambda: Base(OPEN))
    dose_l: float | None = None
    rate_l_h: float | None = None
    used_share: float = field(default_factory=lambda: used_share().value)
    layer_material: "Material | None" = None
    pair_overlap_loss: Mapping[frozenset[str], float] | None = None


@dataclass(frozen=True, slots=True)
class SeriesPoint:
    """The pot at one hour after a watering: water and air as shares of the medium's volume, its mass."""

    hour: float
    water: float
    water_low: float
    water_high: float
    air_root_zone: float
    air_low: float
    air_high: float
    mass_kg: float
    mass_low_kg: float
    mass_high_kg: float


@dataclass(frozen=True, slots=True)
class Moment:
    """The pot at a moment that has a name, by height."""

    hour: float
    said: str
    profile: tuple[ProfilePoint, ...]


@dataclass(frozen=True, slots=True)
class LayerSide:
    """One of the two cases between which a pot with a drainage layer lies."""

    films: str
    hours_wet: float
    days_to_water: float
    litres_held: float

    def __str__(self) -> str:
        return _(
            "{films}: too wet for {hours:.0f} h, watered again after {days:.1f} days, {litres:.2g} L of "
            "water in the pot when drained"
        ).format(films=_(self.films), hours=self.hours_wet, days=self.days_to_water, litres=self.litres_held)


@dataclass(frozen=True, slots=True, kw_only=True)
class WateringAnswer:
    """What a watering does to a pot. Mass is that of mix and water, without pot and plant."""

    hours_wet: Estimate  # after a watering, with less air in the root zone than the limit
    days_to_water: Estimate  # from a watering until the chosen share of the available water is used
    dries_within: bool  # False: it never gets there; the days are those that were looked at
    stands_in_water: bool  # or on a mat: it is never watered from above
    litres_per_watering: Estimate
    runs_through: Estimate  # share of what is poured
    litres_per_week: Estimate  # lost to the plant and the air
    target_mass_kg: Estimate
    full_mass_kg: Estimate
    target_of_full_mass: float  # the target as a share of the full mass
    target_of_water: float  # water left at the target, as a share of that between full and dry
    used_share: float
    air_limit: float
    series: tuple[SeriesPoint, ...]
    moments: tuple[Moment, ...]
    layer_bounds: tuple[LayerSide, ...] | None
    warnings: tuple[str, ...]
    not_modelled: tuple[str, ...]
    container: Container
    climate_name: str
    samples: int
    failed: int  # pots that went to the careful solver

    def to_json(self) -> dict[str, Any]:
        """Return the answer under the names that programs read."""
        figures = (
            "hours_wet",
            "days_to_water",
            "litres_per_watering",
            "runs_through",
            "litres_per_week",
            "target_mass_kg",
            "full_mass_kg",
        )
        return {
            **{name: getattr(self, name).to_json() for name in figures},
            "dries_within": self.dries_within,
            "stands_in_water": self.stands_in_water,
            "target_of_full_mass": self.target_of_full_mass,
            "target_of_water": self.target_of_water,
            "used_share": self.used_share,
            "air_limit": self.air_limit,
            "series": [
                {
                    "hour": p.hour,
                    "water": p.water,
                    "water_low": p.water_low,
                    "water_high": p.water_high,
                    "air_root_zone": p.air_root_zone,
                    "mass_kg": p.mass_kg,
                }
                for p in self.series
            ],
            "moments": [
                {
                    "hour": m.hour,
                    "said": m.said,
                    "profile": [
                        {"height_cm": p.height_cm, "water": p.water, "air": p.air} for p in m.profile
                    ],
                }
                for m in self.moments
            ],
            "layer_bounds": [
                {
                    "films": side.films,
                    "hours_wet": side.hours_wet,
                    "days_to_water": side.days_to_water,
                    "litres_held": side.litres_held,
                }
                for side in self.layer_bounds
            ]
            if self.layer_bounds
            else None,
            "warnings": list(self.warnings),
            "not_modelled": list(self.not_modelled),
            "container": self.container.describe(),
            "climate": self.climate_name,
        }
