"""One run a folder: a lock that ends with the process that holds it, however it ends."""

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from friable.errors import Refused, shown
from friable.runs.disk import room_said
from friable.wording import gettext as _

FILE = "lock"


@contextmanager
def held(folder: Path) -> Iterator[None]:
    """Hold the lock of a folder.

    Raises
    ------
    Refused
        If another run holds it.
    """
    with room_said(folder):
        handle = os.open(folder / FILE, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if not _take(handle):
            raise Refused(
                _("The season in {folder} is being worked out already{by}; wait for it, or stop it.").format(
                    folder=shown(folder), by=_holder(handle)
                )
            )
        with room_said(folder):
            os.ftruncate(handle, 0)
            os.pwrite(handle, str(os.getpid()).encode(), 0)
        yield
    finally:
        os.close(handle)


def is_held(folder: Path) -> bool:
    """Say whether a run works in a folder now."""
    try:
        handle = os.open(folder / FILE, os.O_RDWR)
    except OSError:
        return False
    try:
        return not _take(handle)
    finally:
        os.close(handle)


def _take(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _holder(handle: int) -> str:
    pid = os.pread(handle, 20, 0).decode(errors="replace").strip()
    return _(" by process {pid}").format(pid=pid) if pid.isdigit() else ""
