"""The bibliography: where every figure of the tables comes from."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from friable.wording import gettext as _

TABLES = Path(__file__).parent / "tables"
BIBLIOGRAPHY = "sources.toml"
_HEADING = re.compile(r"^\[([\w.-]+)\][ \t]*(?:#.*)?$", re.MULTILINE)

UNDATED = "n.d."  # the page shows no year
KINDS = ("published", "memory", "common practice", "derived", "worked here")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One source, how much of it was read, and how far we trust it."""

    key: str
    title: str
    kind: str = "published"
    authors: tuple[str, ...] = ()
    year: str = ""  # "n.d." where the page shows none
    published_in: str = ""
    seen_at: str = ""  # address
    seen_what: str = ""  # abstract, table page, ...
    trust: str = ""
    note: str = ""

    def __str__(self) -> str:
        if self.kind != "published":
            return self.title
        who = ", ".join(self.authors)
        head = " ".join(part for part in (who, "" if self.year == UNDATED else self.year) if part)
        parts = [part.rstrip(".") for part in (head, self.title, self.published_in) if part]
        return " ".join(part if part.endswith("?") else f"{part}." for part in parts)


@cache
def _sections(folder: Path) -> dict[str, str]:
    """Return the text under each heading; only what is asked for is parsed, for the whole takes long."""
    text = (folder / BIBLIOGRAPHY).read_text(encoding="utf-8")
    before, *found = _HEADING.split(text)
    keys = found[::2]
    if len(set(keys)) != len(keys) or _written(before):
        raise LookupError(f"{BIBLIOGRAPHY}: a key stands twice, or something stands before the first key.")
    return dict(zip(keys, found[1::2], strict=True))


def _written(text: str) -> bool:
    return any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines())


@cache
def _parsed(key: str, folder: Path) -> Source:
    try:
        entry = tomllib.loads(_sections(folder)[key])
        entry["authors"] = tuple(entry.get("authors", ()))
        entry["year"] = str(entry.get("year", ""))
        found = Source(key=key, **entry)
    except (TypeError, tomllib.TOMLDecodeError) as problem:
        raise LookupError(f"{BIBLIOGRAPHY} [{key}]: {problem}.") from None
    if found.kind not in KINDS:
        raise LookupError(f"{BIBLIOGRAPHY} [{key}]: kind must be one of {', '.join(KINDS)}.")
    return found


def source(key: str, folder: Path = TABLES) -> Source:
    """Return a source by its key.

    Raises
    ------
    LookupError
        If the bibliography has no such key, or its entry cannot be read.
    """
    if key not in _sections(folder):
        raise LookupError(_("{file} has no source “{key}”.").format(file=BIBLIOGRAPHY, key=key))
    return _parsed(key, folder)


def all_sources(folder: Path = TABLES) -> tuple[Source, ...]:
    """Return the whole bibliography, in the order of the file."""
    return tuple(_parsed(key, folder) for key in _sections(folder))


def cited(keys: str) -> str:
    """Return the sources named by `key;key` as one readable line."""
    return "; ".join(str(source(key.strip())) for key in keys.split(";") if key.strip())
