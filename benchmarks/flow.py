"""How fast and how exact the flow solvers are, beside SciPy's on the same pots in the same run.

    python benchmarks/flow.py [part ...] [--pots 256] [--peers 24] [--write]

Parts: beside, grid, growth, start, season; all of them if none is named. Speeds on one core are by the time
of the processor, the others by the clock. --write puts what was measured into docs/benchmarks-flow.md.
"""

import argparse
import os
import platform
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve()
PAGE = HERE.parents[1] / "docs" / "benchmarks-flow.md"
FLOOR_NS = {"double": 3.4, "single": 1.7}
EQUAL = 3e-3  # tolerance at which the median error is about what is asked, 0.15 cm³
MOST_OF_BDF = 24  # pots: it is slow
PARTS = ("beside", "grid", "growth", "start", "season")


def beside(peers: int, pots: int = 256) -> list[str]:
    """Run the same pots by every solver."""
    import flow_peers
    from flow_cases import CELLS, DAYS, usual_media, wanted_cm_h
    from flow_ours import even_column, pots_of, reference_run, stored_cm3, weather_of

    from friable.science.flow import layout as at
    from friable.science.flow.pots import run_pots

    media, wanted = usual_media(pots), wanted_cm_h()
    reference = stored_cm3(reference_run(media, wanted))
    weathers, hours = [weather_of(wanted)], len(wanted)
    run_pots(pots_of(media.first(16), even_column()), weathers, 24, hourly=True)
    run_pots(pots_of(media.first(16), even_column()), weathers, 24, hourly=True, precision="single")
    lines = [
        "| solver | pots | pot-days/s | error: median | 95 % | worst | median hour "
        "| failed | handed over | steps a day | ns a cell and solve |",
        "|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    at_equal: dict[str, float] = {}
    for title, more, threads in (
        *(
            (
                f"ours, {precision}, tolerance {tolerance:g}{said}",
                {"tolerance": tolerance, "precision": precision},
                threads,
            )
            for threads, said in ((1, ""), (2, ", two threads"))
            for precision in ("double", "single")
            for tolerance in (5e-3, EQUAL, 1e-3)
        ),
        ("ours, careful, tolerance 1e-3", {"solver": "careful"}, 1),
    ):
        watch = time.process_time if threads == 1 else time.perf_counter
        taken = []
        for _run in range(1 if "careful" in title else 5):
            begun = watch()
            found = run_pots(
                pots_of(media, even_column()), weathers, hours, hourly=True, threads=threads, **more
            )
            taken.append(watch() - begun)
        seconds = float(np.median(taken))
        steps = found.state[:, at.STEPS_TAKEN].sum() + found.state[:, at.STEPS_REFUSED].sum()
        speed = pots * DAYS / seconds
        each = f"{1e9 * seconds / (2 * steps * CELLS):.1f}" if threads == 1 else ""
        errors = np.abs(stored_cm3(found) - reference)
        lines.append(
            _row(title, pots, speed, errors, found.lost)
            + f" {found.handed_over} | {steps / (pots * DAYS):.0f} | {each} |"
        )
        print(lines[-1], file=sys.stderr, flush=True)
        at_equal[title] = speed
        if title == f"ours, double, tolerance {EQUAL:g}":
            our_errors = errors
    ratios = []
    for method, most in (("LSODA", peers), ("BDF", min(peers, MOST_OF_BDF))):
        few, ours = media.first(most), float(np.nanmedian(np.nanmax(our_errors[:most], axis=1)))
        flow_peers.warm_up(few, wanted)
        measured = []
        for rtol in (1e-3, 1e-4, 1e-5, 1e-6):
            run = flow_peers.run_peer(method, few, wanted, rtol=rtol, atol_cm=rtol)
            speed = most * DAYS / run.seconds
            errors = np.abs(run.stored_cm3 - reference[:most])
            median = float(np.nanmedian(np.nanmax(errors, axis=1)))
            measured.append((median, speed))
            title = f"SciPy {method}, rtol {rtol:g}, atol {rtol:g} cm"
            lines.append(_row(title, most, speed, errors, run.gave_up) + " | | |")
            print(lines[-1], file=sys.stderr, flush=True)
        equal = _at_error(measured, ours)
        for kind in ("double", "single"):
            ratio = at_equal[f"ours, {kind}, tolerance {EQUAL:g}"] / equal
            ratios.append(
                f"At a median error of {ours:.3f} cm³ on the same {most} pots {method} reaches "
                f"{equal:.1f} pot-days/s (from its four tolerances, evenly in the logarithms); "
                f"ours in {kind} precision is {ratio:.0f} times as fast on one core."
            )
    return [
        "## Side by side",
        "",
        f"{pots} pots of 1.9 L for {DAYS} days, watered daily, {CELLS} even cells, building the tables "
        "included, compiling not. The error of a pot is its largest difference in stored water at any of "
        f"{hours} hours from the careful solver at tolerance 2e-5 with 17,409 nodes, on the same cells "
        "[cm³ of about 900]: median, 95 % and worst over the pots; then the median over all hours and pots.",
        "",
        *lines,
        "",
        *ratios,
        "",
        f"The floor of the fast solver by own count of operations: {FLOOR_NS['double']} ns a cell and solve "
        f"in double, {FLOOR_NS['single']} ns in single precision at the nominal clock; what is above it is "
        "the look-up in tables (loads, not arithmetic) and what each pot does alone: weather, watering, "
        "steps.",
    ]


def _row(title: str, pots: int, speed: float, errors: np.ndarray, failed: int) -> str:
    worst = np.nanmax(errors, axis=1)
    return (
        f"| {title} | {pots} | {speed:,.0f} | {np.nanmedian(worst):.3f} | {np.nanpercentile(worst, 95):.3f} "
        f"| {np.nanmax(worst):.3f} | {np.nanmedian(errors):.4f} | {failed} |"
    )


def _at_error(measured: list[tuple[float, float]], error: float) -> float:
    """Return the speed at an error between measured ones, evenly in the logarithms; the end's beyond them."""
    by_error = sorted(measured)
    return float(
        np.exp(np.interp(np.log(error), np.log([e for e, _s in by_error]), np.log([s for _e, s in by_error])))
    )


def grid(pots: int = 64) -> list[str]:
    """Compare grids with a fine one, half of the pots coarse media under strong evaporation."""
    from flow_cases import DAYS, coarse_media, usual_media, wanted_cm_h
    from flow_ours import container, pots_of, stored_cm3, weather_of

    from friable.science.flow.column import column_of
    from friable.science.flow.pots import run_pots

    half = pots // 2
    cases = (
        (usual_media(half), [weather_of(wanted_cm_h())]),
        (coarse_media(half), [weather_of(wanted_cm_h(mm_day=10))]),
    )

    def run(cells: int, top_cm: float | None, tolerance: float) -> tuple[list[np.ndarray], float, int]:
        column = column_of(container(), cells=cells, top_cell_cm=top_cm)
        begun, stored, given_up = time.process_time(), [], 0
        for media, weathers in cases:
            found = run_pots(pots_of(media, column), weathers, 24 * DAYS, hourly=True, tolerance=tolerance)
            stored.append(stored_cm3(found))
            given_up += found.handed_over + found.lost
        return stored, pots * DAYS / (time.process_time() - begun), given_up

    finest, _speed, _given = run(320, None, 3e-4)
    lines = [
        "| cells | top cell cm | usual: median | 95 % | worst | coarse: median | 95 % | worst | within 1 cm³ "
        "| pot-days/s | handed over |",
        "|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    for cells, top_cm, tolerance in (
        (12, None, 1e-3), (16, None, 1e-3), (20, None, 1e-3), (24, None, 1e-3), (32, None, 1e-3),
        (40, None, 1e-3), (80, None, 1e-3), (24, 0.4, 1e-3), (32, 0.3, 1e-3), (40, 0.2, 1e-3),
        (40, 0.1, 1e-3), (160, None, 3e-4), (160, 0.05, 3e-4),
    ):  # fmt: skip
        stored, speed, given_up = run(cells, top_cm, tolerance)
        worst = [np.nanmax(np.abs(now - best), axis=1) for now, best in zip(stored, finest, strict=True)]
        cells_of = "".join(
            f" {np.nanmedian(e):.2f} | {np.nanpercentile(e, 95):.2f} | {np.nanmax(e):.2f} |" for e in worst
        )
        within = np.mean(np.concatenate(worst) <= 1.0)
        column = column_of(container(), cells=cells, top_cell_cm=top_cm)
        lines.append(
            f"| {cells} {'even' if top_cm is None else 'fine at the top'} "
            f"| {column.thickness_cm[0]:.3f} |{cells_of} {100 * within:.0f} % | {speed:,.0f} | {given_up} |"
        )
    return [
        "## Grids",
        "",
        f"{half} usual pots under 5 mm a day and {half} of coarse media (alpha 0.4 to 1 per cm, n 2.5 to "
        "3.5) under 10 mm a day. Error: largest difference in stored water at any hour [cm³] from 320 even "
        "cells, tolerance 3e-4; tolerance 1e-3 in all rows but the last two, whose 3e-4 shows how far fine "
        "grids still differ among themselves.",
        "",
        *lines,
    ]


def growth(threads: int = 2) -> list[str]:
    """Time more and more pots."""
    from flow_cases import DAYS, usual_media, wanted_cm_h
    from flow_ours import even_column, medians_of, pots_of, weather_of

    from friable.science.flow.pots import run_pots

    weathers, column = [weather_of(wanted_cm_h())], even_column()
    sizes = (100, 300, 1_000, 3_000, 10_000)
    media = usual_media(sizes[-1])
    run_pots(pots_of(media.first(16), column), weathers, 24)

    def work(count: int) -> None:
        run_pots(pots_of(media.first(count), column), weathers, 24 * DAYS, threads=threads)

    taken = [medians_of(lambda n=n: work(n), 5, time.perf_counter) for n in sizes]
    days = np.array(sizes) * DAYS
    weights = 1 / np.array(taken)
    b, a = np.polyfit(days, taken, 1, w=weights)
    between = np.diff(taken) / np.diff(days)
    lines = ["| pot-days | seconds | µs a pot-day from the size before |", "|---|---|---|"]
    for i, n in enumerate(days):
        lines.append(f"| {n:,} | {taken[i]:.3f} | {'' if i == 0 else f'{1e6 * between[i - 1]:.1f}'} |")
    spread = (between.max() - between.min()) / between.mean()
    return [
        "## Growth with the number of pots",
        "",
        f"Medians of five by the clock, {threads} threads, double precision, building pots and tables "
        "included.",
        "",
        *lines,
        "",
        f"Fitted: {a:.3f} s + {1e6 * b:.1f} µs a pot-day; b between sizes spreads by {100 * spread:.0f} %.",
    ]


ONE_POT = """
import time; begun = time.perf_counter()
import sys; sys.path.insert(0, {here!r})
from flow_cases import usual_media, wanted_cm_h
from flow_ours import even_column, pots_of, weather_of
from friable.science.flow.pots import run_pots
run_pots(pots_of(usual_media(16), even_column()), [weather_of(wanted_cm_h(1))], 24)
print(time.perf_counter() - begun)
"""


def start() -> list[str]:
    """Time the first use after installing and later ones, in processes of their own."""
    program = [sys.executable, "-c", ONE_POT.format(here=str(HERE.parent))]
    command = [str(Path(sys.executable).with_name("friable")), "--help"]

    def timed(arguments: list[str], environment: dict[str, str]) -> float:
        begun = time.perf_counter()
        subprocess.run(arguments, env=environment, check=True, stdout=subprocess.DEVNULL)
        return time.perf_counter() - begun

    with tempfile.TemporaryDirectory() as empty:
        environment = {**os.environ, "NUMBA_CACHE_DIR": empty}
        first = timed(program, environment)
        later = [timed(program, environment) for _run in range(5)]
    plain = [timed(command, dict(os.environ)) for _run in range(5)]
    return [
        "## Start",
        "",
        "| | seconds | asked |",
        "|---|---|---|",
        f"| first use after installing: sixteen pots for a day, whole process | {first:.1f} | under 20 |",
        f"| later uses, median of five | {np.median(later):.2f} | under 1.5 |",
        f"| a command that needs no flow (`friable --help`), median of five | {np.median(plain):.2f} "
        "| under 0.5 |",
    ]


def season(kinds: int = 192, days: int = 60, threads: int = 2) -> list[str]:
    """Time pots under weather that changes, watered when they need it, and scale to a season."""
    from dataclasses import replace

    from flow_cases import usual_media, wanted_cm_h
    from flow_ours import container, pots_of

    from friable.science.flow.column import column_of
    from friable.science.flow.pot import NEED, Watering, Weather
    from friable.science.flow.pots import run_pots

    draw = np.random.default_rng(5)
    wanted = wanted_cm_h(days) * np.repeat(draw.uniform(0.2, 1.6, days), 24)
    wanted *= draw.uniform(0.6, 1.4, len(wanted))
    rain = np.where(draw.random(len(wanted)) < 0.03, draw.exponential(0.15, len(wanted)), 0.0)
    weather = Weather(reference_cm=wanted, rain_cm=rain)
    needing = Watering(by=NEED, used_share=0.4, rate_cm3_h=1400.0)
    column = column_of(container())
    rows = ["| precision | pot-days/s | 7,008,000 pot-days | handed over | lost |", "|---|---|---|---|---|"]
    for precision in ("double", "single"):
        pots = [replace(pot, watering=needing, rain_cm2=176.7) for pot in pots_of(usual_media(kinds), column)]
        run_pots(pots[:16], [weather], 24, precision=precision)
        begun = time.perf_counter()
        found = run_pots(pots, [weather], 24 * days, precision=precision, threads=threads)
        speed = kinds * days / (time.perf_counter() - begun)
        rows.append(
            f"| {precision} | {speed:,.0f} | {7_008_000 / speed / 60:.1f} min | {found.handed_over} "
            f"| {found.lost} |"
        )
    return [
        "## A season, estimated",
        "",
        f"{kinds} pots, {days} days of weather drawn by the hour with rain, watered when 40 % of the "
        f"available water is gone, {threads} threads, the usual grid ({len(column.layer)} cells, fine at the "
        "top). 400 kinds × 3 weathers × 16 draws × 365 days scaled up from it; reading and writing come on "
        "top.",
        "",
        *rows,
    ]


def machine() -> str:
    """Return what this was measured on."""
    import numba
    import scipy

    name = platform.processor()
    info = Path("/proc/cpuinfo")
    if info.exists() and (found := re.search(r"model name\s*: (.*)", info.read_text(encoding="utf-8"))):
        name = found.group(1)
    busy = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"
    return (
        f"{platform.system()}, {os.cpu_count()} cores of {name}; Python {platform.python_version()}, numpy "
        f"{np.__version__}, scipy {scipy.__version__}, numba {numba.__version__}; "
        f"{time.strftime('%d %B %Y')}; load when it began {busy}."
    )


def main() -> None:
    """Measure, print, and write if asked."""
    choose = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    choose.add_argument("part", nargs="*", choices=[*PARTS, []], default=[])
    choose.add_argument("--peers", type=int, default=24, help="pots that SciPy's solvers are given")
    choose.add_argument("--pots", type=int, default=256, help="pots that ours are given beside them")
    choose.add_argument("--write", action="store_true", help=f"write {PAGE.name}")
    asked = choose.parse_args()
    blocks = ["# Flow, measured\n\n`python benchmarks/flow.py`. " + machine()]
    print(blocks[0])
    for part in asked.part or PARTS:
        lines = {
            "beside": lambda: beside(asked.peers, asked.pots),
            "grid": grid,
            "growth": growth,
            "start": start,
            "season": season,
        }[part]()
        blocks.append("\n".join(lines))
        print("\n" + blocks[-1], flush=True)
    if asked.write:
        PAGE.write_text("\n\n".join(blocks) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
