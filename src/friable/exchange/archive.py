"""The backup file: a zip that holds the database and a manifest saying what it is."""

import hashlib
import json
import re
import zipfile
import zlib
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import IO, Any

from friable.errors import BadFile
from friable.wording import gettext as _

# What the zip library raises at a damaged part: an unknown way of packing is its NotImplementedError,
# a locked part its RuntimeError.
TORN_INSIDE = (ValueError, EOFError, NotImplementedError, RuntimeError, zlib.error)

FORMAT = "friable backup"
FORMAT_VERSION = 1
MANIFEST_NAME = "manifest.json"
DATABASE_NAME = "friable.sqlite3"
LARGEST_MANIFEST_BYTES = 1_000_000
PIECE_BYTES = 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """What a backup says of itself."""

    friable_version: str
    made_at: str  # ISO 8601, UTC
    migrations: tuple[str, ...]  # steps of the schema, as `app.name`
    database_bytes: int
    database_sha256: str

    def to_json(self) -> str:
        """Return the manifest as it stands in the file."""
        head = {"format": FORMAT, "format_version": FORMAT_VERSION}
        return json.dumps({**head, **asdict(self)}, indent=2) + "\n"


def write_archive(target: IO[bytes], manifest: Manifest, database: Path) -> None:
    """Write a backup to an open file."""
    with zipfile.ZipFile(target, "w", compression=zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        archive.writestr(MANIFEST_NAME, manifest.to_json())
        archive.write(database, DATABASE_NAME)


def read_manifest(file: Path) -> Manifest:
    """Return what a backup says of itself; refuse a file that is torn, foreign or newer."""
    try:
        with zipfile.ZipFile(file) as archive:
            names = sorted(archive.namelist())
            if MANIFEST_NAME not in names:
                raise _foreign(file)
            if archive.getinfo(MANIFEST_NAME).file_size > LARGEST_MANIFEST_BYTES:
                raise _foreign(file)
            said = json.loads(archive.read(MANIFEST_NAME))
    except FileNotFoundError as problem:
        raise BadFile(_("There is no file {file}.").format(file=file)) from problem
    except OSError as problem:
        raise BadFile(
            _("{file} cannot be read: {problem}.").format(file=file, problem=problem.strerror)
        ) from problem
    except zipfile.BadZipFile as problem:
        raise _torn_or_foreign(file) from problem
    except TORN_INSIDE as problem:
        raise _torn(file) from problem
    manifest = _understood(said, file)
    if names != sorted([MANIFEST_NAME, DATABASE_NAME]):
        raise _foreign(file)
    return manifest


def _understood(said: Any, file: Path) -> Manifest:
    if not isinstance(said, dict) or said.get("format") != FORMAT:
        raise _foreign(file)
    version = said.get("format_version")
    if isinstance(version, int) and version > FORMAT_VERSION:
        raise BadFile(
            _(
                "{file} was made by a newer friable (backup format {version}); use that one to restore it."
            ).format(file=file, version=version)
        )
    texts = (said.get("friable_version"), said.get("made_at"), said.get("database_sha256"))
    migrations, size = said.get("migrations"), said.get("database_bytes")
    if (
        version != FORMAT_VERSION
        or not all(isinstance(text, str) for text in texts)
        or not isinstance(migrations, list)
        or not all(isinstance(step, str) for step in migrations)
        or not isinstance(size, int)
        or not re.fullmatch(r"[0-9a-f]{64}", str(said.get("database_sha256")))
    ):
        raise _foreign(file)
    return Manifest(
        friable_version=said["friable_version"],
        made_at=said["made_at"],
        migrations=tuple(migrations),
        database_bytes=size,
        database_sha256=said["database_sha256"],
    )


def unpack_database(file: Path, manifest: Manifest, target: Path) -> None:
    """Unpack the database of a backup, and refuse it unless it is byte for byte what the manifest says."""
    digest, size = hashlib.sha256(), 0
    try:
        with (
            zipfile.ZipFile(file) as archive,
            archive.open(DATABASE_NAME) as packed,
            target.open("xb") as out,
        ):
            target.chmod(0o600)
            while piece := packed.read(PIECE_BYTES):
                size += len(piece)
                if size > manifest.database_bytes:
                    raise _torn(file)
                digest.update(piece)
                out.write(piece)
    except (zipfile.BadZipFile, *TORN_INSIDE) as problem:
        raise _torn(file) from problem
    if size != manifest.database_bytes or digest.hexdigest() != manifest.database_sha256:
        raise _torn(file)


def sha256_of(file: Path) -> str:
    """Return the SHA-256 of a file in hexadecimal."""
    with file.open("rb") as read:
        return hashlib.file_digest(read, "sha256").hexdigest()


def _torn(file: Path) -> BadFile:
    return BadFile(
        _("{file} is damaged; the data in use was left as it is. Take another backup file.").format(file=file)
    )


def _foreign(file: Path) -> BadFile:
    return BadFile(
        _("{file} is not a backup of friable; the data in use was left as it is.").format(file=file)
    )


def _torn_or_foreign(file: Path) -> BadFile:
    with file.open("rb") as read:
        looks_like_a_zip = read.read(2) == b"PK"
    return _torn(file) if looks_like_a_zip else _foreign(file)
