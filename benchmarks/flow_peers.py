"""The same pots by general solvers of SciPy: BDF with a sparse Jacobian, and LSODA with a banded one.

Same cells, faces and edges as the solvers of the package, nothing shared with them: conductivity by the
arithmetic mean, open holes below, water standing on the medium if it comes faster than it can enter. Unknowns
are the depth of standing water and the pressure heads: a tridiagonal system. Right-hand side and Jacobian are
compiled. The solvers run through, started again only where watering begins and ends.
"""

import itertools
import math
import time
from dataclasses import dataclass

import numpy as np
from flow_cases import (
    CELLS,
    DOSE_CM,
    DRYING_CM,
    FROM_SURFACE,
    POURED_IN_HOURS,
    ROOTS_CM,
    STORAGE_PER_CM,
    WATERED_AT_HOUR,
    Media,
    even_cells,
)
from numba import njit
from scipy.integrate import solve_ivp
from scipy.sparse import csc_matrix

compiled = njit(cache=True, error_model="numpy")
NEAREST_CM = 1e-6  # no suction closer to none is asked for a slope, which is endless there for n < 2
POURING_CM_H = DOSE_CM / POURED_IN_HOURS
SINKS_IN_HOURS = 0.01
# Places in the flat row of figures that the compiled functions read.
SATURATED, RESIDUAL, ALPHA, N, KS, THICK, POURING, SURFACE_CM2, ALL_CM3, FIGURES = range(10)


@compiled
def curves(head, case):
    """Return water, its slope, conductivity and its slope at a pressure head."""
    pressed = STORAGE_PER_CM * (max(head, -1.0) + 1.0)
    if head >= 0.0:
        return case[SATURATED] + pressed, STORAGE_PER_CM, case[KS], 0.0
    stored = STORAGE_PER_CM if head > -1.0 else 0.0
    suction = max(-head, NEAREST_CM)
    n, span = case[N], case[SATURATED] - case[RESIDUAL]
    m = 1.0 - 1.0 / n
    power = n * math.log(case[ALPHA] * suction)
    x = math.exp(power)
    one = 1.0 + x
    loss = m * math.log(one)
    filled = math.exp(-loss)
    empty = math.exp(m * power - loss)  # (1 - S^(1/m))^m = (x / (1 + x))^m
    inner = 1.0 - empty
    k = case[KS] * math.sqrt(filled) * inner * inner
    part = m * n / (suction * one)
    k_slope = k * part * (0.5 * x + 2.0 * empty / inner) if inner > 1e-12 else 0.0
    return case[RESIDUAL] + span * filled + pressed, span * part * x * filled + stored, k, k_slope


@compiled
def stored_cm3(y, case):
    """Return the water of all cells."""
    cells = len(y) - 1
    total = 0.0
    for i in range(cells):
        total += case[FIGURES + i] * curves(y[i + 1], case)[0]
    return total


@compiled
def uptake(head):
    """Return the share of the wanted water that roots get, and its slope."""
    none, easy, hard, wilting = ROOTS_CM
    s = -head
    if s <= none or s >= wilting:
        return 0.0, 0.0
    if s < easy:
        return (s - none) / (easy - none), -1.0 / (easy - none)
    if s <= hard:
        return 1.0, 0.0
    return (wilting - s) / (wilting - hard), 1.0 / (wilting - hard)


@compiled
def evaporation(head):
    """Return the share of the wanted evaporation that the surface gives, and its slope."""
    first, last = DRYING_CM
    share = (head + last) / (last - first)
    if share >= 1.0:
        return 1.0, 0.0
    if share <= 0.0:
        return 0.0, 0.0
    return share, 1.0 / (last - first)


@compiled
def enters(pond, head, k, k_slope, case):
    """Return water entering the medium [cm/h] with its slopes in pond and head.

    What stands on the medium offers itself within `SINKS_IN_HOURS`; no more enters than the medium takes.
    """
    half = 0.5 * case[THICK]
    face = 0.5 * (k + case[KS])
    gradient = (max(pond, 0.0) - head) / half + 1.0
    most = face * gradient
    offered = case[POURING] + pond / SINKS_IN_HOURS
    if most < offered:
        return most, face / half if pond > 0.0 else 0.0, 0.5 * k_slope * gradient - face / half
    return offered, 1.0 / SINKS_IN_HOURS, 0.0


@compiled
def rates(t, y, case, wanted):
    """Return dy/dt: depth of standing water, then heads."""
    cells = len(y) - 1
    out = np.empty(cells + 1)
    face = FIGURES + cells
    want = wanted[min(int(t), len(wanted) - 1)]
    surface, roots = FROM_SURFACE * want, (1.0 - FROM_SURFACE) * want * case[SURFACE_CM2] / case[ALL_CM3]
    _, c, k, k_slope = curves(y[1], case)
    entering, _, _ = enters(y[0], y[1], k, k_slope, case)
    out[0] = case[POURING] - entering
    above = case[SURFACE_CM2] * (entering - surface * evaporation(y[1])[0])
    for i in range(cells):
        head, volume = y[i + 1], case[FIGURES + i]
        if i < cells - 1:
            _, c_next, k_next, _ = curves(y[i + 2], case)
            below = case[face + i + 1] * 0.5 * (k + k_next) * ((head - y[i + 2]) / case[THICK] + 1.0)
        else:
            c_next, k_next = 0.0, 0.0
            below = case[face + cells] * k * max(0.0, head / (0.5 * case[THICK]) + 1.0)
        out[i + 1] = (above - below - volume * roots * uptake(head)[0]) / (volume * c)
        above, c, k = below, c_next, k_next
    return out


@compiled
def slopes(t, y, case, wanted):
    """Return the Jacobian by diagonals: row 0 above, 1 on, 2 below the middle, each in the column it is of.

    The slope of the capacity comes from a difference, the rest in closed form.
    """
    cells = len(y) - 1
    out = np.zeros((3, cells + 1))
    face, thick = FIGURES + cells, case[THICK]
    want = wanted[min(int(t), len(wanted) - 1)]
    surface, roots = FROM_SURFACE * want, (1.0 - FROM_SURFACE) * want * case[SURFACE_CM2] / case[ALL_CM3]
    _, c, k, k_slope = curves(y[1], case)
    entering, by_pond, by_head = enters(y[0], y[1], k, k_slope, case)
    out[1, 0], out[0, 1] = -by_pond, -by_head
    share, share_slope = evaporation(y[1])
    above = case[SURFACE_CM2] * (entering - surface * share)
    by_upper, by_here = case[SURFACE_CM2] * by_pond, case[SURFACE_CM2] * (by_head - surface * share_slope)
    for i in range(cells):
        head, volume = y[i + 1], case[FIGURES + i]
        c_next, k_next, k_slope_next = 0.0, 0.0, 0.0
        below, below_by_here, below_by_next = 0.0, 0.0, 0.0
        if i < cells - 1:
            _, c_next, k_next, k_slope_next = curves(y[i + 2], case)
            drive = (head - y[i + 2]) / thick + 1.0
            mean = 0.5 * (k + k_next)
            below = case[face + i + 1] * mean * drive
            below_by_here = case[face + i + 1] * (0.5 * k_slope * drive + mean / thick)
            below_by_next = case[face + i + 1] * (0.5 * k_slope_next * drive - mean / thick)
        else:
            drive = head / (0.5 * thick) + 1.0
            if drive > 0.0:
                below = case[face + cells] * k * drive
                below_by_here = case[face + cells] * (k_slope * drive + k / (0.5 * thick))
        got, got_slope = uptake(head)
        per = 1.0 / (volume * c)
        net = above - below - volume * roots * got
        step = 1e-6 * (abs(head) + 1e-3)
        c_slope = (curves(head + step, case)[1] - curves(head - step, case)[1]) / (2.0 * step)
        out[1, i + 1] = per * (by_here - below_by_here - volume * roots * got_slope - net * c_slope / c)
        out[2, i] = per * by_upper
        if i < cells - 1:
            out[0, i + 2] = -per * below_by_next
        above, by_upper, by_here = below, below_by_here, below_by_next
        c, k, k_slope = c_next, k_next, k_slope_next
    return out


@dataclass(frozen=True)
class PeerRuns:
    """Storage at every hour from 0 [cm3], shape (pots, hours + 1); NaN from where a solver gave up.

    Seconds of the processor, and by the clock.
    """

    stored_cm3: np.ndarray
    seconds: float
    clock: float

    @property
    def gave_up(self) -> int:
        """How many pots did not come to their end."""
        return int(np.isnan(self.stored_cm3).any(axis=1).sum())


def run_peer(method: str, media: Media, wanted: np.ndarray, *, rtol: float, atol_cm: float) -> PeerRuns:
    """Run pots one after the other by "BDF" or "LSODA" of scipy.integrate.solve_ivp."""
    stored = np.full((len(media), len(wanted) + 1), np.nan)
    busy, clock = time.process_time(), time.perf_counter()
    for pot in range(len(media)):
        _one(method, media, pot, wanted, (rtol, atol_cm), stored[pot])
    return PeerRuns(stored, time.process_time() - busy, time.perf_counter() - clock)


def warm_up(media: Media, wanted: np.ndarray) -> None:
    """Compile."""
    run_peer("BDF", media.first(1), wanted[:24], rtol=1e-2, atol_cm=1e-2)
    run_peer("LSODA", media.first(1), wanted[:24], rtol=1e-2, atol_cm=1e-2)


def _one(
    method: str,
    media: Media,
    pot: int,
    wanted: np.ndarray,
    tolerances: tuple[float, float],
    stored: np.ndarray,
) -> None:
    grid = even_cells(CELLS)
    hours = len(wanted)
    case = np.concatenate(
        [
            [media.saturated[pot], media.residual[pot], media.alpha_per_cm[pot], media.n[pot]],
            [media.conductivity_cm_h[pot], grid.thickness_cm, 0.0, grid.face_cm2[0], grid.volume_cm3.sum()],
            grid.volume_cm3,
            grid.face_cm2,
        ]
    )
    size = CELLS + 1
    rows = np.concatenate([np.arange(CELLS), np.arange(size), np.arange(1, size)])
    columns = np.concatenate([np.arange(1, size), np.arange(size), np.arange(CELLS)])

    def right(t: float, y: np.ndarray) -> np.ndarray:
        return rates(t, y, case, wanted)

    def banded(t: float, y: np.ndarray) -> np.ndarray:
        return slopes(t, y, case, wanted)

    def sparse(t: float, y: np.ndarray) -> csc_matrix:
        by = slopes(t, y, case, wanted)
        values = np.concatenate([by[0, 1:], by[1], by[2, :-1]])
        return csc_matrix((values, (rows, columns)), shape=(size, size))

    more = {"jac": sparse} if method == "BDF" else {"jac": banded, "lband": 1, "uband": 1}
    y = np.concatenate([[0.0], -grid.height_cm])
    stored[0] = stored_cm3(y, case)
    edges = [0.0]
    for day in range(hours // 24):
        begins = 24.0 * day + WATERED_AT_HOUR
        edges += [begins, begins + POURED_IN_HOURS]
    edges.append(float(hours))
    for place, (start, end) in enumerate(itertools.pairwise(edges)):
        case[POURING] = POURING_CM_H if place % 2 else 0.0
        marks = np.arange(math.floor(start) + 1, math.floor(end) + 1, dtype=float)
        found = solve_ivp(
            right,
            (start, end),
            y,
            method=method,
            t_eval=np.union1d(marks, [end]),
            rtol=tolerances[0],
            atol=tolerances[1],
            **more,
        )
        if not (found.success and np.all(np.isfinite(found.y))):
            return
        for t, state in zip(found.t, found.y.T, strict=True):
            if t == math.floor(t):
                stored[int(t)] = stored_cm3(np.ascontiguousarray(state), case)
        y = np.ascontiguousarray(found.y[:, -1])
