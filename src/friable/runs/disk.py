"""Files that are either whole or not there, and a full disk said in one sentence."""

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from friable.errors import Refused, shown
from friable.wording import gettext as _

NO_ROOM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}


class NoRoom(Refused):
    """The disk is full; what was written before stays."""


@contextmanager
def room_said(place: Path) -> Iterator[None]:
    """Turn a full or read-only disk into a refusal that says where, and that nothing is lost."""
    try:
        yield
    except OSError as problem:
        if problem.errno in NO_ROOM:
            raise NoRoom(
                _(
                    "There is no room left at {place}; what was worked out so far is kept. Make room, and go "
                    "on with the same folder."
                ).format(place=shown(place))
            ) from problem
        raise Refused(
            _("{place} cannot be written ({reason}); choose another folder.").format(
                place=shown(place), reason=os.strerror(problem.errno) if problem.errno else str(problem)
            )
        ) from problem


def write_whole(path: Path, write: Callable[[IO[bytes]], object], *, lasting: bool = True) -> None:
    """Write a file under another name and give it its own once it is whole.

    Parameters
    ----------
    path : Path
    write : callable
        Gets the open file.
    lasting : bool
        Whether to wait until the disk holds it.

    Raises
    ------
    NoRoom, Refused
        If it cannot be written; the old file stays as it was.
    """
    half = path.with_name(f".{path.name}.{os.getpid()}.half")
    with room_said(path.parent):
        try:
            with half.open("wb") as file:
                write(file)
                file.flush()
                if lasting:
                    os.fsync(file.fileno())
            half.replace(path)
            if lasting:
                sync_folder(path.parent)
        except BaseException:
            with suppress(OSError):
                half.unlink(missing_ok=True)
            raise


def sync_folder(folder: Path) -> None:
    """Ask the disk to keep the names in a folder."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def clear_halves(folder: Path) -> None:
    """Take away what a run that was cut off left half written."""
    for half in folder.glob(".*.half"):
        with suppress(OSError):
            half.unlink()
