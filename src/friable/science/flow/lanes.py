"""Sixteen pots side by side: the fast solver.

Two-stage SDIRK on the water content, one linear solve a stage and no iteration: the water content is carried
as the conserved quantity, and how far it has parted from the curve enters the next right-hand side and the
control of the step. Each lane has its own pot, its own time and its own step; a finished lane takes the next
pot. The inner loops stand in `kernels`.
"""

import numpy as np

import friable.science.flow.layout as at
from friable.science.flow.events import (
    base_flux,
    begin_interval,
    close_interval,
    close_step,
    compiled,
    joint_flux,
    keep_hour,
    next_step,
    top_flux,
)
from friable.science.flow.kernels import (
    BY_LOWER,
    BY_UPPER,
    CURVE,
    CURVE_SLOPE,
    DELTA,
    FACE_A,
    FACE_G,
    FIELDS,
    FLUX,
    FORWARD,
    HEAD,
    IN_ZONE,
    K_LINE,
    K_SLOPE,
    LANES,
    ONE,
    PARTED,
    PER_STEP,
    ROW,
    TAKEN,
    TAKING,
    TRIAL,
    TWO,
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
    inlined,
    inner_faces,
    judge,
    read_line,
    solve,
)

GAMMA = 1 - 1 / np.sqrt(2)
BASE_WEIGHT = (1 - GAMMA) / GAMMA
SAFETY, GROW, SHRINK = 0.9, 5.0, 0.1
ACCEPT = 4.0
BACK_ON_CURVE = 1.0  # of the tolerance: a cell further off after a step is put back on its curve
LEAST_STEP_HOURS = 1e-9
MOST_REFUSED = 200  # running
GATE_CM = 0.02
REPAY_HOURS = 0.002
DEBT_CM = 0.01  # of standing water that a step may overdraw; the next one pays it back
# Where the volumes of a step are kept for a lane between its stages and its acceptance.
(
    _ENTERED,
    _ENTERED_SLOPE,
    _LOST,
    _LOST_SLOPE,
    _BELOW,
    _BELOW_SLOPE,
    _SUM_ENTERED,
    _SUM_LOST,
    _SUM_BELOW,
    _SUM_TAKEN,
) = range(10)


@inlined
def edges(w, cells, pots, spec, state, hours, books, table, medium, thickness):
    """Fluxes at the surface, at the base and where materials meet, lane by lane."""
    real = w.dtype.type
    for lane in range(LANES):
        p = pots[lane]
        if p < 0:
            continue
        u = np.uint64(lane)
        s, st, book = spec[p], state[p], books[lane]
        full_k = table[np.uint64(medium[u]) * FIELDS + TWO]
        h, slope = w[u + TRIAL], w[u + K_SLOPE]
        entered, entered_slope, lost, lost_slope = top_flux(
            s, st, h, w[u + K_LINE] + slope * h, slope, full_k, hours[lane]
        )
        w[u + FLUX] = real(entered - lost)
        w[u + BY_LOWER] = real(lost_slope - entered_slope)
        book[_ENTERED], book[_ENTERED_SLOPE], book[_LOST], book[_LOST_SLOPE] = (
            entered,
            entered_slope,
            lost,
            lost_slope,
        )

        end = (cells - ONE) * ROW + u
        h, slope = w[end + TRIAL], w[end + K_SLOPE]
        below, below_slope = base_flux(s, st, h, w[end + K_LINE] + slope * h, slope)
        w[end + ROW + FLUX] = real(below)
        w[end + ROW + BY_UPPER] = real(below_slope)
        w[end + ROW + BY_LOWER] = real(0.0)
        book[_BELOW], book[_BELOW_SLOPE] = below, below_slope

        for which in range(2):
            face = int(s[at.JOINT + which])
            if face == 0:
                break
            here = np.uint64(face) * ROW + u
            up = here - ROW
            h_up, h = w[up + TRIAL], w[here + TRIAL]
            flux, by_upper, by_lower = joint_flux(
                w[here + FACE_A],
                s[at.ENTRY_CM],
                GATE_CM,
                thickness[lane, face - 1],
                h_up,
                max(w[up + K_LINE] + w[up + K_SLOPE] * h_up, 1e-12),
                w[up + K_SLOPE],
                thickness[lane, face],
                h,
                max(w[here + K_LINE] + w[here + K_SLOPE] * h, 1e-12),
                w[here + K_SLOPE],
            )
            w[here + FLUX] = real(flux)
            w[here + BY_UPPER] = real(by_upper)
            w[here + BY_LOWER] = real(by_lower)


@inlined
def enter_stage(w, cells, pots, books, part, first):
    """Add what crossed the edges in a stage, with the slopes that the solve used."""
    for lane in range(LANES):
        if pots[lane] < 0:
            continue
        book, u = books[lane], np.uint64(lane)
        top, low = w[u + DELTA], w[(cells - ONE) * ROW + u + DELTA]
        if first:
            book[_SUM_ENTERED] = book[_SUM_LOST] = book[_SUM_BELOW] = book[_SUM_TAKEN] = 0.0
        book[_SUM_ENTERED] += part * (book[_ENTERED] + book[_ENTERED_SLOPE] * top)
        book[_SUM_LOST] += part * (book[_LOST] + book[_LOST_SLOPE] * top)
        book[_SUM_BELOW] += part * (book[_BELOW] + book[_BELOW_SLOPE] * low)
        book[_SUM_TAKEN] += part * w[u + TAKEN]


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
def set_uptake(w, lane, cells, wanted, shape):
    """Share what roots want among the cells of a lane."""
    real = w.dtype.type
    for i in range(int(cells)):
        w[np.uint64(i) * ROW + np.uint64(lane) + TAKING] = real(wanted * shape[i, 3])


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
            st = state[p]
            if fresh[lane] or st[at.TIME] >= st[at.STOP]:
                which = int(spec[p, at.WEATHER])
                begin_interval(spec[p], st, reference_cm[which], rain_cm[which], until[which], weekday[which])
                set_uptake(w, lane, cells, st[at.TAKING], shapes[int(spec[p, at.SHAPE])])
                if fresh[lane]:
                    fetch_lane(w, bits, shift, offset, table, nodes, medium, cells, np.uint64(lane))
                    fresh[lane] = 0
            hours[lane] = next_step(st)
            rate[lane] = real(1.0 / (GAMMA * hours[lane]))
            repay[lane] = real(min(1.0, hours[lane] / REPAY_HOURS))
        for i in range(ZERO, cells):
            for u in range(ZERO, L):
                w[i * ROW + u + PER_STEP] = w[i * ROW + u + VOLUME] * rate[u]

        for stage in range(2):
            second = real(stage)
            inner_faces(w, cells)
            edges(w, cells, pots, spec, state, hours, books, table, medium, thickness)
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
            st, book = state[p], books[lane]
            step = hours[lane]
            error, parted = (
                float(w[last_row + u + WORST]) / tolerance,
                float(w[last_row + u + PARTED]) / tolerance,
            )
            worst = max(error, parted)
            entered = book[_SUM_ENTERED] * step
            pond = st[at.POND] + ((st[at.POURING] + st[at.RAINING]) * step - entered) / spec[p, at.TOP_CM2]
            drawn = -book[_SUM_BELOW] * step
            good = worst <= ACCEPT and pond > -DEBT_CM
            if (
                spec[p, at.BASE] == at.SAUCER
                and st[at.FLOOD_UNTIL] == 0.0
                and st[at.IN_SAUCER] - drawn < -DEBT_CM * spec[p, at.SAUCER_CM2]
            ):
                good = False
            if good:
                judged = error if step < REPAY_HOURS else worst  # a short step leaves the parting as it was
                factor = SAFETY / np.sqrt(max(judged, 1e-8))
                wish = step * min(GROW, max(SHRINK, factor))
                st[at.STEP] = max(wish, st[at.STEP]) if step < st[at.STEP] and factor > 1.0 else wish
                refused[lane] = 0
                close_step(
                    spec[p],
                    st,
                    step,
                    entered,
                    book[_SUM_LOST] * step,
                    book[_SUM_BELOW] * step,
                    book[_SUM_TAKEN] * step,
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
                done = st[at.STEPS_TAKEN] + st[at.STEPS_REFUSED] > step_budget
                if st[at.TIME] >= st[at.STOP]:
                    st[at.STORED] = stored_in(w, u, cells)
                    close_interval(spec[p], st, day_start[p], daily[p])
                    if spec[p, at.HOURLY] > 0:
                        hour = keep_hour(spec[p], st, hourly[p])
                        if hour >= 0:
                            for i in range(ZERO, cells):
                                profiles[p, hour, i] = w[i * ROW + u + WATER]
                if st[at.TIME] >= spec[p, at.END] or done:
                    if done and st[at.TIME] < spec[p, at.END]:
                        st[at.FAILED] = 1
                    unload(w, lane, p, cells, heads, waters)
                    pots[lane] = -1
            else:
                refused[lane] += 1
                st[at.STEPS_REFUSED] += 1
                factor = 0.25
                if worst > 0 and worst < 1e12:
                    factor = min(0.5, max(SHRINK, SAFETY / np.sqrt(worst)))
                st[at.STEP] = step * factor
                for i in range(ZERO, cells):
                    place = i * ROW + u
                    w[place + TRIAL] = w[place + HEAD]
                    w[place + WATER_1] = w[place + WATER]
                    w[place + TAKEN] = real(0.0)
                if st[at.STEP] < LEAST_STEP_HOURS or refused[lane] > MOST_REFUSED:
                    st[at.FAILED] = 1
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
