"""What crosses the edges of the lanes: the surface, the base, and where materials meet, lane by lane."""

import numpy as np

import friable.science.flow.layout as at
from friable.science.flow.events import base_flux, entry_at, joint_flux, top_flux
from friable.science.flow.kernels import (
    BY_LOWER,
    BY_UPPER,
    DELTA,
    FACE_A,
    FIELDS,
    FLUX,
    K_LINE,
    K_SLOPE,
    LANES,
    ONE,
    ROW,
    TAKEN,
    TRIAL,
    TWO,
    inlined,
)

DOUBLINGS = 17  # of the suction, in a table
INTEGRAL = np.uint64(6)  # place of the integral of the conductivity in an entry
# Where the volumes of a step are kept for a lane between its stages and its acceptance.
(
    ENTERED_BOOK,
    ENTERED_SLOPE_BOOK,
    LOST_BOOK,
    LOST_SLOPE_BOOK,
    BELOW_BOOK,
    BELOW_SLOPE_BOOK,
    SUM_ENTERED_BOOK,
    SUM_LOST_BOOK,
    SUM_BELOW_BOOK,
    SUM_TAKEN_BOOK,
) = range(10)


@inlined
def edges(w, cells, pots, spec, state, hours, books, table, nodes, medium, thickness):
    """Fluxes at the surface, at the base and where materials meet, lane by lane."""
    real = w.dtype.type
    last = len(nodes) - 1
    steps = last // DOUBLINGS
    for lane in range(LANES):
        p = pots[lane]
        if p < 0:
            continue
        u = np.uint64(lane)
        full_k = table[np.uint64(medium[u]) * FIELDS + TWO]
        h, slope = w[u + TRIAL], w[u + K_SLOPE]
        entry = entry_at(float(h), last, steps)
        lifts = table[np.uint64(int(medium[u]) + entry) * FIELDS + INTEGRAL]
        lifts += (w[u + K_LINE] + 0.5 * slope * h) * h
        entered, entered_slope, lost, lost_slope = top_flux(
            spec, state, p, h, w[u + K_LINE] + slope * h, slope, full_k, lifts, hours[lane]
        )
        w[u + FLUX] = real(entered - lost)
        w[u + BY_LOWER] = real(lost_slope - entered_slope)
        (
            books[lane, ENTERED_BOOK],
            books[lane, ENTERED_SLOPE_BOOK],
            books[lane, LOST_BOOK],
            books[lane, LOST_SLOPE_BOOK],
        ) = (
            entered,
            entered_slope,
            lost,
            lost_slope,
        )

        end = (cells - ONE) * ROW + u
        h, slope = w[end + TRIAL], w[end + K_SLOPE]
        below, below_slope = base_flux(spec, state, p, h, w[end + K_LINE] + slope * h, slope)
        w[end + ROW + FLUX] = real(below)
        w[end + ROW + BY_UPPER] = real(below_slope)
        w[end + ROW + BY_LOWER] = real(0.0)
        books[lane, BELOW_BOOK], books[lane, BELOW_SLOPE_BOOK] = below, below_slope

        for which in range(2):
            face = int(spec[p, at.JOINT + which])
            if face == 0:
                break
            here = np.uint64(face) * ROW + u
            up = here - ROW
            h_up, h = w[up + TRIAL], w[here + TRIAL]
            flux, by_upper, by_lower = joint_flux(
                w[here + FACE_A],
                spec[p, at.ENTRY_CM],
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
        u = np.uint64(lane)
        top, low = w[u + DELTA], w[(cells - ONE) * ROW + u + DELTA]
        if first:
            for place in range(SUM_ENTERED_BOOK, SUM_TAKEN_BOOK + 1):
                books[lane, place] = 0.0
        entered = books[lane, ENTERED_BOOK] + books[lane, ENTERED_SLOPE_BOOK] * top
        books[lane, SUM_ENTERED_BOOK] += part * entered
        books[lane, SUM_LOST_BOOK] += part * (books[lane, LOST_BOOK] + books[lane, LOST_SLOPE_BOOK] * top)
        books[lane, SUM_BELOW_BOOK] += part * (books[lane, BELOW_BOOK] + books[lane, BELOW_SLOPE_BOOK] * low)
        books[lane, SUM_TAKEN_BOOK] += part * w[u + TAKEN]
