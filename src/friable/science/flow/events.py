"""What happens to one pot between steps: weather by the hour, watering by its rule, the books of the day.

Compiled scalar functions on one row of `spec` and `state`, called by both solvers, so that a pot is treated
alike whichever of them runs it.
"""

import math

import numpy as np
from numba import njit

import friable.science.flow.layout as at

SLIVER_HOURS = 1e-7
FIRST_STEP_HOURS = 0.02
EMPTY_CM3 = 1e-3
GATE_CM = 0.02  # over which the way into a coarse layer opens
DEBT_HOURS = 0.02  # over which water that a step drew too much from the surface is given back
LEAST_POUR_HOURS = 1 / 60  # nobody pours a dose in less than a minute; common practice, no source

compiled = njit(cache=True, error_model="numpy", nogil=True, fastmath={"contract", "nsz"})


@compiled
def used_share(spec, state, p):
    """Return the share of the available water that is gone."""
    return (spec[p, at.FULL] - state[p, at.STORED]) / (spec[p, at.FULL] - spec[p, at.DRY])


@compiled
def is_due(spec, state, p, day, weekday):
    """Say whether the rule waters today."""
    if spec[p, at.AT_MOST] > 0 and state[p, at.WATERINGS] >= spec[p, at.AT_MOST]:
        return False
    if not (int(spec[p, at.WEEKDAYS]) >> ((weekday + day) % 7)) & 1:
        return False
    if spec[p, at.RULE] == at.BY_CALENDAR or spec[p, at.RULE] == at.FLOOD_BY_CALENDAR:
        return day - state[p, at.LAST_WATERED] >= spec[p, at.DAYS] - 0.5
    return used_share(spec, state, p) >= spec[p, at.SHARE]


@compiled
def water(spec, state, p, day):
    """Begin to pour, or to flood the bench."""
    if spec[p, at.RULE] == at.BY_CALENDAR or spec[p, at.RULE] == at.BY_NEED:
        dose = spec[p, at.DOSE]
        if dose == 0.0:
            dose = (spec[p, at.FULL] - state[p, at.STORED]) * (1 + spec[p, at.SURPLUS])
        state[p, at.LAST_WATERED] = day
        if dose <= 0.0:
            return
        past = dose * spec[p, at.RUN_PAST] * state[p, at.REPELS]
        to_come = 0.0  # of a pour that still goes on
        if state[p, at.POURING] > 0:
            to_come = max(0.0, state[p, at.POURING] * (state[p, at.POUR_UNTIL] - state[p, at.TIME]))
        hours = max((dose - past + to_come) / spec[p, at.RATE], LEAST_POUR_HOURS)
        state[p, at.POURED] += dose
        state[p, at.PAST] += past
        state[p, at.POURING] = (dose - past + to_come) / hours
        state[p, at.POUR_UNTIL] = state[p, at.TIME] + hours
    else:
        state[p, at.LAST_WATERED] = day
        state[p, at.BASE_NOW], state[p, at.HEAD_NOW], state[p, at.K_NOW] = (
            at.HELD_HEAD,
            spec[p, at.FLOOD_CM],
            spec[p, at.BASE_K],
        )
        state[p, at.FLOOD_UNTIL] = state[p, at.TIME] + spec[p, at.FLOOD_HOURS]
    state[p, at.WATERINGS] += 1
    state[p, at.STEP] = min(state[p, at.STEP], FIRST_STEP_HOURS)


@compiled
def settle_saucer(spec, state, p):
    """Spill what the saucer cannot hold, and let the base stand in the rest."""
    if state[p, at.IN_SAUCER] > spec[p, at.SAUCER_CM3]:
        state[p, at.SPILT] += state[p, at.IN_SAUCER] - spec[p, at.SAUCER_CM3]
        state[p, at.IN_SAUCER] = spec[p, at.SAUCER_CM3]
    if state[p, at.IN_SAUCER] > EMPTY_CM3:
        state[p, at.BASE_NOW], state[p, at.K_NOW] = at.HELD_HEAD, spec[p, at.BASE_K]
        state[p, at.HEAD_NOW] = state[p, at.IN_SAUCER] / spec[p, at.SAUCER_CM2]
    else:
        state[p, at.BASE_NOW] = at.OPEN_HOLES


@compiled
def begin_interval(spec, state, p, reference_cm, rain_cm, until, weekdays):
    """Set the rates that hold from now to the next thing that happens, and when that is."""
    which = int(spec[p, at.WEATHER])
    now = state[p, at.TIME]
    hour = int(np.floor(now + SLIVER_HOURS))
    day = hour // 24
    if state[p, at.POURING] > 0 and now >= state[p, at.POUR_UNTIL] - SLIVER_HOURS:
        state[p, at.POURING] = 0.0
    if state[p, at.FLOOD_UNTIL] > 0 and now >= state[p, at.FLOOD_UNTIL] - SLIVER_HOURS:
        state[p, at.FLOOD_UNTIL] = 0.0
        state[p, at.BASE_NOW], state[p, at.HEAD_NOW], state[p, at.K_NOW] = (
            spec[p, at.BASE],
            spec[p, at.BASE_CM],
            spec[p, at.BASE_K],
        )
        state[p, at.STEP] = min(state[p, at.STEP], FIRST_STEP_HOURS)
    if (
        spec[p, at.RULE] != at.BY_NOBODY
        and state[p, at.LAST_DAY] < day
        and hour - day * 24 >= spec[p, at.HOUR]
    ):
        state[p, at.LAST_DAY] = day
        if is_due(spec, state, p, day, weekdays[which]):
            water(spec, state, p, day)
    if spec[p, at.BASE] == at.SAUCER and state[p, at.FLOOD_UNTIL] == 0.0:
        settle_saucer(spec, state, p)

    rain = rain_cm[which, hour] * spec[p, at.RAIN_CM2]
    if rain > 0.0 and state[p, at.RAINING] == 0.0:
        state[p, at.STEP] = min(state[p, at.STEP], FIRST_STEP_HOURS)
    state[p, at.RAINING] = rain
    state[p, at.EVAPORATING] = reference_cm[which, hour] * spec[p, at.EVAPORATION]
    state[p, at.TAKING] = reference_cm[which, hour] * spec[p, at.UPTAKE]

    stop = min(spec[p, at.END], float(until[which, hour]), (day + 1) * 24.0)
    if spec[p, at.RULE] != at.BY_NOBODY:
        asked = day * 24 + spec[p, at.HOUR]
        if asked <= hour:
            asked += 24
        stop = min(stop, asked)
    if spec[p, at.HOURLY] > 0:
        stop = min(stop, hour + 1.0)
    if state[p, at.POURING] > 0:
        stop = min(stop, state[p, at.POUR_UNTIL])
    if state[p, at.FLOOD_UNTIL] > 0:
        stop = min(stop, state[p, at.FLOOD_UNTIL])
    state[p, at.STOP] = stop


@compiled
def entry_at(head, last, steps):
    """Return the entry of a table for a pressure head: 0 for the full medium, then the intervals."""
    w = 1.0 - head
    if w < 1.0:
        return 0
    mantissa, exponent = math.frexp(w)
    return min((exponent - 1) * steps + int((2.0 * mantissa - 1.0) * steps) + 1, last)


@compiled
def top_flux(spec, state, p, head, k, k_slope, full_k, lifts, hours):
    """Return water entering the first cell and evaporation, each with its slope in the head there. [cm3/h]

    `lifts` is the integral of the conductivity from a dry surface to the head of the first cell: no more
    evaporates than the half cell under the surface passes with it.
    """
    standing_for = hours if state[p, at.POND] > 0.0 else max(hours, DEBT_HOURS)
    available = (
        state[p, at.POURING] + state[p, at.RAINING] + state[p, at.POND] * spec[p, at.TOP_CM2] / standing_for
    )
    half = spec[p, at.HALF_TOP_CM]
    k_face = 0.5 * (k + full_k)
    gradient = (state[p, at.POND] - head) / half + 1
    enters = spec[p, at.TOP_CM2] * k_face * gradient
    slope = spec[p, at.TOP_CM2] * (0.5 * k_slope * gradient - k_face / half)
    if not enters < available:
        enters, slope = available, 0.0
    over = spec[p, at.DRYING_TO_CM] - spec[p, at.DRYING_FROM_CM]
    wet = (head + spec[p, at.DRYING_TO_CM]) / over
    lost, lost_slope = state[p, at.EVAPORATING] * wet, state[p, at.EVAPORATING] / over
    if wet >= 1.0:
        lost, lost_slope = state[p, at.EVAPORATING], 0.0
    elif wet <= 0.0:
        lost, lost_slope = 0.0, 0.0
    most = spec[p, at.TOP_CM2] * max(lifts, 0.0) / half
    if most < lost:
        lost, lost_slope = most, spec[p, at.TOP_CM2] * k / half
    return enters, slope, lost, lost_slope


@compiled
def base_flux(spec, state, p, head, k, k_slope):
    """Return water leaving through the base and its slope in the head of the last cell. [cm3/h]"""
    area, half = spec[p, at.BASE_CM2], spec[p, at.HALF_BASE_CM]
    if state[p, at.BASE_NOW] == at.OPEN_HOLES:
        gradient = head / half + 1
        if gradient <= 0.0:
            return 0.0, 0.0
        return area * k * gradient, area * (k_slope * gradient + k / half)
    k_face = 0.5 * (k + state[p, at.K_NOW])
    gradient = (head - state[p, at.HEAD_NOW]) / half + 1
    return area * k_face * gradient, area * (0.5 * k_slope * gradient + k_face / half)


@compiled
def joint_flux(area, entry_cm, upper_cm, head, k, k_slope, lower_cm, head_below, k_below, k_slope_below):
    """Return the flux between two materials with its slopes in the heads above and (negated) below.

    Two half cells in series. With `entry_cm` of 0 or more water goes down only while the suction just above
    the joint is under it: a coarse layer then holds back what stands on it.
    """
    above, below = upper_cm / 2, lower_cm / 2
    resists = above / k + below / k_below
    k_face = (above + below) / resists
    gradient = (head - head_below) / (above + below) + 1
    flux = area * k_face * gradient
    by_k = area * gradient * k_face / resists
    slope = by_k * above / (k * k) * k_slope + area * k_face / (above + below)
    slope_below = -by_k * below / (k_below * k_below) * k_slope_below + area * k_face / (above + below)
    if entry_cm >= 0.0 and flux > 0.0:
        open_share = (entry_cm + head + above) / GATE_CM
        if open_share <= 0.0:
            return 0.0, 0.0, 0.0
        if open_share < 1.0:
            return flux * open_share, slope * open_share + flux / GATE_CM, slope_below * open_share
    return flux, slope, slope_below


@compiled
def pond_after(spec, state, p, hours, entered):
    """Return how deep water stands on the medium after a step in which so much entered it. [cm]"""
    came = (state[p, at.POURING] + state[p, at.RAINING]) * hours
    return state[p, at.POND] + (came - entered) / spec[p, at.TOP_CM2]


@compiled
def close_step(spec, state, p, hours, entered, lost, below, taken, zone):
    """Enter an accepted step into the books: volumes in cm3, and the water in the root zone at its end."""
    stored = state[p, at.STORED] + entered - lost - below - taken
    state[p, at.TIME] += hours
    if abs(state[p, at.STOP] - state[p, at.TIME]) < SLIVER_HOURS:
        state[p, at.TIME] = state[p, at.STOP]
    state[p, at.RAINED] += state[p, at.RAINING] * hours
    pond = pond_after(spec, state, p, hours, entered)
    if pond > spec[p, at.RIM_CM]:
        state[p, at.OVER] += (pond - spec[p, at.RIM_CM]) * spec[p, at.TOP_CM2]
        pond = spec[p, at.RIM_CM]
    state[p, at.POND] = pond
    state[p, at.EVAPORATED] += lost
    state[p, at.TAKEN] += taken
    if spec[p, at.BASE] == at.SAUCER and state[p, at.FLOOD_UNTIL] == 0.0:
        state[p, at.IN_SAUCER] += below
        if below < 0.0:
            state[p, at.DRAWN_UP] -= below
    elif below >= 0.0:
        state[p, at.BELOW] += below
    else:
        state[p, at.DRAWN_UP] -= below

    limit = spec[p, at.ZONE_WET]
    state[p, at.WET_HOURS] += hours * share_above(state[p, at.ZONE], zone, limit)
    range_ = spec[p, at.FULL] - spec[p, at.DRY]
    before, after = (spec[p, at.FULL] - state[p, at.STORED]) / range_, (spec[p, at.FULL] - stored) / range_
    state[p, at.DRY_HOURS] += hours * share_above(before, after, spec[p, at.TOO_DRY])
    state[p, at.STORED], state[p, at.ZONE] = stored, zone
    if zone < spec[p, at.REPEL_BELOW]:
        state[p, at.REPELS] = 1.0
    elif zone > spec[p, at.REPEL_UNTIL]:
        state[p, at.REPELS] = 0.0
    state[p, at.STEPS_TAKEN] += 1
    if spec[p, at.BASE] == at.SAUCER and state[p, at.FLOOD_UNTIL] == 0.0:
        settle_saucer(spec, state, p)


@compiled
def keep_hour(spec, state, p, rows):
    """At a whole hour, write what `HOURLY_ROW` names; return the row's number, or -1 between hours."""
    hour = int(np.round(state[p, at.TIME]))
    if abs(state[p, at.TIME] - hour) > 1e-6:
        return -1
    kept = hour - int(spec[p, at.START])
    rows[p, kept, 0], rows[p, kept, 1], rows[p, kept, 2] = (
        state[p, at.STORED],
        state[p, at.ZONE],
        state[p, at.POND],
    )
    rows[p, kept, 3] = state[p, at.BELOW] + state[p, at.PAST] + state[p, at.OVER] + state[p, at.SPILT]
    rows[p, kept, 4] = state[p, at.DRAWN_UP]
    rows[p, kept, 5] = state[p, at.EVAPORATED] + state[p, at.TAKEN]
    rows[p, kept, 6] = state[p, at.POURED]
    return kept


@compiled
def share_above(before, after, limit):
    """Return the share of a step spent above a limit, on a straight line between its ends."""
    if before > limit and after > limit:
        return 1.0
    if before <= limit and after <= limit:
        return 0.0
    high, low = max(before, after), min(before, after)
    return (high - limit) / (high - low)


@compiled
def close_interval(spec, state, p, day_start, daily):
    """At midnight and at the end, write the row of the day that ends: differences of the sums.

    `day_start` keeps the sums as they stood at the last midnight.
    """
    day = int(np.floor((state[p, at.TIME] - SLIVER_HOURS) / 24))
    whole = abs(state[p, at.TIME] / 24 - np.round(state[p, at.TIME] / 24)) * 24 < SLIVER_HOURS
    if not whole and state[p, at.TIME] < spec[p, at.END] - SLIVER_HOURS:
        return
    sums = (
        state[p, at.POURED],
        state[p, at.RAINED],
        state[p, at.BELOW] + state[p, at.PAST] + state[p, at.OVER] + state[p, at.SPILT],
        state[p, at.DRAWN_UP],
        state[p, at.EVAPORATED],
        state[p, at.TAKEN],
        state[p, at.WET_HOURS],
        state[p, at.DRY_HOURS],
        state[p, at.WATERINGS],
    )
    for place in range(9):
        daily[p, day, place] = sums[place] - day_start[p, place]
        day_start[p, place] = sums[place]
    daily[p, day, 9] = state[p, at.STORED]
