"""A bench with a data folder of its own, driven from outside like the real one: by processes."""

import json
import os
import resource
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

import pytest

COMMANDS = """
import sys, typer
from friable.cli import keep
app = typer.Typer(pretty_exceptions_enable=False)
keep.register(app)
app()
"""

START = """
import os, sys
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "friable.project.settings")
import django
django.setup()
"""

# Two buckets in one transaction: a copy with half a pair is not sound.
WRITER = (
    START
    + """
from django.db import transaction
from friable.records.models import Bucket
who, pair = sys.argv[1], 0
while True:
    with transaction.atomic():
        Bucket.objects.create(name=f"{who}-{pair}-left", line_l=10)
        Bucket.objects.create(name=f"{who}-{pair}-right", line_l=10)
    print(f"{who}-{pair}", flush=True)
    pair += 1
"""
)


@dataclass
class Bench:
    """A data folder and the commands that work on it."""

    folder: Path
    environment: dict[str, str] = field(default_factory=dict)

    @property
    def live(self) -> Path:
        return self.folder / "friable.sqlite3"

    def _environment(self) -> dict[str, str]:
        return {**os.environ, "FRIABLE_DATA": str(self.folder), **self.environment}

    def run(self, code: str, *arguments: object, largest_file_bytes: int | None = None):
        """Run Python with this bench's data; return what it did."""

        def limit() -> None:
            if largest_file_bytes is not None:
                resource.setrlimit(resource.RLIMIT_FSIZE, (largest_file_bytes, largest_file_bytes))

        return subprocess.run(
            [sys.executable, "-c", code, *map(str, arguments)],
            env=self._environment(),
            capture_output=True,
            text=True,
            timeout=120,
            preexec_fn=limit,
        )

    def friable(self, *arguments: object, largest_file_bytes: int | None = None):
        return self.run(COMMANDS, *arguments, largest_file_bytes=largest_file_bytes)

    def start_writer(self, who: str) -> "Writer":
        told = self.folder.with_name(f"{who}.told")
        with told.open("w") as out:
            process = subprocess.Popen(
                [sys.executable, "-c", WRITER, who],
                env=self._environment(),
                stdout=out,
                stderr=subprocess.STDOUT,
            )
        return Writer(process, told)

    def add_pairs(self, who: str, how_many: int, note: str = "") -> None:
        done = self.run(
            START
            + """
from django.db import transaction
from friable.records.models import Bucket
who, how_many, note = sys.argv[1], int(sys.argv[2]), sys.argv[3]
with transaction.atomic():
    Bucket.objects.bulk_create(
        Bucket(name=f"{who}-{pair}-{side}", line_l=10, note=note)
        for pair in range(how_many) for side in ("left", "right"))
""",
            who,
            how_many,
            note,
        )
        assert done.returncode == 0, done.stderr


@dataclass
class Writer:
    """A process that writes pairs until it is stopped, and notes each when it is saved."""

    process: subprocess.Popen
    notes: Path

    def told(self) -> list[str]:
        """The pairs it was told are saved."""
        return self.notes.read_text().split("\n")[:-1]

    def wait_for_more(self) -> None:
        """Wait until it has saved another pair."""
        already, give_up_at = len(self.told()), time.monotonic() + 60
        while len(self.told()) <= already:
            assert self.process.poll() is None, self.notes.read_text()
            assert time.monotonic() < give_up_at
            time.sleep(0.05)

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()


def buckets(file: Path) -> list[str]:
    """The names of the buckets in a database."""
    with closing(sqlite3.connect(file)) as database:
        return sorted(row[0] for row in database.execute("SELECT name FROM records_bucket"))


def pairs(file: Path) -> set[str]:
    """The pairs in a database, after making sure that none is torn and that the file is sound."""
    with closing(sqlite3.connect(file)) as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
    names = buckets(file)
    left = {name.removesuffix("-left") for name in names if name.endswith("-left")}
    right = {name.removesuffix("-right") for name in names if name.endswith("-right")}
    assert left == right
    return left


def sentence(done) -> str:
    """The one sentence of a refusal."""
    assert done.returncode == 2, done
    assert done.stdout == ""
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


def answer(done) -> dict:
    """What a command answered in JSON."""
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.fixture(scope="session")
def new_bench(tmp_path_factory):
    """A data folder with an empty database, made once and copied."""
    folder = tmp_path_factory.mktemp("new") / "data"
    bench = Bench(folder)
    done = bench.run(START + "from friable.exchange import schema; schema.bring_up_to_date()")
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="session")
def backed_up_bench(new_bench, tmp_path_factory):
    """A data folder with the pairs a-0 to a-2, and the backup of it, made once and copied."""
    folder = tmp_path_factory.mktemp("backed-up")
    shutil.copytree(new_bench, folder / "data")
    bench = Bench(folder / "data")
    bench.add_pairs("a", 3)
    assert bench.friable("backup", folder / "backup").returncode == 0
    return folder


@pytest.fixture
def bench(new_bench, tmp_path):
    """A bench with no data in its database."""
    shutil.copytree(new_bench, tmp_path / "data")
    return Bench(tmp_path / "data")


@pytest.fixture
def other_bench(new_bench, tmp_path):
    """A second one."""
    shutil.copytree(new_bench, tmp_path / "other")
    return Bench(tmp_path / "other")
