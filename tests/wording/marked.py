"""Translation that marks: every message it is asked for comes back between ⟦ and ⟧.

What a reader sees outside the marks was never offered for translation. Data stays outside them, too: names
out of the records and the tables, numbers, units, titles of publications.
"""

import csv
import re
from collections.abc import Iterable
from html.parser import HTMLParser
from pathlib import Path

import friable

OPEN, CLOSE = "⟦", "⟧"
ATTRIBUTES = ("placeholder", "aria-label", "title", "alt", "aria-description", "content")
NOT_READ = {"script", "style"}
# Symbols of units, the same in every language (SI, and the inch-pound units that people type).
UNITS = {
    "L", "mL", "cm", "mm", "m", "g", "kg", "t", "h", "min", "s", "dS", "mS", "EC", "pH", "cu", "ft",
    "in", "lb", "x", "e", "d", "C", "MJ", "m²",
}  # fmt: skip
FEW = 8
TABLES = Path(friable.__file__).parent / "reference" / "tables"


def mark(message: str) -> str:
    """Return a message between marks; an empty one stays empty, as with any translator."""
    return f"{OPEN}{message}{CLOSE}" if str(message).strip() else message


def unmarked(text: str) -> str:
    """Return what stands outside all marks."""
    depth, outside, opened = 0, [], 0
    for place, char in enumerate(text):
        if char == OPEN:
            opened = opened if depth else place
            depth += 1
        elif char == CLOSE:
            depth -= 1
            outside.append(" | ")
        elif depth == 0:
            outside.append(char)
    if depth:
        outside.append(f" cut in two: {text[opened : opened + 200]}")
    return "".join(outside)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.inside: list[str] = []
        self.seen: list[str] = []
        self.attributes: list[str] = []

    def handle_starttag(self, tag, attrs):
        said = dict(attrs)
        if tag == "meta" and said.get("name") != "description":
            return
        self.attributes += [said[name] for name in ATTRIBUTES if said.get(name)]
        if tag == "input" and said.get("type") in {"submit", "button"}:
            self.attributes.append(said.get("value") or "")
        if tag in NOT_READ:
            self.inside.append(tag)

    def handle_endtag(self, tag):
        if self.inside and self.inside[-1] == tag:
            self.inside.pop()

    def handle_data(self, data):
        if not self.inside:
            self.seen.append(data)


def words_outside(page: str, data: "Data") -> list[str]:
    """Return the visible texts and attributes of a page that are neither marked nor data."""
    reader = _Reader()
    reader.feed(page)
    outside = unmarked("\x00".join(reader.seen)).replace("|", "\x00")
    return data.strangers([*outside.split("\x00"), *(unmarked(text) for text in reader.attributes)])


class Data:
    """What may stand unmarked because it is data, not wording."""

    def __init__(self, texts: Iterable[str]) -> None:
        known = {" ".join(str(text).split()) for text in texts}
        known |= {text[0].upper() + text[1:] for text in known if text}  # as sentences begin
        self.texts = sorted((text for text in known if re.search(r"[^\W\d_]", text)), key=len, reverse=True)

    def strangers(self, found: Iterable[str]) -> list[str]:
        """Return those of the texts that hold a word which is neither data nor a unit."""
        return [text for text in (" ".join(one.split()) for one in found) if self._is_strange(text)]

    def _is_strange(self, text: str) -> bool:
        if not re.search(r"[^\W\d_]", text):
            return False
        for known in self.texts:
            if known in text:
                text = re.sub(rf"(?<!\w){re.escape(known)}(?!\w)", " ", text)
        return any(word not in UNITS for word in re.findall(r"[^\W\d_]+", text))


def texts_of_tables() -> set[str]:
    """Every text in the tables of figures; cautions and statements among them are data for now."""
    from friable.reference.sources import all_sources

    found: set[str] = set()
    for file in sorted(TABLES.glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as lines:
            rows = list(csv.DictReader(line for line in lines if not line.startswith("# ")))
        for column in rows[0]:
            texts = {row[column] or "" for row in rows}
            if not _are_codes(texts):
                found |= texts | {piece for text in texts for piece in re.split(r"[;.](?: |$)", text)}
    for source in all_sources():
        found |= {source.key, str(source), source.title, source.seen_at, source.seen_what, source.trust}
        found |= {source.note, source.published_in, ", ".join(source.authors), *source.authors}
        found |= {f"{source.title[:57].rstrip()}…", source.year}
    return found


def _are_codes(texts: set[str]) -> bool:
    """Say whether a column holds one of a few words, which a page must say in words of its own."""
    return len(texts) <= FEW and all(re.fullmatch(r"[a-z ]*", text) for text in texts)


def texts_of_records() -> set[str]:
    """Every text in the records."""
    from django.apps import apps

    found: set[str] = set()
    for model in apps.get_app_config("records").get_models():
        names = [
            field.name for field in model._meta.concrete_fields
            if field.get_internal_type() in {"CharField", "TextField", "SlugField"} and not field.choices
        ]  # fmt: skip
        for row in model.objects.values_list(*names) if names else ():
            found.update(str(value) for value in row if value)
    return found
