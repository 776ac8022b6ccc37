"""How fast the science is: one forecast, one forecast without ranges, ten thousand mixes at once.

    python benchmarks/science.py

Runs on one core. Each figure is the median of several runs: time of the processor, then by the clock, which
is longer where other work shares the machine. The loop that the ten thousand are compared with is the slow
second version of the rule that the tests use: plain Python, scipy.optimize.brentq for the packing,
scipy.integrate.quad for the pot; its time is the processor's as well.
"""

import os
import platform
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

if hasattr(os, "sched_setaffinity"):
    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[_name] = "1"

import numpy as np  # noqa: E402 - after the number of threads is set
import scipy  # noqa: E402

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "published"))

from slow_rule import SlowMix  # noqa: E402 - found on the path added above

from friable.planning.forecast import forecast  # noqa: E402
from friable.reference.materials import find_material  # noqa: E402
from friable.science.containers import Container  # noqa: E402
from friable.science.drainage import drained_many  # noqa: E402
from friable.science.ingredient import Ingredient  # noqa: E402
from friable.science.mixture import Grades, blend, grades  # noqa: E402

MIXES, COMPARED, SEED = 10_000, 50, 7
MATERIALS = ("pine bark nursery", "sphagnum peat medium", "perlite coarse", "horticultural sand medium")
SHARES = (5, 2, 2, 1)


def pot() -> Container:
    """Return a round pot 17/12/13 cm with 1.5 cm of headspace."""
    return Container(
        shape="round",
        top_length_cm=17,
        top_width_cm=17,
        bottom_length_cm=12,
        bottom_width_cm=12,
        height_cm=13,
        headspace_cm=1.5,
    )


def seconds(work: Callable[[], object], runs: int) -> tuple[float, float, float]:
    """Return medians of processor and clock time and the fastest processor time, after one run to warm up."""
    work()
    busy, clock = [], []
    for _run in range(runs):
        at, on_clock = time.process_time(), time.perf_counter()
        work()
        busy.append(time.process_time() - at)
        clock.append(time.perf_counter() - on_clock)
    return statistics.median(busy), statistics.median(clock), min(busy)


def many(volumes: np.ndarray, curves: Grades) -> np.ndarray:
    """Return container capacity of many mixes of the same materials in one pot."""
    return drained_many(blend(volumes, curves), curves, pot())


def loop(volumes: np.ndarray, ingredients: list[Ingredient]) -> list[float]:
    """Return the same, one mix after the other."""

    def area(height: float) -> float:
        return (6 + 2.5 * height / 13) ** 2

    return [SlowMix(ingredients, list(row)).capacity(11.5, area) for row in volumes]


def main() -> None:
    """Measure and print."""
    parts = [(find_material(name), share) for name, share in zip(MATERIALS, SHARES, strict=True)]
    ingredients = [material.physics for material, _share in parts]
    curves = grades(ingredients)
    volumes = np.random.default_rng(SEED).dirichlet(np.ones(len(MATERIALS)), MIXES)

    rows = [
        ("one mix in one pot, 1,024 samples", 50, seconds(lambda: forecast(parts, pot()), 40)),
        ("one mix in one pot, no ranges", 2, seconds(lambda: forecast(parts, pot(), samples=0), 300)),
        (f"{MIXES:,} mixes of four in one pot", 100, seconds(lambda: many(volumes, curves), 40)),
    ]
    start = time.process_time()
    slowly = loop(volumes[:COMPARED], ingredients)
    one_by_one = (time.process_time() - start) / COMPARED * MIXES
    apart = np.abs(many(volumes[:COMPARED], curves) - slowly).max()

    print(f"{platform.system()}, {processor()}, one core of {os.cpu_count()}")
    print(f"Python {platform.python_version()}, numpy {np.__version__}, scipy {scipy.__version__}")
    print()
    print(f"{'':<36}{'processor':>11}{'clock':>11}{'fastest':>11}{'asked':>14}")
    for name, asked, taken in rows:
        cells = "".join(f"{1000 * t:>8.1f} ms" for t in taken)
        print(f"{name:<36}{cells}{f'under {asked} ms':>14}")
    print()
    print(f"The same {MIXES:,} one by one with brentq and quad: {one_by_one:.0f} s, from {COMPARED} of them;")
    print(f"{one_by_one / rows[-1][2][0]:,.0f} times as long.")
    print(f"Largest difference in container capacity {apart:.1e}.")


def processor() -> str:
    """Return what kind of processor this is."""
    try:
        for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    except OSError:
        pass
    return platform.processor() or platform.machine()


if __name__ == "__main__":
    main()
