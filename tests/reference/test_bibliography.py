"""The bibliography holds what tables and docstrings cite, and nothing torn."""

import re
import tomllib
from pathlib import Path

import pytest

import friable
from friable.reference.load import read_table
from friable.reference.sources import TABLES, all_sources, cited, source

CITED = re.compile(r"\[([a-z][a-z0-9-]*\d{4}[a-z]?)\]_")


def test_every_source_says_what_it_is_and_how_much_was_read():
    for entry in all_sources():
        assert entry.title
        assert entry.trust
        if entry.kind == "published":
            assert entry.seen_what
            assert entry.year


def test_read_key_by_key_it_is_the_file_as_a_whole():
    whole = tomllib.loads((TABLES / "sources.toml").read_text(encoding="utf-8"))

    assert [entry.key for entry in all_sources()] == list(whole)
    for key, entry in whole.items():
        read = source(key)
        assert read.title == entry["title"]
        assert read.note == entry.get("note", "")
        assert list(read.authors) == entry.get("authors", [])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[a]\ntitle = "x"\n[a]\ntitle = "y"\n', "a key stands twice"),
        ('title = "x"\n', "something stands before the first key"),
        ("[a]\ntitle = x\n", r"sources.toml \[a\]: Invalid value"),
        ('[a]\ntitle = "x"\ncolour = "red"\n', r"sources.toml \[a\]: .*colour"),
        ('[a]\ntitle = "x"\nkind = "hearsay"\n', "kind must be one of"),
    ],
)
def test_a_torn_bibliography_is_refused(tmp_path, text, said):
    (tmp_path / "sources.toml").write_text(text)

    with pytest.raises(LookupError, match=said):
        all_sources(tmp_path)


def test_what_was_not_seen_is_not_trusted():
    for entry in all_sources():
        if entry.seen_what == "not seen":
            assert entry.trust == "memory", entry.key


def test_every_citation_in_the_code_is_in_the_bibliography():
    keys = {entry.key for entry in all_sources()}
    found = {
        key
        for path in Path(friable.__file__).parent.rglob("*.py")
        for key in CITED.findall(path.read_text(encoding="utf-8"))
    }

    assert found
    assert found <= keys


def test_every_row_names_a_source_that_exists():
    for path in TABLES.glob("*.csv"):
        for row in read_table(path.stem):
            for column in row.cells:
                if column == "source" or column.endswith("_source"):
                    assert cited(row[column])


def test_a_figure_from_memory_never_passes_for_seen():
    """`not seen` sources carry only figures marked as memory or estimated."""
    for path in TABLES.glob("*.csv"):
        for row in read_table(path.stem):
            for column in row.cells:
                if column == "source" or column.endswith("_source"):
                    seen = [key for key in row.list(column) if source(key).seen_what != "not seen"]
                    if not seen:
                        assert row[f"{column.removesuffix('source')}how_known"] in ("memory", "estimated")


def test_an_unknown_key_is_refused():
    with pytest.raises(LookupError, match=r"sources\.toml has no source “nobody1900”\."):
        source("nobody1900")


def test_a_source_reads_as_a_line():
    assert str(source("owen2008")) == (
        "Owen, Altland 2008. Container height and Douglas fir bark texture affect substrate physical "
        "properties. HortScience 43(2):505-508."
    )
    assert str(source("none-common-practice")) == "Common practice, no source"
