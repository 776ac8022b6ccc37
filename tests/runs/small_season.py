"""A season small enough for tests, in many blocks."""

from datetime import date

from friable.planning.collection import read_collection
from friable.planning.plain_season import plain_season
from friable.planning.season import plan_season
from friable.planning.weather_variants import year_of_weathers

PEAT, BARK = "2 sphagnum peat medium + 1 perlite coarse", "5 pine bark nursery + 1 perlite coarse"
COLLECTION = f"""group,mix,container,count,plant,water_use,place,watering
north,{PEAT},round 17/12/13 cm,10,shrubs,1,,every 3 days
north,{BARK},round 9/7/8 cm,40,ferns,,,on need
south,{PEAT},round 17/12/13 cm,5,shrubs,1,,every 3 days
south,{PEAT},round 9/7/8 cm,100,bog,,,standing water 2 cm
"""
ARRAYS = (
    "watered", "litres_each", "wet", "dry", "next_within", "watered_in", "member_litres", "member_hours",
)  # fmt: skip


def small_plan(block_pots=4, text=COLLECTION, draws=4, days=40):
    """36 pots to run, in nine blocks of four."""
    climates = year_of_weathers(plain_season("temperate glasshouse summer", days, date(2026, 6, 1)), 3)
    return plan_season(read_collection(text), climates, draws=draws, block_pots=block_pots)
