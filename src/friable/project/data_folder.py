"""Where what is written at the bench is kept: one folder that only its owner can read."""

import os
import secrets
import tempfile
from pathlib import Path

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
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if folder.stat().st_uid == os.getuid() and folder.stat().st_mode & 0o077:
        folder.chmod(0o700)
    return folder


def make_database_file() -> Path:
    """Make an empty database file for its owner only; SQLite gives its side files the same mode."""
    file = make_data_folder() / DATABASE_NAME
    os.close(os.open(file, os.O_RDWR | os.O_CREAT, 0o600))
    if file.stat().st_uid == os.getuid() and file.stat().st_mode & 0o077:
        file.chmod(0o600)
    return file


def secret_key() -> str:
    """Return the key that signs sessions, made at the first run and kept in the data folder."""
    folder = make_data_folder()
    file = folder / SECRET_NAME
    if not file.exists():
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
