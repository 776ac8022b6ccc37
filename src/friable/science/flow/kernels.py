"""The inner loops of the fast solver: sixteen lanes a row, written for the vector units.

One flat workspace `w`, cell after cell, in each cell the rows named below, in each row one number a lane;
places known at compile time and unsigned counters, so that the compiler sees that nothing overlaps.
"""

import numpy as np
from numba import njit

from friable.science.flow.events import compiled

LANES = 16
L = np.uint64(LANES)
ZERO, ONE, TWO = np.uint64(0), np.uint64(1), np.uint64(2)

# Rows of a cell and of the face above it, each one number for every lane.
HEAD = np.uint64(0) * L  # accepted
WATER = np.uint64(1) * L
TRIAL = np.uint64(2) * L  # head of the stage, and the line of the table there:
CURVE = np.uint64(3) * L  # water = a + C h
CURVE_SLOPE = np.uint64(4) * L
K_LINE = np.uint64(5) * L  # conductivity = c + D h
K_SLOPE = np.uint64(6) * L
SHARE = np.uint64(7) * L  # share of uptake = e + G h
SHARE_SLOPE = np.uint64(8) * L
WATER_1 = np.uint64(9) * L  # after stage 1
WATER_2 = np.uint64(10) * L
VOLUME = np.uint64(11) * L
FACE_G = np.uint64(12) * L  # area over distance
FACE_A = np.uint64(13) * L
TAKING = np.uint64(14) * L
ZONE = np.uint64(15) * L
PER_STEP = np.uint64(16) * L  # volume / (gamma x step)
FLUX = np.uint64(17) * L
BY_UPPER = np.uint64(18) * L  # slope of the flux in the head above the face
BY_LOWER = np.uint64(19) * L  # minus the slope in the head below it
FORWARD = np.uint64(20) * L
DELTA = np.uint64(21) * L
WORST = np.uint64(22) * L  # running down the cells
IN_ZONE = np.uint64(23) * L
TAKEN = np.uint64(24) * L
PARTED = np.uint64(25) * L
ROW = np.uint64(26) * L  # numbers of a cell

JUMP_FROM_CM, JUMP_SHARE = 30.0, 0.3  # suction, and share of it, from which a step leaves the line
FIELDS = np.uint64(8)

inlined = njit(inline="always", error_model="numpy", fastmath={"contract", "nsz"})


@compiled
def head_at(water, table, nodes, first):
    """Return the pressure head at which a medium holds this much water; the table's ends beyond them. [cm]"""
    low, high = 0, len(nodes) - 1  # the node sought is the last that holds at least this much
    if water >= table[first * 8]:
        return 0.0
    while high - low > 1:
        middle = (low + high) // 2
        line = (first + middle + 1) * 8
        if table[line] - table[line + 1] * nodes[middle] >= water:
            low = middle
        else:
            high = middle
    line = (first + low + 1) * 8
    return max((water - table[line]) / table[line + 1], -nodes[-1])


@inlined
def read_line(w, bits, shift, offset, table, nodes, first, place):
    """Read the line of the table for one cell; its suction + 1 cm stands in FORWARD."""
    k = np.uint64(bits[place + FORWARD] >> shift) - offset
    if w[place + FORWARD] < w.dtype.type(1.0):
        k = ZERO
    k = min(k, np.uint64(len(nodes) - 1))
    k = (np.uint64(first) + k) * FIELDS
    w[place + CURVE] = table[k]
    w[place + CURVE_SLOPE] = table[k + ONE]
    w[place + K_LINE] = table[k + TWO]
    w[place + K_SLOPE] = table[k + np.uint64(3)]
    w[place + SHARE] = table[k + np.uint64(4)]
    w[place + SHARE_SLOPE] = table[k + np.uint64(5)]


@inlined
def fetch_lane(w, bits, shift, offset, table, nodes, medium, cells, lane):
    """Read the lines of the table at the trial heads of one lane."""
    for i in range(ZERO, cells):
        place = i * ROW + lane
        w[place + FORWARD] = w.dtype.type(1.0) - w[place + TRIAL]
        read_line(w, bits, shift, offset, table, nodes, medium[i * L + lane], place)


@inlined
def fetch(w, bits, shift, offset, table, nodes, medium, cells):
    """Read the lines of the table at the trial heads of all lanes.

    Where a dry cell has jumped along the line of its old head, the head is first put back on the curve.
    """
    real = w.dtype.type
    dry, far = real(JUMP_FROM_CM), real(JUMP_SHARE)
    for i in range(ZERO, cells):
        for lane in range(ZERO, L):
            place = i * ROW + lane
            w[place + FORWARD] = real(1.0) - w[place + TRIAL]
        for lane in range(ZERO, L):
            place = i * ROW + lane
            jump = w[place + DELTA]
            old = w[place + TRIAL] - jump
            if old < -dry and abs(jump) > -far * old:
                head = real(head_at(w[place + WATER_2], table, nodes, medium[i * L + lane]))
                w[place + TRIAL] = head
                w[place + FORWARD] = real(1.0) - head
            read_line(w, bits, shift, offset, table, nodes, medium[i * L + lane], place)


@inlined
def inner_faces(w, cells):
    """Fluxes between cells of one material: arithmetic mean of the conductivities."""
    real = w.dtype.type
    half = real(0.5)
    for i in range(ONE, cells):
        for lane in range(ZERO, L):
            here = i * ROW + lane
            up = here - ROW
            h_up, h = w[up + TRIAL], w[here + TRIAL]
            d_up, d = half * w[up + K_SLOPE], half * w[here + K_SLOPE]
            k = half * (w[up + K_LINE] + w[here + K_LINE]) + d_up * h_up + d * h
            g = w[here + FACE_G]
            drive = g * (h_up - h) + w[here + FACE_A]
            w[here + FLUX] = k * drive
            w[here + BY_UPPER] = d_up * drive + k * g
            w[here + BY_LOWER] = k * g - d * drive


@inlined
def solve(w, cells, weight, repay, first):
    """Solve the linear equations of a stage; leave the heads in TRIAL and the water in WATER_2.

    By how much the water carried has parted from the curve is paid back in full in a step of usual length.
    In a very short one no more than moves the head by half a millimetre and a quarter of itself: a full cell
    could not take it in.
    """
    real = w.dtype.type
    near, quarter = real(0.05), real(0.25)
    one, zero = real(1.0), real(0.0)
    for i in range(ZERO, cells):
        for lane in range(ZERO, L):
            here = i * ROW + lane
            under = here + ROW
            h = w[here + TRIAL]
            held = w[here + CURVE] + w[here + CURVE_SLOPE] * h
            before = w[here + WATER]
            gained = w[here + WATER_1] - before
            parted = before + first * gained - held
            most = w[here + CURVE_SLOPE] * (near + quarter * abs(h))
            paid = min(most, max(-most, parted))
            paid += repay[lane] * (parted - paid)
            w[here + WATER_2] = parted - paid
            vq = w[here + PER_STEP]
            uptake = w[here + TAKING] * (w[here + SHARE] + w[here + SHARE_SLOPE] * h)
            uptake_slope = w[here + TAKING] * w[here + SHARE_SLOPE]
            right = vq * (paid + weight * gained) + w[here + FLUX] - w[under + FLUX] - uptake
            middle = vq * w[here + CURVE_SLOPE] + w[under + BY_UPPER] + w[here + BY_LOWER] + uptake_slope
            w[here + IN_ZONE] = uptake
            if i > ZERO:
                lower = w[here + BY_UPPER]
                right += lower * w[here - ROW + DELTA]
                middle -= lower * w[here - ROW + FORWARD]
            pivot = one / middle
            w[here + FORWARD] = w[under + BY_LOWER] * pivot
            w[here + DELTA] = right * pivot
    for lane in range(ZERO, L):
        w[cells * ROW + lane + DELTA] = zero
        w[cells * ROW + lane + TAKEN] = zero
    for back in range(ZERO, cells):
        i = cells - ONE - back
        for lane in range(ZERO, L):
            here = i * ROW + lane
            under = here + ROW
            delta = w[here + DELTA] + w[here + FORWARD] * w[under + DELTA]
            h = w[here + TRIAL] + delta
            w[here + DELTA] = delta
            w[here + TRIAL] = h
            w[here + WATER_2] += w[here + CURVE] + w[here + CURVE_SLOPE] * h
            uptake = w[here + IN_ZONE] + w[here + TAKING] * w[here + SHARE_SLOPE] * delta
            w[here + TAKEN] = w[under + TAKEN] + uptake


@inlined
def judge(w, cells, weight):
    """Leave in the row under the last cell: the largest error or mismatch, water stored and in the zone."""
    zero = w.dtype.type(0.0)
    for lane in range(ZERO, L):
        w[lane + WORST] = zero
        w[lane + PARTED] = zero
        w[lane + IN_ZONE] = zero
    for i in range(ZERO, cells):
        for lane in range(ZERO, L):
            here = i * ROW + lane
            under = here + ROW
            before, now = w[here + WATER], w[here + WATER_2]
            first = w[here + WATER_1] - before
            error = abs(now - before - weight * first - first)
            parted = abs(now - (w[here + CURVE] + w[here + CURVE_SLOPE] * w[here + TRIAL]))
            w[under + WORST] = max(w[here + WORST], error)
            w[under + PARTED] = max(w[here + PARTED], parted)
            w[under + IN_ZONE] = w[here + IN_ZONE] + w[here + ZONE] * now
