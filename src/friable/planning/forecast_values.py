"""What a forecast consists of."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from friable.science.containers import Container
from friable.science.estimate import Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """The eight figures of a mix in a container; fractions are of the medium's bulk volume.

    Available water counts down to 15,000 cm of suction, easily available water from 10 to 50 cm.
    """

    total_porosity: Estimate
    container_capacity: Estimate
    air_space: Estimate
    available_water: Estimate
    easily_available_water: Estimate
    dry_bulk_density_g_cm3: Estimate
    wet_mass_kg: Estimate  # mix at container capacity, without pot and drainage layer
    shrinkage: Estimate  # share of the poured volume lost on mixing

    def figures(self) -> dict[str, Estimate]:
        """Return the eight figures by name."""
        return {f.name: getattr(self, f.name) for f in fields(Figures)}

    def figures_json(self) -> dict[str, Mapping[str, float | str]]:
        """Return the eight figures by name, as programs read them."""
        return {name: figure.to_json() for name, figure in self.figures().items()}


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """Water and air at one height above the floor of the container. [cm; shares of bulk volume]"""

    height_cm: float
    water: float
    water_low: float
    water_high: float
    air: float


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """Water held against one suction. [cm; share of bulk volume]"""

    suction_cm: float
    water: float
    water_low: float
    water_high: float


@dataclass(frozen=True, slots=True)
class LayerBounds:
    """The two cases between which a pot with a drainage layer lies."""

    broken_films: Mapping[
        str, Estimate
    ]  # air_space, container_capacity; the medium drains no further than the layer lets in
    continuous_films: Mapping[str, Estimate]  # the medium stands on a column of water as high as the layer
    lost_volume_share: float  # of the filled volume
    water_entry_suction_cm: Estimate

    def to_json(self) -> dict[str, Any]:
        """Return the bounds by name."""
        return {
            "broken_films": {k: e.to_json() for k, e in self.broken_films.items()},
            "continuous_films": {k: e.to_json() for k, e in self.continuous_films.items()},
            "lost_volume_share": self.lost_volume_share,
            "water_entry_suction_cm": self.water_entry_suction_cm.to_json(),
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast(Figures):
    """Air and water of a mix in a container after watering, with everything needed to explain it."""

    supported_by: str  # title of the material whose size class limits the packing
    switch_at: float | None  # smallest whole-per-cent loose share of it at which it still does; None: always
    profile: tuple[ProfilePoint, ...]  # from the bottom of the medium to the fill line
    plain_average: Figures
    widest_input: str
    warnings: tuple[str, ...]
    layer_bounds: LayerBounds | None
    curve: tuple[CurvePoint, ...]
    container: Container
    samples: int

    def to_json(self) -> dict[str, Any]:
        """Return the forecast under the names that programs read."""
        return {
            **self.figures_json(),
            "supported_by": self.supported_by,
            "switch_at": self.switch_at,
            "profile": [
                {
                    "height_cm": p.height_cm,
                    "water": p.water,
                    "water_low": p.water_low,
                    "water_high": p.water_high,
                    "air": p.air,
                }
                for p in self.profile
            ],
            "plain_average": self.plain_average.figures_json(),
            "widest_input": self.widest_input,
            "warnings": list(self.warnings),
            "layer_bounds": self.layer_bounds.to_json() if self.layer_bounds else None,
            "container": self.container.describe(),
        }
