"""What a worker process does: before its first block, and for each."""

import multiprocessing
import os
import signal
import threading

from friable.errors import FriableError, Refused
from friable.planning.season_pots import BlockResult, BlockWork, Solve, run_block


def prepare() -> None:
    """Leave Ctrl-C to the process that gives out the work, and end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def work_out(work: BlockWork, solve: Solve | None) -> BlockResult:
    """Run one block. A refusal travels as its sentence, since not every error survives the way back."""
    try:
        return run_block(work, solve)
    except FriableError as problem:
        raise Refused(str(problem)) from None
