"""A season of 20,000 pots in 400 kinds, by the hour for a year, in 3 weathers and 16 draws: time and memory.

    python benchmarks/season.py [--cluster] [--kinds 400] [--days 365] [--folder FOLDER]

About seven million pot-days. Memory is the resident memory of the run and its workers together, read every
half second; with --cluster two workers of a Dask cluster on this machine, scheduler included.
"""

import argparse
import os
import shutil
import sys
import tempfile
import threading
import time
from datetime import date
from functools import partial
from pathlib import Path

from friable.planning.collection import read_collection
from friable.planning.plain_season import plain_year
from friable.planning.season import plan_season
from friable.planning.weather_variants import year_of_weathers
from friable.runs import progress
from friable.runs.executors import cluster, local
from friable.runs.season_run import keep_plan, run_season

MIXES = (
    "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse",
    "2 sphagnum peat medium + 1 perlite coarse",
    "1 coir pith + 1 perlite coarse",
    "3 pine bark nursery + 1 pumice 2-4 mm",
    "1 sphagnum peat medium + 1 horticultural sand medium",
    "4 sphagnum peat medium + 1 wood fibre",
    "2 pine bark nursery + 1 coir pith + 1 pumice 2-4 mm",
    "John Innes No. 2",
)
POTS = ("round 9/7/8 cm", "round 13/10/11 cm", "round 17/12/13 cm", "round 22/17/20 cm", "tray 50x30x5 cm")
PLANTS = ("foliage", "shrubs", "ferns", "succulents", "bedding")
HABITS = (("glass", "on need"), ("outdoors", "every 2 days"))
SEEN_EVERY_S = 0.5


def collection(kinds: int, pots: int) -> str:
    """Return a collection of distinct kinds that share the pots."""
    lines = ["group,mix,container,count,plant,place,watering"]
    every = [
        (mix, pot, plant, *habit) for mix in MIXES for pot in POTS for plant in PLANTS for habit in HABITS
    ]
    for number in range(kinds):
        mix, pot, plant, place, habit = every[number % len(every)]
        count = pots // kinds + (number < pots % kinds)
        lines.append(f'house {number % 12 + 1},"{mix}",{pot},{count},{plant},{place},{habit}')
    return "\n".join(lines)


class Memory(threading.Thread):
    """Adds up the resident memory of this process and all below it."""

    def __init__(self) -> None:
        super().__init__(daemon=True)
        self.most_mb, self.most_processes, self.over = 0.0, 0, threading.Event()
        self.processor_s: dict[int, float] = {}

    def run(self) -> None:
        """Look until it is over."""
        while not self.over.wait(SEEN_EVERY_S):
            pids = [os.getpid(), *below(os.getpid())]
            total = sum(resident_mb(pid) for pid in pids)
            self.processor_s.update({pid: processor_s(pid) for pid in pids})
            if total > self.most_mb:
                self.most_mb, self.most_processes = total, len(pids)


def below(pid: int) -> list[int]:
    """Return every process started by one, and by those."""
    found: list[int] = []
    try:
        for task in Path(f"/proc/{pid}/task").iterdir():
            for child in (task / "children").read_text().split():
                found += [int(child), *below(int(child))]
    except OSError:
        pass
    return found


def resident_mb(pid: int) -> float:
    """Return the memory that is a process's own, and its share of what it shares."""
    try:
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
            if line.startswith("Pss:"):
                return int(line.split()[1]) / 1024
    except OSError:
        pass
    return 0.0


def processor_s(pid: int) -> float:
    """Return the processor time that a process has used."""
    try:
        said = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    except OSError:
        return 0.0
    return (int(said[11]) + int(said[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Run it and print what it took."""
    ask = argparse.ArgumentParser()
    ask.add_argument("--cluster", action="store_true")
    ask.add_argument("--kinds", type=int, default=400)
    ask.add_argument("--pots", type=int, default=20_000)
    ask.add_argument("--days", type=int, default=365)
    ask.add_argument("--weathers", type=int, default=3)
    ask.add_argument("--draws", type=int, default=16)
    ask.add_argument("--folder", type=Path)
    asked = ask.parse_args()
    folder = asked.folder or Path(tempfile.mkdtemp(prefix="season-"))
    memory = Memory()
    memory.start()
    began = time.perf_counter()
    year = plain_year("outdoors", date.today().year).between(0, asked.days)
    plan = plan_season(
        read_collection(collection(asked.kinds, asked.pots)),
        year_of_weathers(year, asked.weathers),
        draws=asked.draws,
    )
    keep_plan(folder, plan)
    planned = time.perf_counter()
    if asked.cluster:
        from distributed import LocalCluster

        with LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None
        ) as started:
            answer = run_season(folder, partial(cluster, started.scheduler_address))
    else:
        answer = run_season(folder, partial(local, 2))
    ended = time.perf_counter()
    memory.over.set()
    said = progress.read_progress(folder)
    if answer is None or said is None:
        sys.exit("stopped")
    print(f"{plan.pots:,} pots, {len(plan.kinds)} kinds, {said.pot_days:,} pot-days, {plan.blocks} blocks")
    print(f"planning {planned - began:.1f} s, running {ended - planned:.1f} s, in all {ended - began:.1f} s")
    print(f"{said.pot_days / (ended - planned):,.0f} pot-days/s; memory {memory.most_mb:.0f} MB in "
          f"{memory.most_processes} processes")  # fmt: skip
    used = sum(memory.processor_s.values())
    print(f"processor time {used:.0f} s: {said.pot_days / used:,.0f} pot-days for each second of it")
    kept = sum(file.stat().st_size for file in folder.rglob("*") if file.is_file())
    print(f"kept on disk {kept / 1e6:.0f} MB; warnings: {', '.join(answer.warnings) or 'none'}")
    litres = sum(day.litres.value for day in answer.days)
    hours = sum(week.value for group in answer.groups for week in group.hours_by_week)
    print(f"{litres:,.0f} L and {hours:,.0f} h of watering; mark {plan.mark}")
    if asked.folder is None:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
