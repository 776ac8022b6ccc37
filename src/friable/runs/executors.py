"""Where blocks are worked out: in processes of this machine, or on a cluster by its address."""

import os
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any, TypeVar

from friable.errors import BadQuantity, Refused, shown
from friable.runs.worker import prepare
from friable.wording import gettext as _

Result = TypeVar("Result")
MOST_WORKERS = 256
WAIT_FOR_CLUSTER_S = 20
# Read when a process starts: one thread each, and no heap of its own for every thread.
ENVIRONMENT = {
    "MALLOC_ARENA_MAX": "1",
    "NUMBA_NUM_THREADS": "1",
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "MKL_NUM_THREADS": "1",
}
_environment = threading.Lock()


@dataclass(frozen=True, slots=True)
class Workers:
    """An executor, how many blocks it works at, and how many to give it at a time."""

    executor: Executor
    count: int
    window: int


class SeparateProcesses(Executor):
    """Worker processes that stand apart: when one is killed, the others go on with what they are at.

    (A pool of several processes ends all of them when one dies.) A process that was lost is started again
    for the next piece of work; the work it was at fails with `BrokenExecutor`.
    """

    def __init__(self, workers: int) -> None:
        self._pools: list[ProcessPoolExecutor | None] = [None] * workers
        self._given = [0] * workers
        self._lock = threading.Lock()

    def submit(self, fn: Callable[..., Result], /, *args: Any, **kwargs: Any) -> "Future[Result]":
        """Give work to the process that has least."""
        with self._lock:
            place = self._given.index(min(self._given))
            self._given[place] += 1
        future: Future[Result]
        try:
            try:
                future = self._pool(place).submit(fn, *args, **kwargs)
            except BrokenExecutor:  # lost while it had nothing to do
                self._pools[place] = None
                future = self._pool(place).submit(fn, *args, **kwargs)
        except BaseException:
            self._taken_back(place)
            raise
        future.add_done_callback(lambda ended: self._ended(place, ended))
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """End all processes."""
        for pool in self._pools:
            if pool is not None:
                pool.shutdown(wait=wait, cancel_futures=cancel_futures)

    def _pool(self, place: int) -> ProcessPoolExecutor:
        pool = self._pools[place]
        if pool is None:
            pool = self._pools[place] = _one_process()
        return pool

    def _ended(self, place: int, future: "Future[Any]") -> None:
        if not future.cancelled() and isinstance(future.exception(), BrokenExecutor):
            self._pools[place] = None
        self._taken_back(place)

    def _taken_back(self, place: int) -> None:
        with self._lock:
            self._given[place] -= 1


def _one_process() -> ProcessPoolExecutor:
    with _environment:
        before = {name: os.environ.get(name) for name in ENVIRONMENT}
        os.environ.update(ENVIRONMENT)
        try:
            pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=prepare)
            pool.submit(os.getpid)  # the process starts with the first piece of work
        finally:
            for name, value in before.items():
                if value is None:
                    del os.environ[name]
                else:
                    os.environ[name] = value
    return pool


@contextmanager
def local(workers: int | None = None) -> Iterator[Workers]:
    """Work in processes of this machine, by default as many as it has processors for us.

    Raises
    ------
    BadQuantity
        If the number of workers is out of range.
    """
    count = len(os.sched_getaffinity(0)) if workers is None else workers
    if not 1 <= count <= MOST_WORKERS:
        raise BadQuantity(_("number of workers"), count, "", _("from 1 to {most}").format(most=MOST_WORKERS))
    executor = SeparateProcesses(count)
    try:
        yield Workers(executor, count, count)
    finally:
        executor.shutdown(wait=False, cancel_futures=True)


@contextmanager
def cluster(address: str) -> Iterator[Workers]:
    """Work on a Dask cluster whose scheduler has this address, such as tcp://192.0.2.7:8786.

    Raises
    ------
    Refused
        If the part for clusters is not installed, nothing answers there, or it has no workers.
    """
    try:
        from distributed import Client
    except ImportError:
        raise Refused(
            _("A cluster needs a part that is not installed; install it with: pip install distributed.")
        ) from None
    try:
        client = Client(address, timeout=WAIT_FOR_CLUSTER_S, set_as_default=False)
    except (OSError, ValueError, TimeoutError):
        raise Refused(
            _("No cluster answers at {address}; look up the address of its scheduler.").format(
                address=shown(address)
            )
        ) from None
    with client:
        try:
            client.wait_for_workers(1, timeout=WAIT_FOR_CLUSTER_S)
        except TimeoutError:
            raise Refused(
                _("The cluster at {address} has no workers; start some.").format(address=shown(address))
            ) from None
        threads = sum(client.nthreads().values())
        yield Workers(client.get_executor(pure=False), threads, 2 * threads)


def worker_was_lost(problem: BaseException) -> bool:
    """Say whether work failed because its worker did, and not by its own fault."""
    return isinstance(problem, BrokenExecutor | CancelledError | ConnectionError) or type(
        problem
    ).__module__.startswith("distributed")
