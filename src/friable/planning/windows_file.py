"""Windows in a TOML file, for a find that no group of the tables stands for.

title = "Bench of seedlings"
container = "round 9/6/8.5 cm"
watered = "every morning"

[window.air_space]
low = "20 %"
high = 0.35

[window.lime]
allowed = ["no", "sometimes"]
"""

import tomllib
from dataclasses import dataclass
from typing import Any

from friable.errors import BadFile, FriableError, shown
from friable.planning.typed_text import MAX_TEXT, plain
from friable.planning.window_typed import window_end
from friable.reference.windows import FLAGS, NUMBERS, SHARES, Window, label
from friable.wording import gettext as _

TOP = ("title", "container", "watered", "window")
NUMBER_KEYS = ("low", "high", "note")
FLAG_KEYS = ("allowed", "note")


@dataclass(frozen=True, slots=True)
class WindowsFile:
    """Windows that someone typed, and the pot and care in which they hold; "" where none is said."""

    title: str
    windows: tuple[Window, ...]
    container: str = ""
    watered: str = ""


def read_windows(text: str) -> WindowsFile:
    """Read windows from TOML.

    Raises
    ------
    BadFile
        If it is no TOML, holds no window, or has keys that are not known.
    BadText, BadQuantity
        If an end cannot be read, is impossible, or the ends are out of order.
    """
    if len(text) > MAX_TEXT:
        raise BadFile(
            _("The windows file has {count} characters; the most is {most}.").format(
                count=f"{len(text):,}", most=f"{MAX_TEXT:,}"
            )
        )
    document = _document(text)
    for key in document:
        if key not in TOP:
            raise BadFile(
                _("The windows file has “{key}” at its top; known are: {keys}.").format(
                    key=shown(key), keys=", ".join(TOP)
                )
            )
    tables = document.get("window")
    if not isinstance(tables, dict) or not tables:
        raise BadFile(
            _('The windows file holds no window; write [window.air_space] and below it low = "20 %".')
        )
    return WindowsFile(
        title=_words(document, "title") or _("windows of a file"),
        windows=tuple(_window(quantity, table) for quantity, table in tables.items()),
        container=_words(document, "container"),
        watered=_words(document, "watered"),
    )


def _document(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as problem:
        raise BadFile(
            _("The windows file cannot be read as TOML: {problem}.").format(
                problem=shown(str(problem).rstrip("."))
            )
        ) from None
    except (ValueError, RecursionError):
        raise BadFile(
            _("The windows file cannot be read as TOML: a number or a list in it is beyond all measure.")
        ) from None


def _words(table: dict[str, Any], key: str) -> str:
    value = table.get(key, "")
    if not isinstance(value, str):
        raise BadFile(_("The windows file has “{key}” that is not text.").format(key=key))
    return " ".join(plain(value, key).split()) if value.strip() else ""


def _window(quantity: str, table: Any) -> Window:
    if quantity not in (*NUMBERS, *FLAGS):
        raise BadFile(
            _("The windows file sets “{quantity}”, which no window is set for; known are: {names}.").format(
                quantity=shown(quantity), names=", ".join((*NUMBERS, *FLAGS))
            )
        )
    if not isinstance(table, dict):
        raise _bad(quantity, _("is not a table; write [window.{quantity}]").format(quantity=quantity))
    keys = FLAG_KEYS if quantity in FLAGS else NUMBER_KEYS
    for key in table:
        if key not in keys:
            raise _bad(
                quantity,
                _("has “{key}”, which is not known; known are: {keys}").format(
                    key=shown(key), keys=", ".join(keys)
                ),
            )
    return Window(
        quantity=quantity,
        low=_end(quantity, table["low"]) if "low" in table else None,
        high=_end(quantity, table["high"]) if "high" in table else None,
        allowed=_allowed(quantity, table["allowed"]) if "allowed" in table else (),
        how_known="keeper",
        source="keeper",
        note=_words(table, "note"),
    )


def _allowed(quantity: str, value: Any) -> tuple[str, ...]:
    words = [value] if isinstance(value, str) else value
    if not (isinstance(words, list) and words and all(isinstance(word, str) for word in words)):
        raise _bad(quantity, _('has an “allowed” that is no list of words, such as ["no", "sometimes"]'))
    return tuple(dict.fromkeys(" ".join(word.casefold().split()) for word in words))


def _end(quantity: str, value: Any) -> float:
    if isinstance(value, str):
        what = _("an end of the window of {quantity}").format(quantity=label(quantity))
        return window_end(quantity, value, what)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise _bad(quantity, _("has an end that is neither a number nor text"))
    try:
        end = float(value)
    except OverflowError:
        raise _bad(quantity, _("has an end beyond all measure")) from None
    if quantity in SHARES and end > 1:
        raise _bad(
            quantity,
            _('has an end of {end:g}, which is no share; write 20 % as 0.2 or "20 %"').format(end=end),
        )
    return end


def _bad(quantity: str, problem: str) -> FriableError:
    return BadFile(_("The window “{quantity}” {problem}.").format(quantity=shown(quantity), problem=problem))
