"""What stands at Quillmoor, for a season: groups of pots by mix, container, plant and place; all invented."""

from friable.demo.people import KEEPER
from friable.records import actions
from friable.records.models import ClimateFile, Season

TITLE = "The glasshouses as they stand"

COLLECTION = """\
group,mix,container,count,plant,place,watering
bog bench,bog mix,1 L pot,140,bog,glass,standing water 2 cm
bog bench,bog mix,9 cm pot,220,bog,glass,standing water 1 cm
epiphytes,epiphyte bark,orchid basket,60,epiphytes,glass,on need
epiphytes,epiphyte bark,1 L pot,85,epiphytes,glass,on need
cacti,cactus mix,9 cm pot,310,succulents,glass,on need
cacti,cactus mix,2 L pot,70,succulents,glass,every 10 days
alpines,alpine mix,long tom,95,alpines,shade 50 %,on need
alpines,alpine mix,bulb pan,60,bulbs,glass,every 3 days
seed trays,seed mix,seed tray,24,seedlings,glass,daily
cuttings,cutting mix,cutting cell,480,cuttings,glass,daily
tender shrubs,Quillmoor potting-on,2 L pot,160,shrubs,glass,on need
tender shrubs,potting-on mix,3 L pot,55,shrubs,glass,on need
"""
POTS = 1759


def ask_for_a_season(climate: ClimateFile) -> Season:
    """Write down that a season of the collection is wanted; it is begun by whoever looks at it."""
    return actions.ask_season(
        TITLE,
        by=KEEPER,
        collection=COLLECTION,
        climate=climate,
        weathers=3,
        draws=8,
        pots=POTS,
        note="Invented like the rest of Quillmoor.",
    )
