"""Sixteen pots side by side: the fast solver.

Two-stage SDIRK on the water content, one linear solve a stage and no iteration: the water content is carried
as the conserved quantity, and how far it has parted from the curve enters the next right-hand side and the
control of the step. Each lane has its own pot, its own time and its own step; a finished lane takes the next
pot. The inner loops stand in `kernels`.
"""

import numpy as np

import friable.science.flow.layout as at
from friable.science.flow.edges import (
    SUM_BELOW_BOOK,
    SUM_ENTERED_BOOK,
    SUM_LOST_BOOK,
    SUM_TAKEN_BOOK,
    edges,
    enter_stage,
)
from friable.science.flow.events import (
    begin_interval,
    close_interval,
    close_step,
    compiled,
    keep_hour,
)
from friable.science.flow.kernels import (
    CURVE,
    CURVE_SLOPE,
    FACE_A,
    FACE_G,
    FIELDS,
    FORWARD,
    HEAD,
    IN_ZONE,
    LANES,
    PARTED,
    PER_STEP,
    ROW,
    TAKEN,
    TAKING,
    TRIAL,
    VOLUME,
    WATER,
    WATER_1,
    WATER_2,
    WORST,
    ZERO,
    ZONE,
    L,
    fetch,
    fetch_lane,
    head_at,
    inner_faces,
    judge,
    read_line,
    solve,
)
from friable.science.flow.stepping import (
    ACCEPT,
    BASE_WEIGHT,
    GAMMA,
    next_step,
    overdraws,
    shorten,
    wish_after,
)

BACK_ON_CURVE = 1.0  # of the tolerance: a cell further off after a step is put back on its curve
LEAST_STEP_HOURS = 1e-9
MOST_REFUSED = 200  # running
REPAY_HOURS = 0.002
MOST_TAKEN = 1.01  # of what roots want: as far as a line may overshoot


@compiled
def load(w, medium, thickness, lane, p, cells, spec, shapes, heads, waters):
    """Put a pot into a lane."""
    real = w.dtype.type
    u = np.uint64(lane)
    shape = shapes[int(spec[p, at.SHAPE])]
    layer = 0
    for i in range(int(cells)):
        if i > 0 and (i == int(spec[p, at.JOINT]) or i == int(spec[p, at.JOINT_2])):
            layer += 1
        place = np.uint64(i) * ROW + u
        medium[np.uint64(i) * L + u] = np.uint32(spec[p, at.MEDIUM + layer])
        w[place + HEAD] = w[place + TRIAL] = real(heads[p, i])
        w[place + WATER] = w[place + WATER_1] = real(waters[p, i])
        w[place + VOLUME] = real(shape[i, 0])
        w[place + FACE_G] = real(shape[i, 1])
        w[place + FACE_A] = real(shape[i, 2])
        w[place + ZONE] = real(shape[i, 4])
        thickness[lane, i] = shape[i, 5]


@compiled
def unload(w, lane, p, cells, heads, waters):
    """Write a lane's accepted profile back to its pot."""
    for i in range(int(cells)):
        place = np.uint64(i) * ROW + np.uint64(lane)
        heads[p, i] = w[place + HEAD]
        waters[p, i] = w[place + WATER]


@compiled
def set_uptake(w, lane, cells, wanted, shapes, shape):
    """Share what roots want among the cells of a lane."""
    real = w.dtype.type
    for i in range(int(cells)):
        w[np.uint64(i) * ROW + np.uint64(lane) + TAKING] = real(wanted * shapes[shape, i, 3])


@compiled
def back_on_curve(w, bits, shift, offset, table, nodes, medium, cells, lane, limit):
    """Put the cells of a lane that have parted from their curve back on it, unless they are full."""
    real = w.dtype.type
    for i in range(ZERO, cells):
        place = i * ROW + lane
        water = w[place + WATER_2]
        parted = water - (w[place + CURVE] + w[place + CURVE_SLOPE] * w[place + TRIAL])
        first = medium[i * L + lane]
        if abs(parted) > limit and water < table[np.uint64(first) * FIELDS]:
            head = real(head_at(water, table, nodes, first))
            w[place + TRIAL] = head
            w[place + FORWARD] = real(1.0) - head
            read_line(w, bits, shift, offset, table, nodes, first, place)


@compiled
def run_lanes(
    w,
    bits,
    shift,
    offset,
    table,
    nodes,
    cells,
    queue,
    spec,
    state,
    shapes,
    heads,
    waters,
    reference_cm,
    rain_cm,
    until,
    weekday,
    daily,
    day_start,
    hourly,
    profiles,
    tolerance,
    step_budget,
):
    """Run every pot of the queue to its end, or until it stalls; stalled pots are marked in `state`.

    Shapes: w, bits (cells + 1) x rows x 16; table (entries, 6) flat; queue (pots of this run);
    spec, state, heads, waters, daily, day_start: one row a pot; shapes (kinds, cells, 6): volume, area over
    distance and area of the face above, share of uptake, share of the root zone, thickness.
    """
    real = w.dtype.type
    pots = np.full(LANES, -1, dtype=np.int64)
    refused = np.zeros(LANES, dtype=np.int64)
    hours = np.ones(LANES)
    rate = np.ones(LANES, dtype=w.dtype)
    repay = np.ones(LANES, dtype=w.dtype)
    books = np.zeros((LANES, 10))
    medium = np.zeros(cells * L + L, dtype=np.uint32)
    thickness = np.ones((LANES, int(cells)))
    taken = 0
    weight, extra = real(BASE_WEIGHT), real(BASE_WEIGHT - 1)
    last_row = cells * ROW
    live = 0
    for lane in range(LANES):
        if taken < len(queue):
            pots[lane] = queue[taken]
            taken += 1
            live += 1
            load(w, medium, thickness, lane, pots[lane], cells, spec, shapes, heads, waters)
        else:
            load(w, medium, thickness, lane, queue[0], cells, spec, shapes, heads, waters)
    fresh = np.ones(LANES, dtype=np.uint8)

    while live > 0:
        for lane in range(LANES):
            p = pots[lane]
            if p < 0:
                continue
            if fresh[lane] or state[p, at.TIME] >= state[p, at.STOP]:
                begin_interval(spec, state, p, reference_cm, rain_cm, until, weekday)
                set_uptake(w, lane, cells, state[p, at.TAKING], shapes, int(spec[p, at.SHAPE]))
                if fresh[lane]:
                    fetch_lane(w, bits, shift, offset, table, nodes, medium, cells, np.uint64(lane))
                    fresh[lane] = 0
            hours[lane] = next_step(state, p)
            rate[lane] = real(1.0 / (GAMMA * hours[lane]))
            repay[lane] = real(min(1.0, hours[lane] / REPAY_HOURS))
        for i in range(ZERO, cells):
            for u in range(ZERO, L):
                w[i * ROW + u + PER_STEP] = w[i * ROW + u + VOLUME] * rate[u]

        for stage in range(2):
            second = real(stage)
            inner_faces(w, cells)
            edges(w, cells, pots, spec, state, hours, books, table, nodes, medium, thickness)
            solve(w, cells, second * extra, repay, second)
            enter_stage(w, cells, pots, books, GAMMA if stage else 1 - GAMMA, stage == 0)
            fetch(w, bits, shift, offset, table, nodes, medium, cells)
            if stage == 0:
                for i in range(ZERO, cells):
                    for u in range(ZERO, L):
                        w[i * ROW + u + WATER_1] = w[i * ROW + u + WATER_2]
        judge(w, cells, weight)

        for lane in range(LANES):
            p = pots[lane]
            if p < 0:
                continue
            u = np.uint64(lane)
            step = hours[lane]
            error, parted = (
                float(w[last_row + u + WORST]) / tolerance,
                float(w[last_row + u + PARTED]) / tolerance,
            )
            worst = max(error, parted)
            entered = books[lane, SUM_ENTERED_BOOK] * step
            below = books[lane, SUM_BELOW_BOOK] * step
            good = worst <= ACCEPT and not overdraws(spec, state, p, step, entered, below)
            # Along the line of a drier head, a cell that jumps to a full one would give water back.
            if not -1e-9 <= books[lane, SUM_TAKEN_BOOK] <= MOST_TAKEN * state[p, at.TAKING] + 1e-9:
                good = False
            if good:
                # A short step leaves the parting as it was.
                wish_after(state, p, step, error if step < REPAY_HOURS else worst)
                refused[lane] = 0
                close_step(
                    spec,
                    state,
                    p,
                    step,
                    entered,
                    books[lane, SUM_LOST_BOOK] * step,
                    below,
                    books[lane, SUM_TAKEN_BOOK] * step,
                    float(w[last_row + u + IN_ZONE]),
                )
                if parted > BACK_ON_CURVE:
                    back_on_curve(
                        w, bits, shift, offset, table, nodes, medium, cells, u, BACK_ON_CURVE * tolerance
                    )
                for i in range(ZERO, cells):
                    place = i * ROW + u
                    w[place + HEAD] = w[place + TRIAL]
                    w[place + WATER] = w[place + WATER_2]
                done = state[p, at.STEPS_TAKEN] + state[p, at.STEPS_REFUSED] > step_budget
                if state[p, at.TIME] >= state[p, at.STOP]:
                    state[p, at.STORED] = stored_in(w, u, cells)
                    close_interval(spec, state, p, day_start, daily)
                    if spec[p, at.HOURLY] > 0:
                        hour = keep_hour(spec, state, p, hourly)
                        if hour >= 0:
                            for i in range(ZERO, cells):
                                profiles[p, hour, i] = w[i * ROW + u + WATER]
                if state[p, at.TIME] >= spec[p, at.END] or done:
                    if done and state[p, at.TIME] < spec[p, at.END]:
                        state[p, at.FAILED] = 1
                    unload(w, lane, p, cells, heads, waters)
                    pots[lane] = -1
            else:
                refused[lane] += 1
                shorten(state, p, step, worst)
                for i in range(ZERO, cells):
                    place = i * ROW + u
                    w[place + TRIAL] = w[place + HEAD]
                    w[place + WATER_1] = w[place + WATER]
                    w[place + TAKEN] = real(0.0)
                if state[p, at.STEP] < LEAST_STEP_HOURS or refused[lane] > MOST_REFUSED:
                    state[p, at.FAILED] = 1
                    unload(w, lane, p, cells, heads, waters)
                    pots[lane] = -1
                else:
                    fetch_lane(w, bits, shift, offset, table, nodes, medium, cells, u)
            if pots[lane] < 0:
                if taken < len(queue):
                    pots[lane] = queue[taken]
                    taken += 1
                    refused[lane] = 0
                    fresh[lane] = 1
                    load(w, medium, thickness, lane, pots[lane], cells, spec, shapes, heads, waters)
                else:
                    live -= 1


@compiled
def stored_in(w, lane, cells):
    """Add up the water of a lane. [cm3]"""
    stored = 0.0
    for i in range(ZERO, cells):
        stored += w[i * ROW + lane + VOLUME] * w[i * ROW + lane + WATER]
    return stored
