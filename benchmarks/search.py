"""How long it takes to compute every recipe, beside a plain loop over the same model.

    python benchmarks/search.py [--five] [--write]

Time of the processor and by the clock; memory is the largest resident memory of a process of its own. --five
adds 5 of 60 materials, about a minute on two quiet cores. --write puts what was measured into
docs/benchmarks-search.md.
"""

import argparse
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
from datetime import date
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve()
PAGE = HERE.parents[1] / "docs" / "benchmarks-search.md"
WINDOWS = """container = "round 17/12/13 cm"
[window.air_space]
low = 0.2
high = 0.3
[window.container_capacity]
low = 0.45
high = 0.65
"""
# Arithmetic of one recipe by own count: 5 k sub-grades x (k + 4 + 2 x 6) + 12 k (k - 1) + 20 k + 40.
AMOUNTS = (4.0, 3.0, 2.0, 1.0)  # parts of the plain loop: any will do
VECTOR_PER_S = 2 * 4 * 2.6e9  # single precision: two units of four lanes, nominal clock of this machine


def operations(kinds: int) -> int:
    """Return the operations of one recipe of so many materials, a division counted as one."""
    return 5 * kinds * (kinds + 4 + 2 * 6) + 12 * kinds * (kinds - 1) + 20 * kinds + 40


def question(materials: int, kinds: int):
    """Return a question over the first materials of the tables, in exactly ten parts, all present."""
    import numpy as np

    from friable.planning.container_text import parse_container
    from friable.reference.materials import all_materials
    from friable.science.drainage import drained_column
    from friable.science.mixture import grades
    from friable.science.search.question import Question

    return Question(
        grades=grades(tuple(m.physics for m in all_materials()[:materials])),
        probes=(drained_column(parse_container("round 17/12/13 cm")),),
        forms=np.array([[1, 0, -1.0], [1, 0, -1], [0, 0, 1], [0, 0, 1]]),
        wanted=np.array([0.2, 0.3, 0.45, 0.65]),
        gain=np.array([20.0, -20, 20, -20]),
        kinds=(kinds,),
        exactly=True,
    )


def sweep(materials: int, kinds: int, threads: int) -> None:
    """Measure one search in this process and print it as JSON."""
    import resource

    from friable.science.search.screen import screened

    asked = question(materials, kinds)
    screened(question(materials, 2), threads=1)  # load what is compiled
    taken = []
    for _run in range(1 if kinds == 5 else 3):
        clock, processor = time.perf_counter(), time.process_time()
        found = screened(asked, threads=threads)
        taken.append((time.perf_counter() - clock, time.process_time() - processor))
    clock, processor = min(taken)
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps([found.considered, found.within, clock, processor, peak_mb]))


def apart(*arguments: object) -> list[float]:
    """Run a part of this file in a process of its own and return what it prints."""
    command = [sys.executable, str(HERE), *map(str, arguments)]
    return json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)


def plain_loop(count: int = 300) -> float:
    """Return the seconds that one recipe takes by the model that every page uses, one at a time."""
    import numpy as np

    from friable.planning.chances import figures_of
    from friable.planning.container_text import parse_container
    from friable.reference.materials import all_materials

    pot, rng = parse_container("round 17/12/13 cm"), np.random.default_rng(1)
    recipes = [
        list(zip(map(all_materials().__getitem__, rng.choice(24, 4, replace=False)), AMOUNTS, strict=True))
        for _ in range(count)
    ]
    figures_of(recipes[0], pot)
    begun = time.process_time()
    for recipe in recipes:
        figures_of(recipe, pot)
    return (time.process_time() - begun) / count


def furthest(count: int = 1000) -> float:
    """Return the largest difference of a sweep from the rule, over recipes drawn from a large search."""
    import numpy as np

    from friable.science.search.draws import exact_figures
    from friable.science.search.question import Question
    from friable.science.search.screen import screened

    asked = question(24, 4)
    every = {name: getattr(asked, name) for name in Question.__slots__} | {"keep": 10**6}
    found = screened(Question(**every))
    rows = np.random.default_rng(2).choice(len(found.parts), count, replace=False)
    figures = exact_figures(asked, found.parts[rows])
    score = (asked.gain * (figures @ asked.forms.T - asked.wanted)).min(axis=1)
    return float(np.abs(score - found.score[rows]).max() / 20)


def chances() -> tuple[int, float]:
    """Return how many recipes got their chance of 256 draws, and the seconds by the clock."""
    from friable.planning.at_hand import AtHand
    from friable.planning.container_text import parse_container
    from friable.planning.find import find
    from friable.planning.find_values import FindCase
    from friable.planning.windows import read_windows
    from friable.reference.material_flags import material_flags
    from friable.reference.materials import all_materials

    case = FindCase(
        windows=read_windows(WINDOWS).windows,
        container=parse_container("round 17/12/13 cm"),
        at_hand=tuple(AtHand(material=m, flags=material_flags(m)) for m in all_materials()[:24]),
    )
    find(case, best=1)
    taken = []
    for draws in (0, 256):
        begun = time.perf_counter()
        answer = find(case, best=1, draws=draws)
        taken.append(time.perf_counter() - begun)
    return answer.chances_of, taken[1] - taken[0]


def command(*more: str) -> tuple[float, float, float]:
    """Return clock, processor and memory of the whole command for 24 materials. [s, s, MB]"""
    from friable.reference.materials import all_materials

    names = ",".join(m.title for m in all_materials()[:24])
    taken = []
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "windows.toml"
        file.write_text(WINDOWS)
        arguments = ["find", "--window", str(file), "--materials", names, "--json", *more]
        for _run in range(5):
            begun = time.perf_counter()
            running = subprocess.Popen(
                [sys.executable, "-m", "friable.cli.main", *arguments],
                stdout=subprocess.DEVNULL,
                env=os.environ | {"FRIABLE_DATA": folder},
            )
            _pid, _status, used = os.wait4(running.pid, 0)
            clock = time.perf_counter() - begun
            taken.append((clock, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024))
    return min(taken)


def main() -> None:
    """Measure and print; write the page if asked."""
    choose = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    choose.add_argument("sweep", nargs="*", help=argparse.SUPPRESS)
    choose.add_argument("--five", action="store_true", help="also 5 of 60 materials")
    choose.add_argument("--write", action="store_true", help=f"write {PAGE.name}")
    asked = choose.parse_args()
    if asked.sweep:
        sweep(*map(int, asked.sweep))
        return
    load = os.getloadavg()[0]
    one = plain_loop()
    lines = [
        "# A search, measured",
        "",
        f"`python benchmarks/search.py`. {platform.system()}, {os.cpu_count()} cores of {_processor()}; "
        f"Python {platform.python_version()}, numpy {version('numpy')}, numba {version('numba')}; "
        f"{date.today():%d %B %Y}; load when it began {load:.1f}.",
        "",
        "Whole tenths, every material present, air and water of one pot by the full rule at the middle of "
        "the ranges, four ends of windows judged, the best 2,000 kept. The plain loop is the model that "
        f"every page uses, one recipe at a time: {1000 * one:.2f} ms each.",
        "",
        "| materials | recipes | threads | clock | processor | ns a recipe | times the plain loop | floor "
        "| memory | asked |",
        "|---|---|---|---|---|---|---|---|---|---|",
    ]
    cases = [(24, 4, 1, "0.5 s of one core"), (24, 4, 2, ""), (60, 4, 1, ""), (60, 4, 2, "5 s, 300 MB")]
    cases += [(60, 5, 2, "60 s")] if asked.five else []
    for materials, kinds, threads, wanted in cases:
        considered, _within, clock, processor, peak_mb = apart(materials, kinds, threads)
        floor = considered * operations(kinds) / VECTOR_PER_S
        lines.append(
            f"| {kinds} of {materials} | {considered:,} | {threads} | {clock:.2f} s | {processor:.2f} s "
            f"| {1e9 * processor / considered:.0f} | {one * considered / processor:,.0f} | {floor:.2f} s "
            f"| {peak_mb:.0f} MB | {wanted} |"
        )
        print(lines[-1], file=sys.stderr, flush=True)
    chosen, seconds = chances()
    clock, processor, peak_mb = command("--no-range")
    clock_2, processor_2, peak_2_mb = command()
    lines += [
        "",
        "The floor counts the operations of a recipe by hand (a division as one) at two vector units of four "
        "single numbers and 2.6 GHz, on one core; what is above it is divisions, look-ups in tables and the "
        "choosing.",
        "",
        f"- Largest difference of 1,000 random recipes from the rule: {furthest():.1e} (asked 1e-5).",
        f"- 256 draws of the ranges for {chosen:,} recipes: {seconds:.2f} s by the clock (asked 5 s).",
        f"- The whole command without chances, 24 materials in up to ten parts (2,407,526 recipes): "
        f"{clock:.2f} s by the clock, {processor:.2f} s of the processor, {peak_mb:.0f} MB (asked 1.5 s, "
        "200 MB).",
        f"- The same with chances: {clock_2:.2f} s, {processor_2:.2f} s, {peak_2_mb:.0f} MB.",
    ]
    text = "\n".join(lines) + "\n"
    print(text)
    if asked.write:
        PAGE.write_text(text)


def _processor() -> str:
    for line in Path("/proc/cpuinfo").read_text().splitlines():
        if line.startswith("model name"):
            return line.partition(":")[2].strip()
    return platform.processor()


if __name__ == "__main__":
    main()
