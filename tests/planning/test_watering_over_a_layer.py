"""A pot over a drainage layer: water is told of the medium alone, and lies within its pores."""

import pytest

from friable.planning.container_text import parse_container
from friable.planning.plain_season import plain_season
from friable.planning.watering import WateringCase, watering
from friable.reference.materials import find_material
from friable.reference.plant_water import find_plant

PARTS = ((find_material("sphagnum peat fine"), 1.0), (find_material("vermiculite medium"), 1.0))


@pytest.fixture(scope="module")
def answer():
    pot = parse_container("round 20/17/5 cm").with_headspace(0.8).with_drainage_layer(1.5)
    return watering(
        WateringCase(
            parts=PARTS,
            container=pot,
            climate=plain_season("temperate glasshouse summer", 30),
            plant=find_plant("seedlings"),
            layer_material=find_material("gravel"),
        ),
        draws=2,
    )


def test_water_and_air_of_the_medium_are_shares_of_it(answer):
    for point in answer.series:
        assert 0 < point.water_low <= point.water <= point.water_high < 1
        assert 0 <= point.air_root_zone < 1


def test_both_sides_are_told(answer):
    assert [side.films for side in answer.layer_bounds] == ["broken films", "continuous films"]
