"""The process of one search: `python -m friable.runs.search_worker FOLDER`.

It gives way to the pages, waits for its turn, searches, and leaves an answer or one sentence.
"""

import fcntl
import os
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from importlib import import_module
from inspect import signature
from pathlib import Path
from typing import Any

from friable.errors import FriableError, Refused
from friable.runs import searches
from friable.runs.lock import held
from friable.runs.searches import Told
from friable.wording import gettext as _

Engine = Callable[..., Any]

ENGINES = {
    "find": "friable.planning.find:find",
    "replace": "friable.planning.replacing:replace",
    "can-make": "friable.planning.can_make:can_make",
    "fewest": "friable.planning.fewest:fewest",
}
LESS_URGENT = 15  # steps of niceness below a page
LOOKED_AT_EVERY_S = 0.1
TOLD_EVERY_S = 0.25
TRIES = 20  # to take the lock of the folder, which a page holds for a moment when it looks


class Stopped(FriableError):
    """Somebody asked the search to stop."""


def work(folder: Path, engines: Mapping[str, Engine] | None = None) -> Told:
    """Work on the search of a folder until it has an answer, was stopped, or cannot be answered.

    Parameters
    ----------
    folder : Path
    engines : mapping, optional
        By the kind of search, what answers it; those of planning, if not given.

    Raises
    ------
    Refused
        If another process works in the folder.
    """
    with _held(folder):
        teller = _Teller(folder)
        try:
            question = searches.read_question(folder)
            with _turn(folder, teller):
                answer = _search(folder, question, engines, teller)
            if searches.asked_to_stop(folder):
                raise Stopped
            searches.write_answer(folder, answer)
        except Stopped:
            return teller.end(searches.STOPPED)
        except FriableError as problem:
            return teller.end(searches.FAILED, str(problem))
        except MemoryError:
            return teller.end(
                searches.FAILED,
                _("There is too little memory for this search; take fewer materials, or fewer parts."),
            )
        except Exception:
            traceback.print_exc()  # into the log of the folder
            return teller.end(
                searches.FAILED,
                _("The search broke off by a mistake of the program, kept in its log; ask in another way."),
            )
        return teller.end(searches.DONE)


def _search(folder: Path, question: searches.Question, engines: Any, teller: "_Teller") -> Any:
    engine = engines[question.kind] if engines else _engine(question.kind)
    teller.tell(state=searches.RUNNING, force=True)
    looked = _Looked(folder)

    def progress(done: int, total: int) -> None:
        teller.tell(done=int(done), total=int(total))

    calls = {"progress": progress, "cancelled": looked.asked_to_stop}
    taken = {name: call for name, call in calls.items() if name in signature(engine).parameters}
    try:
        return engine(**question.arguments, **taken)
    except FriableError:
        if looked.asked_to_stop(now=True):
            raise Stopped from None
        raise


def _engine(kind: str) -> Engine:
    if kind not in ENGINES:
        raise Refused(_("This search was asked of another version of friable; ask it again."))
    module, name = ENGINES[kind].split(":")
    return getattr(import_module(module), name)


class _Looked:
    """Looks for the wish to stop, not more often than ten times a second."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._at, self._said = folder, 0.0, False

    def asked_to_stop(self, *, now: bool = False) -> bool:
        clock = time.monotonic()
        if now or clock - self._at >= LOOKED_AT_EVERY_S:
            self._at, self._said = clock, searches.asked_to_stop(self._folder)
        return self._said


class _Teller:
    """Tells how far the search is, a few times a second."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._began = folder, time.monotonic()
        self._written = 0.0
        self._now = Told(searches.WAITING)
        self.tell(force=True)

    def tell(self, *, force: bool = False, **changes: Any) -> None:
        clock = time.monotonic()
        self._now = replace(self._now, seconds=round(clock - self._began, 2), **changes)
        if (force or clock - self._written >= TOLD_EVERY_S) and self._folder.exists():
            self._written = clock
            searches.write_told(self._folder, self._now)

    def end(self, state: str, problem: str = "") -> Told:
        self.tell(state=state, problem=problem, force=True)
        return self._now


@contextmanager
def _held(folder: Path) -> Iterator[None]:
    for attempt in range(TRIES):
        lock = held(folder)
        try:
            lock.__enter__()
        except Refused:
            if attempt == TRIES - 1:
                raise
            time.sleep(0.05)
        else:
            break
    try:
        yield
    finally:
        lock.__exit__(None, None, None)


@contextmanager
def _turn(folder: Path, teller: _Teller) -> Iterator[None]:
    """Wait until fewer than two run and nobody came before; the place is given back by the process's end."""
    while True:
        if searches.asked_to_stop(folder):
            raise Stopped
        if len(searches.ahead_of(folder)) < searches.MOST_AT_ONCE:
            for place in range(1, searches.MOST_AT_ONCE + 1):
                handle = os.open(folder.parent / f".place-{place}", os.O_RDWR | os.O_CREAT, 0o600)
                if _is_free(handle):
                    try:
                        yield
                    finally:
                        os.close(handle)
                    return
                os.close(handle)
        teller.tell()
        time.sleep(LOOKED_AT_EVERY_S)


def _is_free(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def main(folder: str, engines: Mapping[str, Engine] | None = None) -> int:
    """Give way to the pages, and work."""
    os.umask(0o077)
    os.nice(LESS_URGENT)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # its matrices are small
    return 0 if work(Path(folder), engines).state == searches.DONE else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1]))
