"""What happens to one pot between steps: weather by the hour, watering by its rule, the books of the day.

Compiled scalar functions on one row of `spec` and `state`, called by both solvers, so that a pot handed from
one to the other goes on as if nothing had happened.
"""

import numpy as np
from numba import njit

import friable.science.flow.layout as at

SLIVER_HOURS = 1e-7
FIRST_STEP_HOURS = 0.02
EMPTY_CM3 = 1e-3
DEBT_HOURS = 0.02  # over which water that a step drew too much from the surface is given back
LEAST_POUR_HOURS = 1 / 60  # nobody pours a dose in less than a minute

compiled = njit(cache=True, error_model="numpy", nogil=True, fastmath={"contract", "nsz"})


@compiled
def used_share(spec, state):
    """Return the share of the available water that is gone."""
    return (spec[at.FULL] - state[at.STORED]) / (spec[at.FULL] - spec[at.DRY])


@compiled
def is_due(spec, state, day, weekday):
    """Say whether the rule waters today."""
    if spec[at.AT_MOST] > 0 and state[at.WATERINGS] >= spec[at.AT_MOST]:
        return False
    if not (int(spec[at.WEEKDAYS]) >> ((weekday + day) % 7)) & 1:
        return False
    if spec[at.RULE] == at.BY_CALENDAR or spec[at.RULE] == at.FLOOD_BY_CALENDAR:
        return day - state[at.LAST_WATERED] >= spec[at.DAYS] - 0.5
    return used_share(spec, state) >= spec[at.SHARE]


@compiled
def water(spec, state, day):
    """Begin to pour, or to flood the bench."""
    if spec[at.RULE] == at.BY_CALENDAR or spec[at.RULE] == at.BY_NEED:
        dose = spec[at.DOSE]
        if dose == 0.0:
            dose = (spec[at.FULL] - state[at.STORED]) * (1 + spec[at.SURPLUS])
        state[at.LAST_WATERED] = day
        if dose <= 0.0:
            return
        past = dose * spec[at.RUN_PAST] * state[at.REPELS]
        hours = max(dose / spec[at.RATE], LEAST_POUR_HOURS)
        state[at.POURED] += dose
        state[at.PAST] += past
        state[at.POURING] = (dose - past) / hours
        state[at.POUR_UNTIL] = state[at.TIME] + hours
    else:
        state[at.LAST_WATERED] = day
        state[at.BASE_NOW], state[at.HEAD_NOW], state[at.K_NOW] = (
            at.HELD_HEAD,
            spec[at.FLOOD_CM],
            spec[at.BASE_K],
        )
        state[at.FLOOD_UNTIL] = state[at.TIME] + spec[at.FLOOD_HOURS]
    state[at.WATERINGS] += 1
    state[at.STEP] = min(state[at.STEP], FIRST_STEP_HOURS)


@compiled
def settle_saucer(spec, state):
    """Spill what the saucer cannot hold, and let the base stand in the rest."""
    if state[at.IN_SAUCER] > spec[at.SAUCER_CM3]:
        state[at.SPILT] += state[at.IN_SAUCER] - spec[at.SAUCER_CM3]
        state[at.IN_SAUCER] = spec[at.SAUCER_CM3]
    if state[at.IN_SAUCER] > EMPTY_CM3:
        state[at.BASE_NOW], state[at.K_NOW] = at.HELD_HEAD, spec[at.BASE_K]
        state[at.HEAD_NOW] = state[at.IN_SAUCER] / spec[at.SAUCER_CM2]
    else:
        state[at.BASE_NOW] = at.OPEN_HOLES


@compiled
def begin_interval(spec, state, reference_cm, rain_cm, until, weekday):
    """Set the rates that hold from now to the next thing that happens, and when that is."""
    now = state[at.TIME]
    hour = int(np.floor(now + SLIVER_HOURS))
    day = hour // 24
    if state[at.POURING] > 0 and now >= state[at.POUR_UNTIL] - SLIVER_HOURS:
        state[at.POURING] = 0.0
    if state[at.FLOOD_UNTIL] > 0 and now >= state[at.FLOOD_UNTIL] - SLIVER_HOURS:
        state[at.FLOOD_UNTIL] = 0.0
        state[at.BASE_NOW], state[at.HEAD_NOW], state[at.K_NOW] = (
            spec[at.BASE],
            spec[at.BASE_CM],
            spec[at.BASE_K],
        )
        state[at.STEP] = min(state[at.STEP], FIRST_STEP_HOURS)
    if spec[at.RULE] != at.BY_NOBODY and state[at.LAST_DAY] < day and hour - day * 24 >= spec[at.HOUR]:
        state[at.LAST_DAY] = day
        if is_due(spec, state, day, weekday):
            water(spec, state, day)
    if spec[at.BASE] == at.SAUCER and state[at.FLOOD_UNTIL] == 0.0:
        settle_saucer(spec, state)

    rain = rain_cm[hour] * spec[at.RAIN_CM2]
    if rain > 0.0 and state[at.RAINING] == 0.0:
        state[at.STEP] = min(state[at.STEP], FIRST_STEP_HOURS)
    state[at.RAINING] = rain
    state[at.EVAPORATING] = reference_cm[hour] * spec[at.EVAPORATION]
    state[at.TAKING] = reference_cm[hour] * spec[at.UPTAKE]

    stop = min(spec[at.END], float(until[hour]), (day + 1) * 24.0)
    if spec[at.RULE] != at.BY_NOBODY:
        asked = day * 24 + spec[at.HOUR]
        if asked <= hour:
            asked += 24
        stop = min(stop, asked)
    if spec[at.HOURLY] > 0:
        stop = min(stop, hour + 1.0)
    if state[at.POURING] > 0:
        stop = min(stop, state[at.POUR_UNTIL])
    if state[at.FLOOD_UNTIL] > 0:
        stop = min(stop, state[at.FLOOD_UNTIL])
    state[at.STOP] = stop


@compiled
def next_step(state):
    """Return the step to take now: as wished, and never leaving a sliver before the next stop. [h]"""
    left = state[at.STOP] - state[at.TIME]
    step = state[at.STEP]
    if step >= left:
        return left
    if 2 * step > left:
        return 0.5 * left
    return step


@compiled
def top_flux(spec, state, head, k, k_slope, full_k, hours):
    """Return water entering the first cell and evaporation, each with its slope in the head there. [cm3/h]"""
    standing_for = hours if state[at.POND] > 0.0 else max(hours, DEBT_HOURS)
    available = state[at.POURING] + state[at.RAINING] + state[at.POND] * spec[at.TOP_CM2] / standing_for
    half = spec[at.HALF_TOP_CM]
    k_face = 0.5 * (k + full_k)
    gradient = (state[at.POND] - head) / half + 1
    enters = spec[at.TOP_CM2] * k_face * gradient
    slope = spec[at.TOP_CM2] * (0.5 * k_slope * gradient - k_face / half)
    if not enters < available:
        enters, slope = available, 0.0
    over = spec[at.DRYING_TO_CM] - spec[at.DRYING_FROM_CM]
    wet = (head + spec[at.DRYING_TO_CM]) / over
    lost, lost_slope = state[at.EVAPORATING] * wet, state[at.EVAPORATING] / over
    if wet >= 1.0:
        lost, lost_slope = state[at.EVAPORATING], 0.0
    elif wet <= 0.0:
        lost, lost_slope = 0.0, 0.0
    return enters, slope, lost, lost_slope


@compiled
def base_flux(spec, state, head, k, k_slope):
    """Return water leaving through the base and its slope in the head of the last cell. [cm3/h]"""
    area, half = spec[at.BASE_CM2], spec[at.HALF_BASE_CM]
    if state[at.BASE_NOW] == at.OPEN_HOLES:
        gradient = head / half + 1
        if gradient <= 0.0:
            return 0.0, 0.0
        return area * k * gradient, area * (k_slope * gradient + k / half)
    k_face = 0.5 * (k + state[at.K_NOW])
    gradient = (head - state[at.HEAD_NOW]) / half + 1
    return area * k_face * gradient, area * (0.5 * k_slope * gradient + k_face / half)


@compiled
def joint_flux(
    area, entry_cm, gate_cm, upper_cm, head, k, k_slope, lower_cm, head_below, k_below, k_slope_below
):
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
        open_share = (entry_cm + head + above) / gate_cm
        if open_share <= 0.0:
            return 0.0, 0.0, 0.0
        if open_share < 1.0:
            return flux * open_share, slope * open_share + flux / gate_cm, slope_below * open_share
    return flux, slope, slope_below


@compiled
def close_step(spec, state, hours, entered, lost, below, taken, zone):
    """Enter an accepted step into the books: volumes in cm3, and the water in the root zone at its end."""
    stored = state[at.STORED] + entered - lost - below - taken
    state[at.TIME] += hours
    if abs(state[at.STOP] - state[at.TIME]) < SLIVER_HOURS:
        state[at.TIME] = state[at.STOP]
    state[at.RAINED] += state[at.RAINING] * hours
    pond = state[at.POND] + ((state[at.POURING] + state[at.RAINING]) * hours - entered) / spec[at.TOP_CM2]
    if pond > spec[at.RIM_CM]:
        state[at.OVER] += (pond - spec[at.RIM_CM]) * spec[at.TOP_CM2]
        pond = spec[at.RIM_CM]
    state[at.POND] = pond
    state[at.EVAPORATED] += lost
    state[at.TAKEN] += taken
    if spec[at.BASE] == at.SAUCER and state[at.FLOOD_UNTIL] == 0.0:
        state[at.IN_SAUCER] += below
        if below < 0.0:
            state[at.DRAWN_UP] -= below
    elif below >= 0.0:
        state[at.BELOW] += below
    else:
        state[at.DRAWN_UP] -= below

    limit = spec[at.ZONE_WET]
    state[at.WET_HOURS] += hours * share_above(state[at.ZONE], zone, limit)
    range_ = spec[at.FULL] - spec[at.DRY]
    before, after = (spec[at.FULL] - state[at.STORED]) / range_, (spec[at.FULL] - stored) / range_
    state[at.DRY_HOURS] += hours * share_above(before, after, spec[at.TOO_DRY])
    state[at.STORED], state[at.ZONE] = stored, zone
    if zone < spec[at.REPEL_BELOW]:
        state[at.REPELS] = 1.0
    elif zone > spec[at.REPEL_UNTIL]:
        state[at.REPELS] = 0.0
    state[at.STEPS_TAKEN] += 1
    if spec[at.BASE] == at.SAUCER and state[at.FLOOD_UNTIL] == 0.0:
        settle_saucer(spec, state)


@compiled
def keep_hour(spec, state, rows):
    """At a whole hour, write what `HOURLY_ROW` names; return the row's number, or -1 between hours."""
    hour = int(np.round(state[at.TIME]))
    if abs(state[at.TIME] - hour) > 1e-6:
        return -1
    row = rows[hour - int(spec[at.START])]
    row[0], row[1], row[2] = state[at.STORED], state[at.ZONE], state[at.POND]
    row[3] = state[at.BELOW] + state[at.PAST] + state[at.OVER] + state[at.SPILT]
    row[4] = state[at.DRAWN_UP]
    row[5] = state[at.EVAPORATED] + state[at.TAKEN]
    row[6] = state[at.POURED]
    return hour - int(spec[at.START])


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
def close_interval(spec, state, day_start, daily):
    """At midnight and at the end, write the row of the day that ends: differences of the sums.

    `day_start` keeps the sums as they stood at the last midnight.
    """
    day = int(np.floor((state[at.TIME] - SLIVER_HOURS) / 24))
    whole = abs(state[at.TIME] / 24 - np.round(state[at.TIME] / 24)) * 24 < SLIVER_HOURS
    if not whole and state[at.TIME] < spec[at.END] - SLIVER_HOURS:
        return
    row = daily[day]
    sums = (
        state[at.POURED],
        state[at.RAINED],
        state[at.BELOW] + state[at.PAST] + state[at.OVER] + state[at.SPILT],
        state[at.DRAWN_UP],
        state[at.EVAPORATED],
        state[at.TAKEN],
        state[at.WET_HOURS],
        state[at.DRY_HOURS],
        state[at.WATERINGS],
    )
    for place in range(9):
        row[place] = sums[place] - day_start[place]
        day_start[place] = sums[place]
    row[9] = state[at.STORED]
