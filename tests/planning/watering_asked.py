"""The pot that the tests of a watering ask about."""

from dataclasses import replace

from friable.planning.container_text import parse_container
from friable.planning.plain_season import plain_season
from friable.planning.watering import WateringCase, watering
from friable.reference.materials import find_material
from friable.reference.plant_water import find_plant

BARK_MIX = (
    (find_material("pine bark nursery"), 4.0),
    (find_material("sphagnum peat medium"), 2.0),
    (find_material("perlite coarse"), 1.0),
)
POT = parse_container("round 13/10/12 cm").with_headspace(1)
CASE = WateringCase(
    parts=BARK_MIX, container=POT, climate=plain_season("temperate glasshouse summer", 30),
    plant=find_plant("foliage"),
)  # fmt: skip
DRAWS = 4


def ask(draws=0, **changes):
    return watering(replace(CASE, **changes), draws=draws)


def at_hour(answer, hour):
    return min(answer.series, key=lambda point: abs(point.hour - hour))
