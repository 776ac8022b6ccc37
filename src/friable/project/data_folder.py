"""Where what is written at the bench is kept: one folder that only its owner can read."""

import os
from pathlib import Path

from friable.errors import Refused
from friable.wording import gettext as _

DATABASE_NAME = "friable.sqlite3"
SECRET_NAME = "secret-key"  # noqa: S105 - the name of the file, not what is in it


def data_folder() -> Path:
    """Return the folder for the database, whether or not it exists yet.

    It is $FRIABLE_DATA; else `var` in the source checkout; else `~/.local/share/friable`.
    """
    named = os.environ.get("FRIABLE_DATA", "").strip()
    if named:
        return Path(named).expanduser().resolve()
    checkout = Path(__file__).resolve().parents[3]
    if (checkout / "manage.py").is_file() and (checkout / "pyproject.toml").is_file():
        return checkout / "var"
    return Path.home() / ".local" / "share" / "friable"


def database_file() -> Path:
    """Return where the SQLite file stands, whether or not it exists yet."""
    return data_folder() / DATABASE_NAME


def make_data_folder() -> Path:
    """Make the folder, readable by its owner only, and return it."""
    folder = data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        if folder.stat().st_uid == os.getuid() and folder.stat().st_mode & 0o077:
            folder.chmod(0o700)
    except OSError as problem:
        raise Refused(
            _("{folder} cannot be used for the data ({reason}); name another folder in FRIABLE_DATA.").format(
                folder=folder, reason=problem.strerror
            )
        ) from problem
    return folder


def keep_private(file: Path) -> None:
    """Let only its owner read the database and the files SQLite keeps beside it."""
    for part in (file, Path(f"{file}-wal"), Path(f"{file}-shm"), Path(f"{file}-journal")):
        try:
            mode = part.stat()
        except FileNotFoundError:
            continue
        if mode.st_uid == os.getuid() and mode.st_mode & 0o077:
            part.chmod(0o600)


def secret_key() -> str:
    """Return the key that signs sessions, made at the first run and kept in the data folder."""
    folder = make_data_folder()
    file = folder / SECRET_NAME
    if not file.exists():
        import secrets  # here, for commands only ask where the data stands
        import tempfile

        # Written whole beside it, then linked: of two processes that start together, one key wins.
        handle, name = tempfile.mkstemp(dir=folder, prefix=SECRET_NAME)
        with os.fdopen(handle, "w") as written:
            written.write(secrets.token_urlsafe(50))
        try:
            os.link(name, file)
        except FileExistsError:
            pass
        finally:
            Path(name).unlink()
    return file.read_text().strip()
