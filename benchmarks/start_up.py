"""How long a command takes from the shell until it has answered.

    python benchmarks/start_up.py

Every run is a process of its own. Printed are the fastest and the median of nine by the clock, the least time
of the processor (which other work on the machine lengthens less), what was asked, and what the parts cost
that no command of ours can do without. The pot through time is measured twice: with an empty folder for
compiled code, as after installing, and later.
"""

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 9
MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")
LIGHT, FLOW, FIRST = 0.5, 1.5, 20.0

COMMANDS = [
    (("moisture", "--mass", "14kg", "--at", "30%", "--to", "50%"), LIGHT),
    (("packs", "sphagnum peat", "--need", "168L", "--pack", "3.8 cu ft"), LIGHT),
    (("materials", "perlite"), LIGHT),
    (("job", "--into", "round 17/12/13 cm", "--headspace", "1.5cm", "--count", "60", MIX), LIGHT),
    (("pot-test", "--container", "round 15/11/12.5 cm", "--water-in", "1110mL", "--drained", "270mL"), LIGHT),
    (("mix", MIX, *POT), LIGHT),
    (("mix", MIX, *POT, "--drainage-layer", "3 cm gravel"), LIGHT),
]
WATER = ("water", MIX, *POT, "--climate", "temperate glasshouse summer", "--plant", "foliage")


def seconds(code: str, *arguments: str, **environment: str) -> tuple[float, float]:
    """Return how long one process takes, by the clock and of the processor."""
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", code, *arguments],
        check=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=os.environ | environment,
    )
    clock, after = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
    return clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measured(code: str, *arguments: str, **environment: str) -> str:
    """Return fastest, median and least processor time of several runs, after one to warm up."""
    seconds(code, *arguments, **environment)
    runs = [seconds(code, *arguments, **environment) for _run in range(RUNS)]
    clock = sorted(one for one, _processor in runs)
    least = min(processor for _clock, processor in runs)
    return f"{clock[0]:6.2f} s{statistics.median(clock):6.2f} s{least:9.2f} s"


def main() -> None:
    """Print one line for each."""
    friable = "from friable.cli.main import run; run()"
    print(f"{'':44s}fastest  median  processor  asked")
    for code in ("pass", "import typer", "import typer, numpy", "import typer, numpy, numba"):
        print(f"{'python -c ' + repr(code):44s}{measured(code, OPENBLAS_NUM_THREADS='1')}")
    for arguments, asked in COMMANDS:
        print(
            f"{('friable ' + ' '.join(arguments))[:43]:44s}{measured(friable, *arguments)}  under {asked:g} s"
        )
    with tempfile.TemporaryDirectory() as empty:
        place = {"NUMBA_CACHE_DIR": str(Path(empty) / "compiled")}
        clock, processor = seconds(friable, *WATER, **place)
        said = f"{clock:6.2f} s{'':8s}{processor:9.2f} s"
        print(f"{'friable water, first after installing':44s}{said}  under {FIRST:g} s")
        print(f"{'friable water, later':44s}{measured(friable, *WATER, **place)}  under {FLOW:g} s")


if __name__ == "__main__":
    main()
