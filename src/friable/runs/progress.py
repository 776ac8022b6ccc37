"""How far a season is, in a small file that any process may read."""

import json
import os
import time
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from friable.runs.disk import NoRoom, write_whole
from friable.runs.lock import is_held

FILE, STOP_FILE = "progress.json", "stop"
RUNNING, STOPPED, DONE, FAILED = "running", "stopped", "done", "failed"
AT_MOST_EVERY_S = 0.25


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a season is.

    `redone` counts blocks that were begun again because a worker was lost, `torn` those found damaged on
    disk; `seconds` is the time of this run and `seconds_left` what it will still take, None while unknown.
    """

    state: str
    name: str
    pots: int
    distinct_kinds: int
    pot_days: int
    blocks: int
    done: int = 0
    redone: int = 0
    torn: int = 0
    workers: int = 0
    seconds: float = 0.0
    seconds_left: float | None = None
    pid: int = 0
    problem: str = ""
    written_at: str = ""

    @property
    def share(self) -> float:
        """Share of the blocks that are done. [0..1]"""
        return self.done / self.blocks if self.blocks else 0.0


def read_progress(folder: Path) -> Progress | None:
    """Return how far a season is, None if it was never begun.

    A run that says it is running and holds no lock any more was cut off: it is told as stopped.
    """
    try:
        said = Progress(**json.loads((folder / FILE).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None
    if said.state == RUNNING and not is_held(folder):
        return replace(said, state=STOPPED, seconds_left=None)
    return said


def ask_to_stop(folder: Path) -> None:
    """Ask the run in a folder to stop; it ends the blocks it is at, and keeps them."""
    (folder / STOP_FILE).touch()


def asked_to_stop(folder: Path) -> bool:
    """Say whether somebody asked the run to stop."""
    return (folder / STOP_FILE).exists()


def forget_stop(folder: Path) -> None:
    """Take back the wish to stop."""
    (folder / STOP_FILE).unlink(missing_ok=True)


class Reporter:
    """Writes progress, at most a few times a second."""

    def __init__(self, folder: Path, start: Progress) -> None:
        self._file = folder / FILE
        self._began = self._written = time.monotonic()
        self._done_before = start.done
        self.now = start
        self.tell(force=True)

    def tell(self, *, force: bool = False, **changes: object) -> None:
        """Change what is told, and write it if it is time."""
        self.now = replace(self.now, **changes)  # type: ignore[arg-type]  # names of its own fields
        clock = time.monotonic()
        if not force and clock - self._written < AT_MOST_EVERY_S:
            return
        self._written = clock
        seconds = clock - self._began
        fresh = self.now.done - self._done_before
        left = seconds / fresh * (self.now.blocks - self.now.done) if fresh else None
        self.now = replace(
            self.now,
            seconds=round(seconds, 1),
            seconds_left=None if left is None or self.now.state != RUNNING else round(left, 1),
            pid=os.getpid(),
            written_at=datetime.now(UTC).isoformat(timespec="seconds"),
        )
        text = json.dumps(asdict(self.now)).encode()
        try:
            write_whole(self._file, lambda file: file.write(text), lasting=False)
        except NoRoom:
            if not force:
                raise
            with suppress(OSError), self._file.open("r+b") as file:  # room that the file has already
                file.write(text)
                file.truncate()
