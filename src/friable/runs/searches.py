"""Searches: each in a process of its own and a folder of its own, two at a time, the others in line.

A folder holds the question, what the process tells of itself, and the answer, which is there whole or not
at all. The lock of the folder ends with the process, so that one that was killed is noticed. What lies in
the folders was written by this program; nobody else may write there.
"""

import json
import pickle
import re
import secrets
import shutil
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from friable.errors import BadFile, Refused, shown
from friable.runs.disk import room_said, write_whole
from friable.runs.lock import is_held
from friable.wording import gettext as _

FOLDER = "searches"
QUESTION, ANSWER, TOLD, STOP, LOG = "question.pickle", "answer.pickle", "told.json", "stop", "log.txt"
WORKER = (sys.executable, "-m", "friable.runs.search_worker")
FORM = 1

BEGINNING, WAITING, RUNNING, DONE, STOPPED, FAILED, LOST = (
    "beginning", "waiting", "running", "done", "stopped", "failed", "lost",
)  # fmt: skip
AT_WORK = {BEGINNING, WAITING, RUNNING}
MOST_AT_ONCE = 2
MOST_IN_LINE = 10
KEPT_S = 24 * 60 * 60
KEPT = 50
PATIENCE_S = 60  # until a process that was begun must have told something

KEY = re.compile(r"[0-9a-f]{18}")


@dataclass(frozen=True, slots=True)
class Question:
    """What is searched for: the kind of search, what it takes, and what was typed, to be shown again."""

    kind: str
    arguments: Mapping[str, Any]
    typed: Mapping[str, Sequence[str]] = field(default_factory=dict)
    title: str = ""
    form: int = FORM


@dataclass(frozen=True, slots=True)
class Told:
    """How far a search is; `ahead` counts those before it in line."""

    state: str
    done: int = 0
    total: int = 0
    seconds: float = 0.0
    problem: str = ""
    ahead: int = 0

    @property
    def at_work(self) -> bool:
        """True while it waits or runs."""
        return self.state in AT_WORK


def begin(root: Path, question: Question, *, command: Sequence[str] | None = None) -> str:
    """Begin a search in a process of its own and return its key.

    Parameters
    ----------
    root : Path
        Folder of all searches; it is made if it is not there.
    command : sequence of str, optional
        What is run, with the folder as its last argument; the worker of this package, if not given.

    Raises
    ------
    Refused
        If too many wait in line, the folder cannot be written, or no process can be begun.
    """
    sweep(root)
    if len(at_work(root)) >= MOST_AT_ONCE + MOST_IN_LINE:
        raise Refused(
            _("{count} searches wait in line already; look again in a minute, or stop one.").format(
                count=MOST_IN_LINE
            )
        )
    key = f"{time.time_ns() // 1_000_000:012x}{secrets.token_hex(3)}"
    folder = root / key
    with room_said(root):
        root.mkdir(parents=True, exist_ok=True, mode=0o700)
        folder.mkdir(mode=0o700)
    try:
        write_whole(folder / QUESTION, lambda file: pickle.dump(question, file), lasting=False)
        with room_said(folder), (folder / LOG).open("ab") as log:
            subprocess.Popen(  # noqa: S603  # our own program, and a folder that we named
                [*(command or WORKER), str(folder)],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=log,
                cwd=root,
                start_new_session=True,
            )
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return key


def folder_of(root: Path, key: str) -> Path | None:
    """Return the folder of a search; None if there is none, or no longer."""
    folder = root / key
    return folder if KEY.fullmatch(key) and (folder / QUESTION).exists() else None


def look(folder: Path) -> Told:
    """Return how far a search is; one whose process ended without a word is told as lost."""
    told = read_told(folder)
    if told is None:
        waited_s = time.time() - begun_at(folder)
        return Told(BEGINNING) if waited_s < PATIENCE_S else Told(LOST, problem=_last_words(folder))
    if told.at_work and not is_held(folder):
        told = read_told(folder) or told  # it may have ended in this moment
        if told.at_work:
            return replace(told, state=LOST, problem=_last_words(folder))
    return replace(told, ahead=len(ahead_of(folder))) if told.state == WAITING else told


def stop(folder: Path) -> None:
    """Ask a search to stop; nothing of it is kept but the question."""
    with suppress(FileNotFoundError):
        (folder / STOP).touch()


def asked_to_stop(folder: Path) -> bool:
    """True if somebody asked the search to stop; also if its folder is gone."""
    return (folder / STOP).exists() or not folder.exists()


def read_question(folder: Path) -> Question:
    """Return what is searched for.

    Raises
    ------
    BadFile
        If it is damaged or of another version.
    """
    question = _read(folder / QUESTION)
    if not isinstance(question, Question) or question.form != FORM:
        raise BadFile(_("This search was asked of another version of friable; ask it again."))
    return question


def read_answer(folder: Path) -> Any:
    """Return what a search found; None while there is nothing.

    Raises
    ------
    BadFile
        If it is damaged or of another version.
    """
    return _read(folder / ANSWER) if (folder / ANSWER).exists() else None


def write_answer(folder: Path, answer: object) -> None:
    """Keep what a search found, whole or not at all.

    Raises
    ------
    Refused
        If the disk is full or read-only.
    """
    write_whole(folder / ANSWER, lambda file: pickle.dump(answer, file))


def read_told(folder: Path) -> Told | None:
    """Return what the process of a search told last; None if it has told nothing."""
    try:
        return Told(**json.loads((folder / TOLD).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None


def write_told(folder: Path, told: Told) -> None:
    """Tell how far a search is."""
    text = json.dumps(asdict(told)).encode()
    write_whole(folder / TOLD, lambda file: file.write(text), lasting=False)


def at_work(root: Path) -> list[Path]:
    """Return the folders of the searches that wait or run, first come first."""
    return [folder for folder in _folders(root) if _is_at_work(folder)]


def ahead_of(folder: Path) -> list[Path]:
    """Return the folders of the searches that came before one and still wait, or run."""
    return [other for other in _folders(folder.parent) if other.name < folder.name and _is_at_work(other)]


def sweep(root: Path, *, now: float | None = None) -> None:
    """Take away searches that are older than a day, and the oldest beyond fifty; none that is at work."""
    now = time.time() if now is None else now
    idle = [folder for folder in _folders(root) if not _is_at_work(folder)]
    for place, folder in enumerate(reversed(idle)):
        if place >= KEPT or now - begun_at(folder) > KEPT_S:
            shutil.rmtree(folder, ignore_errors=True)


def begun_at(folder: Path) -> float:
    """Return when a search was asked for, in seconds since 1970; its name says it."""
    return int(folder.name[:12], 16) / 1000


def _folders(root: Path) -> list[Path]:
    try:
        return sorted(folder for folder in root.iterdir() if KEY.fullmatch(folder.name))
    except OSError:
        return []


def _is_at_work(folder: Path) -> bool:
    told = read_told(folder)
    if told is None:
        return time.time() - begun_at(folder) < PATIENCE_S
    return told.at_work and is_held(folder)


def _read(path: Path) -> Any:
    try:
        with path.open("rb") as file:
            return pickle.load(file)  # noqa: S301  # written by this program into its own private folder
    except (OSError, pickle.UnpicklingError, EOFError, AttributeError, ImportError, TypeError, ValueError):
        raise BadFile(
            _("{file} of this search is damaged or of another version; ask it again.").format(
                file=shown(path.name)
            )
        ) from None


def _last_words(folder: Path) -> str:
    try:
        lines = (folder / LOG).read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        lines = []
    return shown(next((line for line in reversed(lines) if line.strip()), ""))
