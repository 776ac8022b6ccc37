"""The bibliography: where every figure of the tables comes from."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from friable.wording import gettext as _

TABLES = Path(__file__).parent / "tables"
BIBLIOGRAPHY = "sources.toml"

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
def _bibliography(folder: Path) -> dict[str, Source]:
    with (folder / BIBLIOGRAPHY).open("rb") as file:
        entries = tomllib.load(file)
    found = {}
    for key, entry in entries.items():
        entry["authors"] = tuple(entry.get("authors", ()))
        entry["year"] = str(entry.get("year", ""))
        try:
            found[key] = Source(key=key, **entry)
        except TypeError as problem:
            raise LookupError(f"{BIBLIOGRAPHY} [{key}]: {problem}.") from None
        if found[key].kind not in KINDS:
            raise LookupError(f"{BIBLIOGRAPHY} [{key}]: kind must be one of {', '.join(KINDS)}.")
    return found


def source(key: str, folder: Path = TABLES) -> Source:
    """Return a source by its key.

    Raises
    ------
    LookupError
        If the bibliography has no such key.
    """
    try:
        return _bibliography(folder)[key]
    except KeyError:
        raise LookupError(_("{file} has no source “{key}”.").format(file=BIBLIOGRAPHY, key=key)) from None


def all_sources(folder: Path = TABLES) -> tuple[Source, ...]:
    """Return the whole bibliography, in the order of the file."""
    return tuple(_bibliography(folder).values())


def cited(keys: str) -> str:
    """Return the sources named by `key;key` as one readable line."""
    return "; ".join(str(source(key.strip())) for key in keys.split(";") if key.strip())
