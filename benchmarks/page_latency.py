"""How long a page takes while ten people work, and how much memory the server uses.

    python benchmarks/page_latency.py [--seconds 30] [--people 10] [--every 2]

The real server runs on a free port of this machine with the invented glasshouse.  Each person acts
every two seconds: mostly changes a recipe or a pot and waits for the live answer (each change is
another recipe, so nothing is answered from memory of an earlier one), now and then opens a page.
"""

import argparse
import os
import random
import statistics
import sys
import threading
import time
from collections import defaultdict

from serving import Server, Visitor

MATERIALS = (
    "pine bark nursery",
    "sphagnum peat medium",
    "perlite coarse",
    "coir pith",
    "wood fibre",
    "horticultural sand medium",
)
PAGES = ("bench", "job-new", "mix-list", "mix-write", "material-list", "container-list", "batch-list")


def addresses(server: Server) -> dict[str, str]:
    """Return where the pages stand."""
    os.environ["FRIABLE_DATA"] = str(server.folder)
    os.environ["DJANGO_SETTINGS_MODULE"] = "friable.project.settings"
    import django
    from django.urls import reverse

    django.setup()
    return {name: reverse(name) for name in (*PAGES, "mix-answer")}


def another_recipe(chance: random.Random) -> dict[str, str]:
    """Return what someone types: three materials, any parts, any pot."""
    named = chance.sample(MATERIALS, 3)
    top, height = chance.randint(9, 30), chance.randint(7, 28)
    return {
        "recipe": " + ".join(f"{chance.randint(1, 9)} {name}" for name in named),
        "container": f"round {top}/{top - 3}/{height} cm",
        "headspace": f"{chance.choice((1, 1.5, 2))} cm",
    }


class Person(threading.Thread):
    """Someone at work, with a browser of their own."""

    def __init__(
        self, number: int, server: Server, where: dict[str, str], until: float, every: float
    ) -> None:
        super().__init__()
        self.chance, self.server, self.where = random.Random(number), server, where
        self.until, self.every = until, every
        self.took: dict[str, list[float]] = defaultdict(list)
        self.refused: list[str] = []

    def run(self) -> None:
        visitor = Visitor(self.server.port)
        visitor.ask("GET", self.where["mix-write"])
        time.sleep(self.chance.uniform(0, self.every))
        while time.monotonic() < self.until:
            began = time.monotonic()
            self._act(visitor)
            time.sleep(max(0.0, self.every - (time.monotonic() - began)))

    def _act(self, visitor: Visitor) -> None:
        if self.chance.random() < 0.8:
            asked, name = another_recipe(self.chance), "live answer"
            status, text, took = visitor.ask("POST", self.where["mix-answer"], asked, htmx=True)
            if status == 405:
                status, text, took = visitor.ask("GET", self.where["mix-answer"], asked, htmx=True)
        else:
            name = "other pages"
            status, text, took = visitor.ask("GET", self.where[self.chance.choice(PAGES)])
        self.took[name].append(took)
        if status != 200:
            self.refused.append(f"{status} {text[:400]}")


def measure(people: int, seconds: float, every: float) -> int:
    """Measure, print, and return the code to leave with."""
    server = Server()
    try:
        server.load_demo()
        first = server.start()
        Visitor(server.port).ask("GET", "/")
        server.process.send_signal(2)
        server.process.wait(timeout=20)
        again = server.start()
        where = addresses(server)
        until = time.monotonic() + seconds
        crowd = [Person(number, server, where, until, every) for number in range(people)]
        for person in crowd:
            person.start()
        most_mb = 0.0
        while any(person.is_alive() for person in crowd):
            time.sleep(1)
            most_mb = max(most_mb, server.memory_mb())
        print(
            f"start: first {first:.1f} s, second {again:.1f} s; {people} people, each acts every {every:g} s"
        )
        for name in ("live answer", "other pages"):
            took = sorted(1000 * t for person in crowd for t in person.took[name])
            median, p95 = statistics.median(took), took[min(len(took) - 1, int(0.95 * len(took)))]
            print(f"{name}: {len(took)} times, median {median:.0f} ms, 95 of 100 within {p95:.0f} ms")
        print(f"memory of the server, all processes, shared pages once: {most_mb:.0f} MB")
        refused = [said for person in crowd for said in person.refused]
        for said in refused[:3]:
            print(said)
        return 1 if refused else 0
    finally:
        server.stop()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--people", type=int, default=10)
    parser.add_argument("--every", type=float, default=2)
    said = parser.parse_args()
    sys.exit(measure(said.people, said.seconds, said.every))
