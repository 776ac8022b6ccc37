"""Files and standard input as the user names them, read with a limit."""

import sys
from pathlib import Path
from typing import BinaryIO

from friable.errors import BadFile, shown
from friable.wording import gettext as _

MOST_BYTES = 1_000_000
STANDARD_INPUT = "-"


def read_text(name: str, what: str) -> str:
    """Return the text of a file, or of standard input for “-”.

    Raises
    ------
    BadFile
        If there is no such file, it is larger than 1 MB, or it is no UTF-8 text.
    """
    return _decoded(read_bytes(name, what), _called(name, what))


def read_bytes(name: str, what: str, most: int = MOST_BYTES) -> bytes:
    """Return what is in a file, or on standard input for “-”.

    Raises
    ------
    BadFile
        If there is no such file, or it is larger than `most` bytes.
    """
    called = _called(name, what)
    if name == STANDARD_INPUT:
        return _limited(sys.stdin.buffer, called, most)
    path = Path(name)
    try:
        if path.is_dir():
            raise BadFile(_("The {file} is a folder; name a file in it.").format(file=called))
        with path.open("rb") as file:
            return _limited(file, called, most)
    except FileNotFoundError:
        raise BadFile(
            _("The {file} does not exist; check its name and folder.").format(file=called)
        ) from None
    except PermissionError:
        raise BadFile(_("The {file} may not be read by you; ask its owner.").format(file=called)) from None
    except (OSError, ValueError):
        raise BadFile(_("The {file} cannot be read.").format(file=called)) from None


def _called(name: str, what: str) -> str:
    return _("standard input") if name == STANDARD_INPUT else f"{what} “{shown(name)}”"


def _limited(file: BinaryIO, called: str, most: int) -> bytes:
    content = file.read(most + 1)
    if len(content) > most:
        if most == MOST_BYTES:
            raise BadFile(
                _("The {file} is larger than 1 MB, which no recipe or pot list is.").format(file=called)
            )
        raise BadFile(
            _("The {file} is larger than {most:g} MB; give one year.").format(file=called, most=most / 1e6)
        )
    return content


def _decoded(content: bytes, called: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadFile(_("The {file} is not text in UTF-8; save it as such.").format(file=called)) from None
