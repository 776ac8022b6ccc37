"""Run pots through hours of weather: one or thousands, by the same code."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

import friable.science.flow.layout as at
from friable.errors import BadQuantity
from friable.science.compiled_code import load_compiler
from friable.science.flow.medium import STEPS, solver_table, table_suctions_cm
from friable.science.flow.pot import Pot, Weather, row_of, shape_of
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

TOLERANCE = 1e-3  # of the water content
STEPS_PER_DAY_AT_MOST = 5000
OTHER_TOLERANCES = (1.0, 0.3, 3.0)  # at which a pot is tried with care, over the one asked for
NIGHT_SHARE = 0.02  # of the largest hour of a day: hours below it are taken together
SUMS = 9
DOUBLE, SINGLE = "double", "single"
FAST, CAREFUL = "fast", "careful"


@dataclass(frozen=True, slots=True, eq=False)
class PotRuns:
    """What became of the pots.

    `daily` has shape (pots, days, 10): poured, rained, ran through, drawn up from below, evaporated, taken up
    [cm3], hours too wet, hours too dry, waterings, water stored at midnight [cm3].
    `hourly` (pots, hours + 1, 7): water stored [cm3], water of the root zone [m³ m⁻³], water standing on the
    medium [cm], then since the start run through, drawn up, lost, poured [cm3].
    `profiles` (pots, hours + 1, cells) [m³ m⁻³]. Both are None unless asked for.
    """

    daily: "Array"
    hourly: "Array | None"
    profiles: "Array | None"
    heads_cm: "Array"
    waters: "Array"
    state: "Array"
    stored_at_start_cm3: "Array"
    in_saucer: "NDArray[np.bool_]"
    handed_over: int  # pots that the fast solver gave to the careful one
    lost: int  # pots that neither could bring to the end

    def balance_cm3(self, top_area_cm2: "Array") -> "Array":
        """Return what came in less what went out less what is stored more than before, for each pot. [cm3]"""
        s = self.state
        to_come = np.where(
            s[:, at.POURING] > 0, s[:, at.POURING] * (s[:, at.POUR_UNTIL] - s[:, at.TIME]), 0.0
        )
        from_outside = np.where(self.in_saucer, 0.0, s[:, at.DRAWN_UP])
        came = s[:, at.POURED] - to_come + s[:, at.RAINED] + from_outside
        went = s[:, [at.BELOW, at.OVER, at.PAST, at.SPILT, at.EVAPORATED, at.TAKEN, at.IN_SAUCER]].sum(axis=1)
        return np.asarray(
            came - went - (s[:, at.STORED] - self.stored_at_start_cm3) - s[:, at.POND] * top_area_cm2
        )


@dataclass(slots=True, eq=False)
class _Running:
    """The arrays of a run, which both solvers read and write."""

    table: "Array"
    steps: int
    cells: int
    spec: "Array"
    state: "Array"
    shapes: "Array"
    heads: "Array"
    waters: "Array"
    driven: tuple[object, ...]  # weather, books and tolerance, in the order of the solvers
    tolerance: float
    budget: int

    def fast(self, queue: "NDArray[np.intp]", precision: str) -> None:
        """Run pots side by side; those that stall are marked."""
        from friable.science.flow.kernels import ROW
        from friable.science.flow.lanes import run_lanes

        real: type[np.floating[Any]] = np.float64 if precision == DOUBLE else np.float32
        whole: type[np.unsignedinteger[Any]] = np.uint64 if precision == DOUBLE else np.uint32
        mantissa, bias = (52, 1023) if precision == DOUBLE else (23, 127)
        workspace = np.zeros((self.cells + 1) * int(ROW), dtype=real)
        step_bits = int(np.log2(self.steps))
        run: Callable[..., None] = run_lanes
        run(
            workspace,
            workspace.view(whole),
            whole(mantissa - step_bits),
            np.uint64((bias << step_bits) - 1),
            self.table.ravel().astype(real),
            table_suctions_cm(self.steps),
            np.uint64(self.cells),
            queue,
            self.spec,
            self.state,
            self.shapes,
            self.heads,
            self.waters,
            *self.driven,
            self.budget,
        )

    def careful(self, p: int, factor: float, wetting_ratio: float, most_hours: float) -> None:
        """Run one pot with iterations, from where it stands."""
        from friable.science.flow.robust import run_robust

        scans = np.tile([0.0, 1.0, 1.0], (self.cells, 1))
        nodes = table_suctions_cm(self.steps)
        run: Callable[..., None] = run_robust
        run(
            p,
            self.cells,
            self.table,
            nodes,
            self.steps,
            self.spec,
            self.state,
            self.shapes,
            self.heads,
            self.waters,
            scans,
            wetting_ratio,
            *self.driven[:-1],
            factor * self.tolerance,
            self.budget,
            most_hours,
        )


def run_pots(
    pots: Sequence[Pot],
    weathers: Sequence[Weather],
    hours: int,
    *,
    hourly: bool = False,
    tolerance: float = TOLERANCE,
    precision: str = DOUBLE,
    solver: str = FAST,
    threads: int = 1,
    start_heads_cm: "Array | None" = None,
    wetting_ratio: float = 0.0,
    steps: int = STEPS,
    most_hours: float = 1e9,
) -> PotRuns:
    """Run pots from a start (drained, if nothing is said) through their weather.

    Parameters
    ----------
    pots : sequence of Pot
        All cut into the same number of cells.
    weathers : sequence of Weather
        Of at least `hours` hours; `Pot.weather` names one of them.
    hours : int
    hourly : bool
        Keep water and profile at every hour.
    tolerance : float
        Error of the water content allowed in a step. [m³ m⁻³]
    precision : "double" or "single"
        Of the fast solver; balances are kept in double either way.
    solver : "fast" or "careful"
        Sixteen pots side by side, or one after the other with iterations.
    threads : int
        Over which the pots are shared out.
    start_heads_cm : ndarray, shape (pots, cells), optional
        Pressure heads to start from. [cm]
    wetting_ratio : float
        Above 1: hysteresis, the wetting curve being that of alpha times this; careful solver only.
    steps : int
        Steps in a doubling of the media's tables.

    Raises
    ------
    BadQuantity
        If there is no pot, the weather is too short, or a parameter is out of range.

    Notes
    -----
    Mixed form of Richards' equation in a column of varying area, finite volumes, two-stage SDIRK.
    [celia1990]_ (mixed form). Checks: docs/science/flow.md.
    """
    _check(pots, weathers, hours, tolerance, wetting_ratio, steps)
    if solver not in (FAST, CAREFUL) or precision not in (DOUBLE, SINGLE):
        raise ValueError(f"there is no solver {solver!r} in {precision!r} precision")
    if start_heads_cm is not None and not np.isfinite(start_heads_cm).all():
        raise BadQuantity(_("head to start from"), float("nan"), "cm", _("a number"))
    load_compiler()
    cells = len(pots[0].column.layer)
    table, spec, shapes = _tables(pots, hours, hourly)
    state = np.zeros((len(pots), at.STATE))
    heads, waters = np.empty((len(pots), cells)), np.empty((len(pots), cells))
    for p, pot in enumerate(pots):
        suction = pot.drained_suction_cm if start_heads_cm is None else -start_heads_cm[p]
        heads[p], waters[p] = -suction, pot.water_at(suction)
        state[p, at.STORED] = waters[p] @ pot.column.volume_cm3
        state[p, at.ZONE] = waters[p] @ shapes[int(spec[p, at.SHAPE])][:, 4]
    state[:, at.STEP], state[:, at.LAST_DAY], state[:, at.LAST_WATERED] = 0.02, -1, -spec[:, at.DAYS]
    state[:, at.BASE_NOW], state[:, at.HEAD_NOW], state[:, at.K_NOW] = (
        spec[:, i] for i in (at.BASE, at.BASE_CM, at.BASE_K)
    )
    state[state[:, at.BASE_NOW] == at.SAUCER, at.BASE_NOW] = at.OPEN_HOLES
    stored_at_start = state[:, at.STORED].copy()

    days = -(-hours // 24)
    kept = hours + 1 if hourly else 1
    daily, day_start = np.zeros((len(pots), days, SUMS + 1)), np.zeros((len(pots), SUMS))
    hourly_rows = np.zeros((len(pots), kept, len(at.HOURLY_ROW)))
    profiles = np.zeros((len(pots), kept, cells if hourly else 0))
    if hourly:
        hourly_rows[:, 0, 0], hourly_rows[:, 0, 1], profiles[:, 0] = (
            stored_at_start,
            state[:, at.ZONE],
            waters,
        )
    reference, rain, until, weekday = _weather_arrays(weathers, hours)
    driven = (reference, rain, until, weekday, daily, day_start, hourly_rows, profiles, tolerance)
    running = _Running(
        table,
        steps,
        cells,
        spec,
        state,
        np.stack(shapes),
        heads,
        waters,
        driven,
        tolerance,
        STEPS_PER_DAY_AT_MOST * days,
    )

    starts = (state.copy(), heads.copy(), waters.copy())
    careful = list(range(len(pots)))
    if solver == FAST:
        queues = [np.arange(start, len(pots), threads) for start in range(min(threads, len(pots)))]
        if len(queues) == 1:
            running.fast(queues[0], precision)
        else:
            with ThreadPoolExecutor(len(queues)) as pool:
                list(pool.map(lambda queue: running.fast(queue, precision), queues))
        careful = [int(p) for p in np.flatnonzero(state[:, at.FAILED])]
    for p in careful:
        for factor in OTHER_TOLERANCES:  # a pot may chatter at one tolerance and pass at another
            for array, start in zip((state, heads, waters), starts, strict=True):
                array[p] = start[p]
            daily[p], day_start[p] = 0.0, 0.0
            running.careful(p, factor, wetting_ratio, most_hours)
            if not state[p, at.FAILED]:
                break
    return PotRuns(
        daily=daily,
        hourly=hourly_rows if hourly else None,
        profiles=profiles if hourly else None,
        heads_cm=heads,
        waters=waters,
        state=state,
        stored_at_start_cm3=stored_at_start,
        in_saucer=spec[:, at.BASE] == at.SAUCER,
        handed_over=len(careful) if solver == FAST else 0,
        lost=int((state[:, at.FAILED] > 0).sum()),
    )


# --- working ------------------------------------------------------------------------------------


def _check(
    pots: Sequence[Pot],
    weathers: Sequence[Weather],
    hours: int,
    tolerance: float,
    wetting_ratio: float,
    steps: int,
) -> None:
    if not pots:
        raise BadQuantity(_("number of pots"), 0, "", _("at least 1"))
    if not 1 <= hours <= 24 * 3660:
        raise BadQuantity(_("hours to run"), hours, "h", _("from 1 to ten years"))
    if not 1e-8 <= tolerance <= 0.05:
        raise BadQuantity(_("tolerance of the water content"), tolerance, "m³/m³", _("from 1e-8 to 0.05"))
    if wetting_ratio and not 1 < wetting_ratio <= 5:
        raise BadQuantity(
            _("ratio of wetting to drying alpha"),
            wetting_ratio,
            "",
            _("0 for none, or above 1 and at most 5"),
        )
    shortest = min(len(weather.reference_cm) for weather in weathers)
    if shortest < hours:
        raise BadQuantity(
            _("hours of weather"), shortest, "h", _("at least the {hours} to run").format(hours=hours)
        )
    if any(not 0 <= pot.weather < len(weathers) for pot in pots):
        raise ValueError("a pot stands in a weather that is not there")
    cells = {len(pot.column.layer) for pot in pots}
    nodes = table_suctions_cm(steps)
    if len(cells) != 1 or any(len(m.suction_cm) != len(nodes) for pot in pots for m in pot.media):
        raise ValueError("all pots of a run need the same number of cells and the same nodes")


def _tables(pots: Sequence[Pot], hours: int, hourly: bool) -> tuple["Array", "Array", list["Array"]]:
    """Return the tables of all media once each, and the rows and shapes of all pots."""
    places: dict[tuple[int, object], int] = {}
    tables: list[Array] = []
    shape_places: dict[tuple[int, float], int] = {}
    shapes: list[Array] = []
    spec = np.empty((len(pots), at.SPEC))
    for p, pot in enumerate(pots):
        media = []
        for medium in pot.media:
            key = (id(medium), pot.uptake)
            if key not in places:
                places[key] = len(tables) * len(medium.suction_cm)
                tables.append(solver_table(medium, pot.uptake))
            media.append(places[key])
        form = (id(pot.column), pot.root_depth_share)
        if form not in shape_places:
            shape_places[form] = len(shapes)
            shapes.append(shape_of(pot))
        spec[p] = row_of(pot, shape=shape_places[form], media=media, hours=hours, hourly=hourly)
    return np.concatenate(tables), spec, shapes


def _weather_arrays(
    weathers: Sequence[Weather], hours: int
) -> tuple["Array", "Array", "NDArray[np.int64]", "NDArray[np.int64]"]:
    reference = np.stack(
        [together(weather.reference_cm[:hours], weather.rain_cm[:hours]) for weather in weathers]
    )
    rain = np.stack([np.asarray(weather.rain_cm[:hours], dtype=float) for weather in weathers])
    same = (np.diff(reference, axis=1) == 0) & (np.diff(rain, axis=1) == 0)
    until = np.empty(reference.shape, dtype=np.int64)
    until[:, -1] = hours
    for hour in range(hours - 2, -1, -1):
        until[:, hour] = np.where(same[:, hour], until[:, hour + 1], hour + 1)
    weekday = np.array([weather.weekday for weather in weathers], dtype=np.int64)
    return reference, rain, until, weekday


def together(reference_cm: "Array", rain_cm: "Array") -> "Array":
    """Give the small hours of a night, which hardly evaporate, their mean: one step can cross them."""
    result = np.array(reference_cm, dtype=float)
    days = -(-len(result) // 24)
    padded = np.zeros(days * 24)
    padded[: len(result)] = result
    largest = np.repeat(padded.reshape(days, 24).max(axis=1), 24)[: len(result)]
    small = (result < NIGHT_SHARE * largest) & (rain_cm == 0)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], small.astype(np.int8), [0]])))
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        result[start:end] = result[start:end].mean()
    return result
