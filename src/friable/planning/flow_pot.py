"""From a mix in a container with a plant to a pot that the flow of water can be worked for."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadRecipe, Refused
from friable.planning import watering_text as stands
from friable.planning.flow_media import MediumFigures, layer_medium
from friable.reference.rewetting import MixedRewetting
from friable.science.containers import Container
from friable.science.drainage import water_entry_suction_cm
from friable.science.flow.column import Column, column_of
from friable.science.flow.medium import NO_ROOTS, Medium, Uptake
from friable.science.flow.pot import HELD, OPEN, SAUCER, Base, Pot, Repelling, Watering, Weather
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.climate import Climate
    from friable.reference.materials import Material
    from friable.reference.plant_water import PlantWater

    Array = NDArray[np.float64]

FILM_CM_H = 0.1  # of a layer whose films are continuous: chosen so that a pot comes to balance within a day
MORNING = 8  # hour at which pots are looked at and watered
POURED_BY_HAND_CM3_H = 300_000.0  # filled up within a minute or two; common practice, no source
SAUCER_WIDER = 1.3  # a saucer is so much wider than the foot of its pot; common practice, no source
BROKEN, CONTINUOUS = "broken films", "continuous films"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PotSetting:
    """Everything about a pot but its medium: where it stands, what grows in it, who waters it."""

    container: Container
    plant: "PlantWater | None"
    base: stands.Base
    watering: Watering
    layer_material: "Material | None" = None
    films: str = BROKEN
    rewetting: MixedRewetting | None = None
    air_limit: float
    too_dry_share: float


def weather_of(climate: "Climate", days: int) -> Weather:
    """Return demand and rain of a climate as the flow solvers take them; repeated where it is too short."""
    hours = 24 * days
    return Weather(
        np.resize(climate.reference_mm / 10, hours),
        np.resize(climate.rain_at_plants_mm / 10, hours),
        climate.starts_on.weekday(),
    )


@lru_cache(maxsize=1024)
def column_for(container: Container) -> Column:
    """Return the cells of a container, the same object for the same container."""
    return column_of(container)


def pot_of(
    setting: PotSetting,
    figures: MediumFigures,
    *,
    use: float,
    run_past: float | None = None,
    weather: int = 0,
) -> Pot:
    """Return the pot of one member: one medium, one multiple of the reference. [shares; multiples]

    Raises
    ------
    BadRecipe
        If there is a drainage layer and nobody said of what.
    Refused
        If the standing water would drown the pot.
    """
    container, plant = setting.container, setting.plant
    column = column_for(container)
    top_cm2 = float(column.face_area_cm2[0])
    media: tuple[Medium, ...] = (figures.medium,)
    entry_cm = None
    if container.drainage_layer_cm:
        if setting.layer_material is None:
            raise BadRecipe(
                _("The drainage layer has no material; say what it is made of, such as “3 cm gravel”.")
            )
        layer = layer_in_pot(setting.layer_material, setting.films)
        media = (figures.medium, layer)
        if setting.films == BROKEN:
            entry_cm = water_entry_suction_cm(setting.layer_material.d50_mm)
    surface_share = 1.0 if plant is None else plant.evaporation_share
    return Pot(
        column=column,
        media=media,
        total_porosity=figures.total_porosity,
        uptake=_uptake(plant),
        root_depth_share=1.0 if plant is None else plant.root_depth_share,
        evaporation_cm2=top_cm2 * use * surface_share,
        uptake_cm2=top_cm2 * use * (1 - surface_share),
        rain_cm2=top_cm2,
        base=_base(setting),
        watering=_watering(setting),
        entry_suction_cm=entry_cm,
        repelling=_repelling(setting.rewetting, figures, run_past),
        rim_cm=container.headspace_cm,
        weather=weather,
        air_limit=setting.air_limit,
        too_dry_share=setting.too_dry_share,
    )


@lru_cache(maxsize=64)
def layer_in_pot(material: "Material", films: str) -> Medium:
    """Return the medium of a drainage layer; with continuous films it conducts at any suction."""
    medium = layer_medium(material)
    if films == BROKEN:
        return medium
    return replace(medium, conductivity_cm_h=np.maximum(medium.conductivity_cm_h, FILM_CM_H))


def _uptake(plant: "PlantWater | None") -> Uptake:
    return NO_ROOTS if plant is None or plant.without_plant else Uptake(*plant.heads_cm)


def _watering(setting: PotSetting) -> Watering:
    if setting.base.kind != stands.FLOOD or setting.watering.by == "nobody":
        return setting.watering
    return replace(
        setting.watering, flood_cm=setting.base.depth_cm, flood_hours=min(24.0, setting.base.hours or 0.25)
    )


def _base(setting: PotSetting) -> Base:
    base, container = setting.base, setting.container
    if base.kind == stands.STANDING:
        if base.depth_cm >= container.fill_height_cm:
            raise Refused(
                _("Water {depth:g} cm deep stands above the medium ({height:g} cm); give less.").format(
                    depth=base.depth_cm, height=container.fill_height_cm
                )
            )
        return Base(kind=HELD, head_cm=base.depth_cm)
    if base.kind == stands.MAT:
        return Base(kind=HELD, head_cm=-base.depth_cm)
    if base.kind == stands.SAUCER:
        foot = float(container.area_cm2(0.0))
        return Base(kind=SAUCER, saucer_area_cm2=foot * SAUCER_WIDER**2, saucer_cm3=1000 * base.saucer_l)
    return Base(kind=OPEN)


def _repelling(
    rewetting: MixedRewetting | None, figures: MediumFigures, run_past: float | None
) -> Repelling | None:
    """Return from which water content this medium repels; None if it never gets there."""
    if rewetting is None:
        return None
    suctions = np.array([rewetting.from_suction_cm.value, rewetting.again_below_suction_cm])
    below, until = (float(x) for x in figures.medium.water_at(suctions))
    if not below < until:
        return None
    share = rewetting.run_past.value if run_past is None else run_past
    return Repelling(below=below, until=until, run_past=min(share, 0.99))
