"""Write, cut the power, start again, look: nothing that was said to be saved may be missing.

    python benchmarks/soak.py [--minutes 3]

Eight people start potting jobs at the real server as fast as they can; every few seconds all its
processes are killed (SIGKILL) and it is started again, with a backup made in between.  At the end
`friable check` must find the data sound, and every job whose saving was answered must be there.
"""

import argparse
import http.client
import random
import sqlite3
import sys
import tempfile
import threading
import time
from contextlib import closing
from pathlib import Path

from serving import Server, Visitor

PEOPLE = 8
LOOKED_AT = ("/", "/batches/", "/jobs/new")


class Worker(threading.Thread):
    """Someone who starts jobs, and notes each that was answered as saved."""

    def __init__(self, server: Server, name: str, stop: threading.Event) -> None:
        super().__init__(daemon=True)
        self.server, self.initials, self.stop_asked = server, name, stop
        self.saved: list[str] = []
        self.unexpected: list[str] = []
        self.cut = 0

    def run(self) -> None:
        while not self.stop_asked.is_set():
            try:
                self._work()
            except (OSError, http.client.HTTPException):
                self.cut += 1  # the power was cut under this request
                time.sleep(0.3)

    def _work(self) -> None:
        visitor = Visitor(self.server.port)
        visitor.ask("GET", "/initials")
        visitor.ask("POST", "/initials", {"initials": self.initials, "next": "/"})
        while not self.stop_asked.is_set():
            visitor.ask("GET", "/jobs/new")
            title = f"{self.initials} {len(self.saved)} {random.getrandbits(32):08x}"
            status, text, _took = visitor.ask("POST", "/jobs/new", {"title": title, "due_on": "", "note": ""})
            if status == 302:
                self.saved.append(title)
            elif status != 503:
                self.unexpected.append(f"{status} {text[:300]}")
            status, text, _took = visitor.ask("GET", random.choice(LOOKED_AT))
            if status != 200:
                self.unexpected.append(f"{status} {text[:300]}")
            time.sleep(random.uniform(0.02, 0.2))


def soak(minutes: float) -> int:
    """Run, print what happened, and return the code to leave with."""
    server, stop = Server(), threading.Event()
    server.load_demo()
    server.start()
    people = [Worker(server, f"P{number}", stop) for number in range(PEOPLE)]
    for person in people:
        person.start()
    until, kills, starts, backups = time.monotonic() + 60 * minutes, 0, [], 0
    with tempfile.TemporaryDirectory() as kept:
        while time.monotonic() < until:
            time.sleep(random.uniform(4, 10))
            done = server.friable("backup", str(Path(kept) / "backup"), "--replace")
            assert done.returncode == 0, done.stderr
            backups += 1
            server.kill()
            kills += 1
            starts.append(server.start())
        stop.set()
        for person in people:
            person.join(timeout=30)
        checked = server.friable("check")
        with closing(sqlite3.connect(server.folder / "friable.sqlite3")) as database:
            there = {row[0] for row in database.execute("SELECT title FROM records_pottingjob")}
    saved = [title for person in people for title in person.saved]
    lost = [title for title in saved if title not in there]
    unexpected = [said for person in people for said in person.unexpected]
    print(f"{minutes:g} min, {PEOPLE} people: {kills} kills, {backups} backups, {len(saved)} jobs saved")
    print(f"requests cut off: {sum(person.cut for person in people)}; slowest start {max(starts):.1f} s")
    print(f"lost: {len(lost)}; unexpected answers: {len(unexpected)}; memory {server.memory_mb():.0f} MB")
    print(f"check: {checked.stdout.strip() or checked.stderr.strip()}")
    for said in unexpected[:3]:
        print(said)
    server.stop()
    return 1 if lost or unexpected or checked.returncode else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--minutes", type=float, default=3)
    sys.exit(soak(parser.parse_args().minutes))
