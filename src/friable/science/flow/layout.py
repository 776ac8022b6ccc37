"""Places in the flat arrays that the compiled solvers work on: one name for each number.

A pot is one row of `spec` (what it is and what is done to it; never changed) and one row of `state` (where it
stands in time). Lengths in cm, volumes in cm3, times in hours, rates in cm3/h; pressure heads are minus the
suction.
"""

# What a pot is. Written by `spec.row_of`.
(
    SHAPE,  # which column: geometry and roots
    WEATHER,  # which weather
    MEDIUM,  # which table, by layer from the top
    MEDIUM_2,
    MEDIUM_3,
    JOINT,  # face at which the medium meets the layer under it; 0: none
    JOINT_2,
    ENTRY_CM,  # suction at which water enters the layer; below 0: films are continuous
    TOP_CM2,
    HALF_TOP_CM,  # from the surface to the middle of the first cell
    HALF_BASE_CM,
    BASE_CM2,
    RIM_CM,  # water that can stand on the medium
    EVAPORATION,  # cm3 for each cm of reference
    UPTAKE,
    RAIN_CM2,  # area that catches rain
    DRYING_FROM_CM,  # suction of the surface from which evaporation falls, and at which it ends
    DRYING_TO_CM,
    BASE,  # how the base stands: see BASES
    BASE_CM,  # pressure head at the base where it is held
    BASE_K,  # conductivity of the lowest material at that head
    SAUCER_CM2,
    SAUCER_CM3,  # what the saucer can hold
    RULE,  # how it is watered: see RULES
    HOUR,  # of the day
    DAYS,  # between waterings
    SHARE,  # of the available water used, at which it is watered
    AT_MOST,  # waterings in all; 0: no limit
    WEEKDAYS,  # bits, Monday first; days on which somebody waters
    DOSE,  # cm3; 0: what is missing, times 1 + SURPLUS
    SURPLUS,
    RATE,  # cm3/h
    FLOOD_CM,
    FLOOD_HOURS,
    FULL,  # cm3 of water that count as full
    DRY,  # cm3 of water left when the available water is used up
    ZONE_WET,  # water in the root zone above which its air is under the limit
    TOO_DRY,  # share of the available water used above which it counts as too dry
    REPEL_BELOW,  # water in the root zone under which the medium begins to repel; 0: never
    REPEL_UNTIL,
    RUN_PAST,  # share of a watering that runs past while it repels
    HOURLY,  # 1: stop at every hour and keep the profile
    START,
    END,
    SPEC,
) = range(45)

OPEN_HOLES, HELD_HEAD, SAUCER = 0, 1, 2  # BASE
BY_NOBODY, BY_CALENDAR, BY_NEED, FLOOD_BY_CALENDAR, FLOOD_BY_NEED = 0, 1, 2, 3, 4  # RULE

# Where a pot stands.
(
    TIME,
    STEP,
    STOP,
    POND,  # cm on the medium
    IN_SAUCER,  # cm3
    POURING,  # cm3/h
    POUR_UNTIL,
    FLOOD_UNTIL,
    RAINING,
    BASE_NOW,
    HEAD_NOW,
    K_NOW,
    EVAPORATING,  # cm3/h wanted
    TAKING,  # cm3/h wanted by roots
    REPELS,
    LAST_DAY,  # day on which the rule was last asked
    LAST_WATERED,
    STORED,  # cm3
    ZONE,  # water in the root zone, share of its volume
    # sums since the start
    POURED,
    RAINED,
    BELOW,  # through the base; drawn up from it counts negative
    DRAWN_UP,  # from a held head or a saucer
    OVER,  # over the rim
    PAST,  # between medium and pot
    SPILT,  # over the saucer
    EVAPORATED,
    TAKEN,
    WET_HOURS,
    DRY_HOURS,
    WATERINGS,
    STEPS_TAKEN,
    STEPS_REFUSED,
    FAILED,  # 1: the lanes gave it up; 2: the robust solver did as well
    STATE,
) = range(35)

# A row for each hour that is kept: sums are since the start.
HOURLY_ROW = ("stored", "in_zone", "pond", "ran_through", "drawn_up", "lost", "poured")
# A row for each day of a pot: the differences over the day, and what is stored at midnight.
DAILY = (
    "watered",
    "rained",
    "ran_through",
    "drawn_up",
    "evaporated",
    "taken_up",
    "hours_wet",
    "hours_dry",
    "waterings",
    "stored",
)
