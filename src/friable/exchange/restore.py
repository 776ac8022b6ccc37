"""Put a backup in the place of the database in use, after it has proved sound."""

import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.apps import apps
from django.core.management import call_command
from django.db import connections

from friable.errors import BadFile, Refused
from friable.exchange import archive, schema, sqlite_copy
from friable.wording import gettext as _

ALIAS = "restoring"
_DONE = (sqlite3.SQLITE_OK, sqlite3.SQLITE_DONE)


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did."""

    manifest: archive.Manifest
    kept: Path | None  # the database that was in use before
    restart_needed: bool  # the old one was too damaged to be replaced under a running server


def restore(file: Path) -> Restored:
    """Replace the database in use by a backup; the old one is kept beside it.

    Everything is verified on a copy first: the manifest, each byte, SQLite's own checks, the steps
    of the schema (an older backup is brought up to this friable there) and the tables.  Then the
    pages are written into the live file in one transaction of SQLite, so a running server sees the
    old data or the new, and a process that is killed leaves the old.

    Raises
    ------
    BadFile
        If the file is torn, foreign, unsound or from a newer friable.
    Refused
        If there is no room, a writer does not let go, or the data stands in PostgreSQL.
    """
    live = schema.live_sqlite_file()
    manifest = archive.read_manifest(file)
    schema.refuse_newer(manifest.migrations, str(file))
    with (
        sqlite_copy.no_room_said(live.parent),
        tempfile.TemporaryDirectory(prefix="restoring-", dir=live.parent) as work,
    ):
        copy = Path(work) / archive.DATABASE_NAME
        archive.unpack_database(file, manifest, copy)
        _prove_sound(copy, file)
        sqlite_copy.sync(copy)
        connections["default"].close()
        kept, restart_needed = _put_in_place(copy, live)
    return Restored(manifest, kept, restart_needed)


def _prove_sound(copy: Path, file: Path) -> None:
    if faults := sqlite_copy.faults(copy):
        raise BadFile(
            _("{file} holds a damaged database ({fault}); the data in use was left as it is.").format(
                file=file, fault=faults[0]
            )
        )
    try:
        schema.refuse_newer(sqlite_copy.migrations_in(copy), str(file))
    except BadFile as problem:
        raise _foreign(file) from problem
    with _opened_by_django(copy):
        try:
            call_command("migrate", database=ALIAS, verbosity=0, interactive=False)
        except Exception as problem:  # whatever a wrong schema makes a step fail with
            raise _foreign(file) from problem
        if _tables_missing():
            raise _foreign(file)
    if sqlite_copy.faults(copy):
        raise _foreign(file)


@contextmanager
def _opened_by_django(copy: Path) -> Iterator[None]:
    connections.databases[ALIAS] = {**connections.databases["default"], "NAME": str(copy)}
    try:
        yield
    finally:
        connections[ALIAS].close()
        del connections[ALIAS]
        del connections.databases[ALIAS]
        # Django opened it in WAL mode; one plain file again.
        with closing(sqlite_copy.open_existing(copy)) as database:
            database.execute("PRAGMA journal_mode=DELETE")


def _tables_missing() -> list[str]:
    introspection = connections[ALIAS].introspection
    missing = []
    with connections[ALIAS].cursor() as cursor:
        tables = set(introspection.table_names(cursor))
        for model in apps.get_models():
            table = model._meta.db_table
            if not model._meta.managed:
                continue
            columns = (
                {column.name for column in introspection.get_table_description(cursor, table)}
                if table in tables
                else set()
            )
            wanted = {field.column for field in model._meta.local_concrete_fields}
            missing += [f"{table}.{column}" for column in sorted(wanted - columns)]
    return missing


def _put_in_place(copy: Path, live: Path) -> tuple[Path | None, bool]:
    if not live.exists() or live.stat().st_size == 0:
        os.replace(copy, live)
        sqlite_copy.sync(live.parent)
        return None, False
    kept = schema.beside(live, "before-restore")
    try:
        _write_into(copy, live, kept)
    except sqlite3.OperationalError:
        kept.unlink(missing_ok=True)
        raise
    except sqlite3.DatabaseError:
        # The old file is no database any more: keep its bytes and put the new one where it stood.
        kept.unlink(missing_ok=True)
        shutil.copy2(live, kept)
        sqlite_copy.sync(kept)
        for side in ("-wal", "-shm"):
            if (part := Path(f"{live}{side}")).exists():
                shutil.copy2(part, f"{kept}{side}")
                part.unlink()
        os.replace(copy, live)
        sqlite_copy.sync(live.parent)
        return kept, True
    except BaseException:
        kept.unlink(missing_ok=True)
        raise
    return kept, False


def _write_into(copy: Path, live: Path, kept: Path) -> None:
    """Write the pages of a copy into the live file, in one transaction.

    The first step of SQLite's online backup takes the write lock of the target and holds it to the
    end.  The old data is copied just after that, so no write can fall between the two.
    """
    give_up_at = time.monotonic() + sqlite_copy.WAIT_FOR_WRITER_S

    def after_each_step(status: int, _left: int, _total: int) -> None:
        if status in _DONE:
            if not kept.exists():
                sqlite_copy.copy_database(live, kept)
        elif time.monotonic() > give_up_at:
            raise Refused(_("The database is in use without a pause; nothing was changed. Try again later."))

    with closing(sqlite_copy.open_existing(copy)) as new, closing(sqlite_copy.open_existing(live)) as old:
        old.execute("PRAGMA journal_mode=WAL")
        old.execute("PRAGMA synchronous=FULL")
        new.backup(old, pages=64, progress=after_each_step, sleep=0.05)


def _foreign(file: Path) -> BadFile:
    return BadFile(
        _("{file} does not hold a database of friable; the data in use was left as it is.").format(file=file)
    )
