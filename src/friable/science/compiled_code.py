"""Where compiled loops are kept between runs, so that they are compiled once after installing.

Numba would keep them beside the source, which may be read-only, and would not notice that a module which a
kept one builds on has changed. Here they lie in a folder of the user's own, named after the content of every
module they are written in and the versions that compiled them. What is kept is code that will be run: a
folder that others own or may write to is never used.
"""

import atexit
import hashlib
import os
import shutil
import stat
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from importlib.metadata import version
from pathlib import Path

VARIABLE = "NUMBA_CACHE_DIR"
COMPILED_BY = ("numba", "llvmlite", "numpy")
OLD_DAYS = 30
EXPECTED_SECONDS = 20
_SCIENCE = Path(__file__).parent
_WRITTEN_IN = ("flow/*.py", "search/*.py", "packing.py")


def load_compiler() -> None:
    """Load Numba, told where to keep what it compiles, and without what our loops do not use.

    Nothing here multiplies matrices; for that alone Numba would load SciPy's linear algebra, which takes
    longer than to load a finished solver. Its question whether there is one is answered with no.
    """
    choose_folder()
    if "numba.np.arraymath" in sys.modules:
        return
    from numba.np import linalg

    asked = linalg.ensure_blas
    linalg.ensure_blas = _no_linear_algebra
    try:
        import numba.np.arraymath  # noqa: F401 - asks when it is loaded
    finally:
        linalg.ensure_blas = asked
    _register_once()


def _register_once() -> None:
    """Let Numba enter what it can compile in one go.

    Left to itself it begins anew with each of some 250 entries while it is still at the first.
    """
    from numba.core.registry import cpu_target

    context = cpu_target.target_context
    again = context.refresh
    context.refresh = _not_again
    try:
        type(context).refresh(context)
    finally:
        del context.refresh
    again()


def _not_again() -> None:
    """Stand for a second beginning."""


def _no_linear_algebra() -> None:
    raise ImportError


def choose_folder() -> Path:
    """Choose the folder for compiled code, make it and tell Numba; before Numba is loaded, or after.

    $NUMBA_CACHE_DIR as it stands; else below $XDG_CACHE_HOME or ~/.cache; else below $FRIABLE_DATA; else a
    folder for this process alone.
    """
    if not os.environ.get(VARIABLE, "").strip():
        os.environ[VARIABLE] = str(_own_folder())
    folder = Path(os.environ[VARIABLE])
    if (config := sys.modules.get("numba.core.config")) is not None:
        config.CACHE_DIR = str(folder)  # type: ignore[attr-defined]  # read once, when it was loaded
    return folder


@contextmanager
def first_use(what: str, say: Callable[[int], None]) -> Iterator[None]:
    """Call `say` with the seconds it may take if this is the first use here; remember it once it is done.

    Parameters
    ----------
    what : str
        Which loops are used, one word: each is compiled when it is first used.
    say : callable
        Takes the seconds.
    """
    marker = choose_folder() / f"ready-{what}"
    known = marker.exists()
    if not known:
        say(EXPECTED_SECONDS)
    yield
    if not known:
        with suppress(OSError):
            marker.parent.mkdir(parents=True, exist_ok=True)
            marker.touch()


def fingerprint() -> str:
    """Return a name for the loops as they stand: other code, or other versions, another name."""
    digest = hashlib.sha256()
    for path in sorted(path for written in _WRITTEN_IN for path in _SCIENCE.glob(written)):
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    digest.update(" ".join(version(name) for name in COMPILED_BY).encode())
    digest.update(sys.version.encode())
    return digest.hexdigest()[:16]


def _own_folder() -> Path:
    """Return a folder that only this user can write to, made if it does not exist."""
    name = f"compiled-{fingerprint()}"
    for place in _places():
        folder = place / name
        with suppress(OSError, RuntimeError):
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            if _is_ours(place) and _is_ours(folder):
                tempfile.TemporaryFile(dir=folder).close()
                _clear_old(place, folder)
                return folder
    alone = Path(tempfile.mkdtemp(prefix="friable-compiled-"))
    atexit.register(shutil.rmtree, alone, ignore_errors=True)
    return alone


def _places() -> Iterator[Path]:
    named = os.environ.get("XDG_CACHE_HOME", "").strip()
    if named and Path(named).is_absolute():
        yield Path(named) / "friable"
    else:
        with suppress(RuntimeError):  # nobody's home
            yield Path.home() / ".cache" / "friable"
    if data := os.environ.get("FRIABLE_DATA", "").strip():
        yield Path(data).expanduser().absolute() / "compiled-cache"


def _is_ours(folder: Path) -> bool:
    status = folder.lstat()
    return (
        stat.S_ISDIR(status.st_mode)
        and status.st_uid == os.getuid()
        and not status.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
    )


def _clear_old(place: Path, in_use: Path) -> None:
    """Remove what older loops have left and nobody has used for a month."""
    os.utime(in_use)
    for folder in place.glob("compiled-*"):
        if folder != in_use and folder.lstat().st_mtime < time.time() - OLD_DAYS * 86_400:
            shutil.rmtree(folder, ignore_errors=True)
