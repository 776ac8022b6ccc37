"""From a mix in a container with a plant to a pot that flow can be worked for."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from friable.errors import BadQuantity, BadRecipe, Refused
from friable.planning.climate import Climate
from friable.planning.container_text import parse_container
from friable.planning.flow_media import media
from friable.planning.flow_pot import (
    BROKEN,
    CONTINUOUS,
    PotSetting,
    column_for,
    layer_in_pot,
    pot_of,
    weather_of,
)
from friable.planning.plain_season import plain_season
from friable.planning.watering_text import Base as Stands
from friable.reference.materials import find_material
from friable.reference.plant_water import find_plant
from friable.reference.rewetting import mixed_rewetting
from friable.science.flow.medium import NO_ROOTS, Uptake
from friable.science.flow.pot import CALENDAR, HELD, NEED, NOBODY, OPEN, SAUCER, Watering

PARTS = ((find_material("pine bark nursery"), 4.0), (find_material("sphagnum peat medium"), 2.0))
GRAVEL = find_material("gravel")
FIGURES = media(PARTS)[0]
POT = parse_container("round 13/10/12 cm").with_headspace(1.5)
TOP_CM2 = float(column_for(POT).face_area_cm2[0])


def setting(**changes):
    plain = {
        "container": POT, "plant": find_plant("foliage"), "base": Stands("open holes"),
        "watering": Watering(by=NEED), "air_limit": 0.1, "too_dry_share": 0.9,
    }  # fmt: skip
    return PotSetting(**plain | changes)


def made(use=0.8, **changes):
    return pot_of(setting(**changes), FIGURES, use=use)


def test_use_is_shared_between_surface_and_plant():
    # 30 % of what a pot of foliage plants loses goes from the surface (plant_water.csv).
    pot = made(use=0.8)

    assert pot.evaporation_cm2 == pytest.approx(0.3 * 0.8 * TOP_CM2)
    assert pot.uptake_cm2 == pytest.approx(0.7 * 0.8 * TOP_CM2)
    assert pot.uptake == Uptake(1, 5, 250, 3000)


@pytest.mark.parametrize("plant", [None, find_plant("none")])
def test_without_a_plant_all_goes_from_the_surface(plant):
    pot = made(plant=plant)

    assert pot.evaporation_cm2 == pytest.approx(0.8 * TOP_CM2)
    assert pot.uptake_cm2 == 0
    assert pot.uptake is NO_ROOTS
    assert pot.root_depth_share == 1


def test_roots_reach_as_deep_as_the_plants_do():
    assert made(plant=find_plant("bog")).root_depth_share == 0.8


def test_the_rim_is_the_headspace_and_rain_falls_on_the_top():
    pot = made()

    assert pot.rim_cm == 1.5
    assert pot.rain_cm2 == TOP_CM2
    assert pot.total_porosity == FIGURES.total_porosity


@pytest.mark.parametrize(
    ("base", "kind", "head_cm"),
    [
        (Stands("open holes"), OPEN, 0),
        (Stands("standing water", depth_cm=2), HELD, 2),
        (Stands("mat", depth_cm=5), HELD, -5),
        (Stands("flood", depth_cm=5, hours=0.5), OPEN, 0),
    ],
)
def test_bases(base, kind, head_cm):
    pot = made(base=base, watering=Watering())

    assert (pot.base.kind, pot.base.head_cm) == (kind, head_cm)


def test_a_saucer_is_wider_than_the_foot_by_a_third():
    # 1.3 times the diameter of 10 cm: π / 4 x 13².
    base = made(base=Stands("saucer", saucer_l=0.25)).base

    assert base.kind == SAUCER
    assert base.saucer_cm3 == 250
    assert base.saucer_area_cm2 == pytest.approx(np.pi / 4 * 13**2, rel=1e-6)


def test_a_flood_takes_the_place_of_what_is_poured():
    flood = Stands("flood", depth_cm=4, hours=0.5)
    by_calendar = made(base=flood, watering=Watering(by=CALENDAR, every_days=2)).watering

    assert (by_calendar.flood_cm, by_calendar.flood_hours, by_calendar.every_days) == (4, 0.5, 2)
    assert made(base=flood, watering=Watering(by=NOBODY)).watering.flood_cm is None


def test_water_deeper_than_the_medium_is_refused():
    with pytest.raises(Refused) as refused:
        made(base=Stands("standing water", depth_cm=11))

    assert str(refused.value) == "Water 11 cm deep stands above the medium (10.5 cm); give less."


def test_use_that_is_not_a_number_is_refused():
    with pytest.raises(BadQuantity, match="not a number"):
        made(use=float("nan"))


# --- drainage layers ------------------------------------------------------------------------------


def test_a_layer_has_two_sides():
    layered = POT.with_drainage_layer(2.0)
    broken, continuous = (
        made(container=layered, layer_material=GRAVEL, films=films) for films in (BROKEN, CONTINUOUS)
    )

    assert continuous.entry_suction_cm is None
    # Water enters 5-10 mm gravel at about 0.7 to 3 cm of suction: h = 0.148 cm²/r, r 0.2 to 0.4 of the grain.
    assert 0.1 < broken.entry_suction_cm < 3
    assert len(broken.media) == len(continuous.media) == 2
    assert broken.full_cm3 > continuous.full_cm3


def test_films_conduct_where_they_are_continuous_and_only_there():
    broken, continuous = layer_in_pot(GRAVEL, BROKEN), layer_in_pot(GRAVEL, CONTINUOUS)

    assert continuous.conductivity_cm_h.min() == 0.1
    assert broken.conductivity_cm_h.min() < 1e-6
    assert (continuous.water == broken.water).all()
    assert continuous.conductivity_cm_h[0] == broken.conductivity_cm_h[0]


def test_a_layer_of_nothing_is_refused():
    with pytest.raises(BadRecipe) as refused:
        made(container=POT.with_drainage_layer(2.0))

    assert str(refused.value) == (
        "The drainage layer has no material; say what it is made of, such as “3 cm gravel”."
    )


# --- media that repel -----------------------------------------------------------------------------


def test_a_medium_that_repels_does_so_from_the_water_at_its_suction():
    rewetting = mixed_rewetting(PARTS)
    repelling = made(rewetting=rewetting).repelling
    below, until = FIGURES.medium.water_at(
        np.array([rewetting.from_suction_cm.value, rewetting.again_below_suction_cm])
    )

    assert (repelling.below, repelling.until) == pytest.approx((below, until))
    assert repelling.run_past == rewetting.run_past.value
    assert pot_of(setting(rewetting=rewetting), FIGURES, use=1, run_past=0.25).repelling.run_past == 0.25
    assert made().repelling is None


# --- weather --------------------------------------------------------------------------------------


def test_weather_is_repeated_where_it_is_too_short_and_cut_where_it_is_long():
    climate = plain_season("temperate glasshouse summer", 3)
    weather = weather_of(climate, 7)

    assert weather.reference_cm.tolist() == [*(climate.reference_mm / 10)] * 2 + [
        *climate.reference_mm[:24] / 10
    ]
    assert len(weather_of(climate, 2).reference_cm) == 48
    assert (weather.rain_cm == 0).all()
    assert weather.weekday == climate.starts_on.weekday()


def test_rain_falls_outdoors_and_not_under_glass():
    figures = {
        "name": "made", "source": "memory", "how_known": "measured", "starts_on": date(2026, 6, 20),
        "temperature_c": np.full(24, 15.0), "relative_humidity": np.full(24, 0.8), "latitude_deg": 51.0,
        "radiation_w_m2": np.full(24, 100.0), "rain_mm": np.full(24, 0.5),
    }  # fmt: skip
    outdoors = Climate(**figures)

    assert weather_of(outdoors, 1).rain_cm == pytest.approx(0.05)
    assert weather_of(replace(outdoors, under_glass=True), 1).rain_cm.sum() == 0
    assert weather_of(outdoors, 1).weekday == 5  # 20 June 2026 is a Saturday
