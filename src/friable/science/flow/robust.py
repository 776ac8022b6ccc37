"""One pot at a time, each stage iterated until it holds: the careful solver.

It takes over pots that stall side by side, gives the reference that the fast solver is judged by, and alone
knows hysteresis. Two-stage SDIRK on the water content as in `lanes`, with Newton steps limited to half the
head and 2 cm.
"""

import numpy as np

import friable.science.flow.layout as at
from friable.science.flow.events import (
    base_flux,
    begin_interval,
    close_interval,
    close_step,
    compiled,
    entry_at,
    joint_flux,
    keep_hour,
    top_flux,
)
from friable.science.flow.kernels import head_at
from friable.science.flow.stepping import (
    ACCEPT,
    BASE_WEIGHT,
    GAMMA,
    next_step,
    overdraws,
    shorten,
    wish_after,
)

MOST_ITERATIONS = 30
HOLDS = 0.02  # of the tolerance: what an iteration may leave of a stage
LEAST_STEP_HOURS = 1e-12
REVERSES = 0.1  # of the tolerance: change of the water content that turns a cell from drying to wetting


@compiled
def lines_at(head, table, nodes, steps, first, scan, line):
    """Write water, its slope, conductivity, its slope, share of uptake and its slope at a head.

    `scan` is (offset, factor, stretch): water = offset + factor x drying curve (stretch x head). The main
    drying curve is (0, 1, 1). Conductivity follows the water content, whatever the way that led there.
    """
    here = table[first + entry_at(head, len(nodes) - 1, steps)]
    if scan[2] == 1.0 and scan[1] == 1.0 and scan[0] == 0.0:
        for field in range(3):
            line[2 * field] = here[2 * field] + here[2 * field + 1] * head
            line[2 * field + 1] = here[2 * field + 1]
    else:
        curve = table[first + entry_at(scan[2] * head, len(nodes) - 1, steps)]
        line[0] = scan[0] + scan[1] * (curve[0] + curve[1] * scan[2] * head)
        line[1] = scan[1] * scan[2] * curve[1]
        same = head_at(line[0], table.reshape(table.size), nodes, first)
        dry = table[first + entry_at(same, len(nodes) - 1, steps)]
        line[2] = dry[2] + dry[3] * same
        line[3] = dry[3] / dry[1] * line[1] if head < 0.0 else 0.0
        line[4] = here[4] + here[5] * head
        line[5] = here[5]
    line[2] = max(line[2], 1e-14)
    line[6] = here[6] + (here[2] + 0.5 * here[3] * head) * head


@compiled
def stage(
    spec,
    state,
    p,
    shape,
    cells,
    table,
    nodes,
    steps,
    layers,
    scans,
    start,
    water,
    head,
    per_step,
    hours,
    tolerance,
    work,
    sums,
):
    """Solve one stage from `start`; leave heads and water. Return the iterations, or 0 if it did not hold.

    `sums` receives what entered, evaporated, left below and was taken up, per hour.
    """
    lines, flux, by_upper, by_lower, forward, delta = work
    first_full = table[layers[0], 2]
    for iteration in range(1, MOST_ITERATIONS + 1):
        for i in range(cells):
            lines_at(head[i], table, nodes, steps, layers[i], scans[i], lines[i])
        entered, entered_slope, lost, lost_slope = top_flux(
            spec, state, p, head[0], lines[0, 2], lines[0, 3], first_full, lines[0, 6], hours
        )
        flux[0], by_upper[0], by_lower[0] = entered - lost, 0.0, lost_slope - entered_slope
        for i in range(1, cells):
            if i == int(spec[p, at.JOINT]) or i == int(spec[p, at.JOINT_2]):
                flux[i], by_upper[i], by_lower[i] = joint_flux(
                    shape[i, 2],
                    spec[p, at.ENTRY_CM],
                    shape[i - 1, 5],
                    head[i - 1],
                    lines[i - 1, 2],
                    lines[i - 1, 3],
                    shape[i, 5],
                    head[i],
                    lines[i, 2],
                    lines[i, 3],
                )
                continue
            k = 0.5 * (lines[i - 1, 2] + lines[i, 2])
            drive = shape[i, 1] * (head[i - 1] - head[i]) + shape[i, 2]
            flux[i] = k * drive
            by_upper[i] = 0.5 * lines[i - 1, 3] * drive + k * shape[i, 1]
            by_lower[i] = k * shape[i, 1] - 0.5 * lines[i, 3] * drive
        below, below_slope = base_flux(
            spec, state, p, head[cells - 1], lines[cells - 1, 2], lines[cells - 1, 3]
        )
        flux[cells], by_upper[cells], by_lower[cells] = below, below_slope, 0.0

        for i in range(cells):
            vq = shape[i, 0] * per_step
            wanted = state[p, at.TAKING] * shape[i, 3]
            right = vq * (start[i] - lines[i, 0]) + flux[i] - flux[i + 1] - wanted * lines[i, 4]
            middle = vq * lines[i, 1] + by_upper[i + 1] + by_lower[i] + wanted * lines[i, 5]
            if i > 0:
                right += by_upper[i] * delta[i - 1]
                middle -= by_upper[i] * forward[i - 1]
            forward[i] = by_lower[i + 1] / middle
            delta[i] = right / middle
        limited = False
        for i in range(cells - 1, -1, -1):
            if i < cells - 1:
                delta[i] += forward[i] * delta[i + 1]
        for i in range(cells):
            most = 0.5 * abs(head[i]) + 2.0
            if abs(delta[i]) > most:
                limited = True
        taken = 0.0
        apart = 0.0
        for i in range(cells):
            wanted = state[p, at.TAKING] * shape[i, 3]
            taken += wanted * (lines[i, 4] + lines[i, 5] * delta[i])
            water[i] = lines[i, 0] + lines[i, 1] * delta[i]
        sums[0] = entered + entered_slope * delta[0]
        sums[1] = lost + lost_slope * delta[0]
        sums[2] = below + below_slope * delta[cells - 1]
        sums[3] = taken
        for i in range(cells):
            most = 0.5 * abs(head[i]) + 2.0
            head[i] += min(most, max(-most, delta[i]))
            if not limited:
                lines_at(head[i], table, nodes, steps, layers[i], scans[i], lines[i])
                apart = max(apart, abs(water[i] - lines[i, 0]))
            if not np.isfinite(head[i]):
                return 0
        if not limited and apart <= HOLDS * tolerance:
            return iteration
    return 0


@compiled
def head_on(scan, water, table, nodes, first):
    """Return the head at which a scanning curve holds this much water. [cm]"""
    return head_at((water - scan[0]) / scan[1], table.reshape(table.size), nodes, first) / scan[2]


@compiled
def turn(scan, head, water, gained, least_gain, ratio, table, nodes, steps, first):
    """Put a cell that has turned onto the scanning curve through where it stood; say whether it was put."""
    wetting = scan[2] != 1.0
    if (gained > 0) == wetting or abs(gained) < least_gain or (gained > 0 and head >= 0.0):
        return False
    head = min(head, 0.0)
    full, least = (
        table[first, 0],
        table[first + len(nodes) - 1, 0] - table[first + len(nodes) - 1, 1] * nodes[-1],
    )
    stretch = ratio if gained > 0 else 1.0
    line = table[first + entry_at(stretch * head, len(nodes) - 1, steps)]
    curve = line[0] + line[1] * stretch * head
    filled = (curve - least) / (full - least)
    if gained > 0:
        if filled >= 1.0 - 1e-9:
            return False
        low = (water - full * filled) / (1.0 - filled)
        factor = (full - low) / (full - least)
        scan[0], scan[1], scan[2] = low - factor * least, factor, stretch
    else:
        if filled <= 1e-9:
            return False
        factor = (water - least) / (curve - least)
        scan[0], scan[1], scan[2] = least - factor * least, factor, 1.0
    return True


@compiled
def run_robust(
    p,
    cells,
    table,
    nodes,
    steps,
    spec,
    state,
    shapes,
    heads,
    waters,
    scans,
    wetting_ratio,
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
    most_hours,
):
    """Run one pot from where it stands to its end; mark it in `state` if even this does not hold.

    Shapes as in `lanes.run_lanes`, for the pot p; `table` (entries, fields); `scans` (cells, 3);
    `wetting_ratio` 0: no hysteresis. `most_hours` bounds a step.
    """
    shape = shapes[int(spec[p, at.SHAPE])]
    layers = np.empty(cells, dtype=np.int64)
    layer = 0
    for i in range(cells):
        if i > 0 and (i == int(spec[p, at.JOINT]) or i == int(spec[p, at.JOINT_2])):
            layer += 1
        layers[i] = int(spec[p, at.MEDIUM + layer])
    head, water = heads[p], waters[p]
    head_1, water_1, head_2, water_2, start = (
        np.empty(cells),
        np.empty(cells),
        np.empty(cells),
        np.empty(cells),
        np.empty(cells),
    )
    work = (
        np.empty((cells, 7)),
        np.empty(cells + 1),
        np.empty(cells + 1),
        np.empty(cells + 1),
        np.empty(cells),
        np.empty(cells),
    )
    first, second = np.empty(4), np.empty(4)
    fresh = True
    spent = 0
    while state[p, at.TIME] < spec[p, at.END] - 1e-9:
        if fresh or state[p, at.TIME] >= state[p, at.STOP]:
            begin_interval(spec, state, p, reference_cm, rain_cm, until, weekday)
            fresh = False
        hours = min(next_step(state, p), most_hours)
        per_step = 1.0 / (GAMMA * hours)
        for i in range(cells):
            head_1[i], start[i] = head[i], water[i]
        rounds = stage(
            spec,
            state,
            p,
            shape,
            cells,
            table,
            nodes,
            steps,
            layers,
            scans,
            start,
            water_1,
            head_1,
            per_step,
            hours,
            tolerance,
            work,
            first,
        )
        error = np.inf
        if rounds > 0:
            for i in range(cells):
                head_2[i], start[i] = head_1[i], water[i] + BASE_WEIGHT * (water_1[i] - water[i])
            rounds = stage(
                spec,
                state,
                p,
                shape,
                cells,
                table,
                nodes,
                steps,
                layers,
                scans,
                start,
                water_2,
                head_2,
                per_step,
                hours,
                tolerance,
                work,
                second,
            )
            if rounds > 0:
                error = 0.0
                for i in range(cells):
                    error = max(error, abs(water_2[i] - start[i] - (water_1[i] - water[i])))
                error /= tolerance
        spent += 1
        entered = hours * ((1 - GAMMA) * first[0] + GAMMA * second[0])
        below = hours * ((1 - GAMMA) * first[2] + GAMMA * second[2])
        if not error <= ACCEPT or overdraws(spec, state, p, hours, entered, below):
            shorten(state, p, hours, error)
            if state[p, at.STEP] < LEAST_STEP_HOURS or spent > step_budget:
                state[p, at.FAILED] = 2
                return
            continue
        wish_after(state, p, hours, error)
        zone = 0.0
        for i in range(cells):
            zone += shape[i, 4] * water_2[i]
        close_step(
            spec,
            state,
            p,
            hours,
            entered,
            hours * ((1 - GAMMA) * first[1] + GAMMA * second[1]),
            below,
            hours * ((1 - GAMMA) * first[3] + GAMMA * second[3]),
            zone,
        )
        for i in range(cells):
            if (
                wetting_ratio > 1.0
                and turn(
                    scans[i],
                    head[i],
                    water[i],
                    water_2[i] - water[i],
                    REVERSES * tolerance,
                    wetting_ratio,
                    table,
                    nodes,
                    steps,
                    layers[i],
                )
                and head_2[i] < 0.0
            ):
                head_2[i] = head_on(scans[i], water_2[i], table, nodes, layers[i])
            head[i], water[i] = head_2[i], water_2[i]
        if state[p, at.TIME] >= state[p, at.STOP]:
            stored = 0.0
            for i in range(cells):
                stored += shape[i, 0] * water[i]
            state[p, at.STORED] = stored
            close_interval(spec, state, p, day_start, daily)
            if spec[p, at.HOURLY] > 0:
                hour = keep_hour(spec, state, p, hourly)
                if hour >= 0:
                    for i in range(cells):
                        profiles[p, hour, i] = water[i]
        if spent > step_budget:
            state[p, at.FAILED] = 2
            return
