"""One verified file with everything in it, made while the server runs."""

import errno
import os
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from friable import __version__
from friable.errors import Refused
from friable.exchange import archive, schema, sqlite_copy
from friable.wording import gettext as _

_NO_LINKS = {errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK}


def back_up(target: Path, *, replace: bool = False) -> archive.Manifest:
    """Write a backup of the database in use; return what it says of itself.

    The file appears under its name only when it is whole, verified and on the disk.

    Raises
    ------
    Refused
        If the file exists and `replace` is false, there is no room, there is no data yet, the
        data is damaged, or it stands in PostgreSQL.
    """
    live = schema.live_sqlite_file()
    if not live.is_file() or live.stat().st_size == 0:
        raise Refused(
            _("There is no data yet at {place}, so there is nothing to back up.").format(place=live)
        )
    if target.is_dir():
        raise Refused(_("{file} is a folder; name a file in it.").format(file=target))
    if target.exists() and not replace:
        raise _exists(target)
    if target.exists() and target.samefile(live):
        raise Refused(_("{file} is the database in use; choose another name.").format(file=target))
    folder = target.resolve().parent
    if not folder.is_dir():
        raise Refused(_("There is no folder {folder}; make it, or choose another.").format(folder=folder))
    with (
        sqlite_copy.no_room_said(folder),
        tempfile.TemporaryDirectory(prefix=".friable-backup-", dir=folder) as work,
    ):
        return _write(live, Path(work), target, replace)


def _write(live: Path, work: Path, target: Path, replace: bool) -> archive.Manifest:
    copy, packed = work / archive.DATABASE_NAME, work / "backup"
    sqlite_copy.copy_database(live, copy)
    if faults := sqlite_copy.faults(copy):
        raise Refused(
            _(
                "The database is damaged ({fault}), so no backup was written; restore the last good one."
            ).format(fault=faults[0])
        )
    manifest = archive.Manifest(
        friable_version=__version__,
        made_at=datetime.now(UTC).isoformat(timespec="seconds"),
        migrations=tuple(sqlite_copy.migrations_in(copy)),
        database_bytes=copy.stat().st_size,
        database_sha256=archive.sha256_of(copy),
    )
    with open(os.open(packed, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600), "w+b") as out:
        archive.write_archive(out, manifest, copy)
        out.flush()
        os.fsync(out.fileno())
    copy.unlink()
    # What was written is read back before it gets its name.
    archive.unpack_database(packed, archive.read_manifest(packed), work / "read-back")
    _give_its_name(packed, target, replace)
    sqlite_copy.sync(target.resolve().parent)
    return manifest


def _give_its_name(packed: Path, target: Path, replace: bool) -> None:
    if replace:
        os.replace(packed, target)
        return
    try:
        os.link(packed, target)  # unlike a rename, fails if someone made the file meanwhile
    except FileExistsError as problem:
        raise _exists(target) from problem
    except OSError as problem:
        if problem.errno not in _NO_LINKS:
            raise
        if target.exists():
            raise _exists(target) from problem
        os.replace(packed, target)  # a stick without hard links


def _exists(target: Path) -> Refused:
    return Refused(
        _("{file} exists already and was left as it is; choose another name, or say --replace.").format(
            file=target
        )
    )
