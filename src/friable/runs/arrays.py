"""Arrays and plain values in one file, checked when they are read."""

import json
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

import numpy as np

from friable.errors import BadFile, shown
from friable.runs.disk import write_whole
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

FACTS = "facts"


def write_arrays(
    path: Path, facts: Mapping[str, Any], arrays: "Mapping[str, NDArray[Any]]", *, packed: bool = True
) -> None:
    """Write plain values and arrays to one file (.npz), whole or not at all.

    Raises
    ------
    NoRoom, Refused
        If it cannot be written.
    """
    text = np.frombuffer(json.dumps(facts).encode(), dtype=np.uint8)

    def write(file: IO[bytes]) -> None:
        save = np.savez_compressed if packed else np.savez
        save(file, allow_pickle=False, **{FACTS: text}, **arrays)

    write_whole(path, write)


def read_arrays(path: Path) -> "tuple[dict[str, Any], dict[str, NDArray[Any]]]":
    """Return the plain values and the arrays of a file.

    Raises
    ------
    FileNotFoundError
        If it is not there.
    BadFile
        If it is torn, or no such file. Every array carries a checksum.
    """
    try:
        with np.load(path, allow_pickle=False) as kept:
            arrays = {name: kept[name] for name in kept.files}
        facts = json.loads(arrays.pop(FACTS).tobytes())
    except FileNotFoundError:
        raise
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error, NotImplementedError):
        raise BadFile(_("{file} is damaged.").format(file=shown(path.name))) from None
    if not isinstance(facts, dict):
        raise BadFile(_("{file} is damaged.").format(file=shown(path.name)))
    return facts, arrays
