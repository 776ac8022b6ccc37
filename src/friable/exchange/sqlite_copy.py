"""Copies of an SQLite database that are whole, whoever writes to it meanwhile."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from friable.errors import BadFile, Refused
from friable.wording import gettext as _

WAIT_FOR_WRITER_S = 20.0
# Result codes of SQLite and of the system for "no room left".
_NO_ROOM_WORDS = ("disk is full", "disk i/o error")


def open_existing(file: Path) -> sqlite3.Connection:
    """Open a database for reading and writing; never make one."""
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True, timeout=WAIT_FOR_WRITER_S)


@contextmanager
def no_room_said(place: Path) -> Iterator[None]:
    """Turn a full disk into a refusal that says where, and that nothing was changed."""
    try:
        yield
    except sqlite3.OperationalError as problem:
        if any(words in str(problem).lower() for words in _NO_ROOM_WORDS):
            raise Refused(_no_room(place)) from problem
        raise
    except OSError as problem:
        reason = os.strerror(problem.errno) if problem.errno else str(problem)
        raise Refused(
            _(
                "{place} cannot be written ({reason}); nothing was changed. Make room or choose another."
            ).format(place=place, reason=reason)
        ) from problem


def _no_room(place: Path) -> str:
    return _(
        "There is no room left at {place}; nothing was changed. Make room or choose another place."
    ).format(place=place)


def copy_database(source: Path, copy: Path) -> None:
    """Copy a database that others may be writing to, as it stood at one moment, to a single file.

    The online backup of SQLite reads all pages inside one read transaction; in WAL mode writers go on.
    """
    os.close(os.open(copy, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
    with closing(open_existing(source)) as live, closing(sqlite3.connect(copy)) as written:
        live.backup(written, pages=-1)
        written.execute("PRAGMA journal_mode=DELETE")
    sync(copy)


def sync(path: Path) -> None:
    """Ask the disk to keep a file, or the names in a folder, before going on."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def faults(file: Path) -> list[str]:
    """List what SQLite itself finds wrong: torn pages, broken constraints, dangling references."""
    try:
        with closing(open_existing(file)) as database:
            found = [row[0] for row in database.execute("PRAGMA integrity_check(20)") if row[0] != "ok"]
            dangling = database.execute("PRAGMA foreign_key_check").fetchmany(20)
    except sqlite3.DatabaseError as problem:
        return [str(problem)]
    found += [
        _("row {row} of {table} points to a row of {other} that is not there").format(
            row=row, table=table, other=other
        )
        for table, row, other, _number in dangling
    ]
    return found


def migrations_in(file: Path) -> list[str]:
    """List the steps of its schema, as `app.name`, in the order in which they were applied."""
    with closing(open_existing(file)) as database:
        try:
            rows = database.execute("SELECT app, name FROM django_migrations ORDER BY id").fetchall()
        except sqlite3.DatabaseError as problem:
            raise BadFile(_("This is not a database of friable.")) from problem
    return [f"{app}.{name}" for app, name in rows]
