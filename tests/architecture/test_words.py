"""Quantities are explained in the glossary; what is cited is in the list of sources."""

import ast
import re
import tomllib

from tests.architecture.tree import CHECKOUT, PACKAGE, modules, parsed, shown

UNITS = re.compile(r"_(l|cm|kg|g|mm|g_cm3|g_per_l|per_cm)$")
CITATION = re.compile(r"\[([a-z][a-z0-9\-]*)\]_")


def quantities() -> dict[str, str]:
    """Public fields and properties with a unit in their names, and where each stands first."""
    found: dict[str, str] = {}
    for path in modules("science", "planning"):
        for node in ast.walk(parsed(path)):
            if not isinstance(node, ast.ClassDef) or node.name.startswith("_"):
                continue
            for part in node.body:
                name = ""
                if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name):
                    name = part.target.id
                elif isinstance(part, ast.FunctionDef):
                    name = part.name
                if not name.startswith("_") and UNITS.search(name):
                    found.setdefault(name, f"{shown(path)} {node.name}")
    return found


def explained() -> dict[str, str]:
    """Quantities in the glossary and what is said of each: lines that begin with a name in back-quotes."""
    text = (CHECKOUT / "docs" / "glossary.md").read_text()
    entries: dict[str, str] = {}
    for line in text.splitlines():
        if match := re.match(r"\|\s*`(\w+)`\s*\|(.*)\|\s*$", line):
            entries[match[1]] = match[2].strip()
    return entries


def test_every_quantity_is_in_the_glossary():
    entries = explained()
    missing = {name: where for name, where in quantities().items() if name not in entries}

    assert missing == {}


def test_every_entry_of_the_glossary_has_a_meaning_and_a_unit():
    entries = explained()
    assert entries
    for name, said in entries.items():
        meaning, _bar, rest = said.partition("|")
        assert len(meaning.strip()) > 8, name
        assert rest.strip(), f"{name} has no unit"


def test_every_source_cited_in_the_science_is_in_the_list_of_sources():
    known = tomllib.loads((PACKAGE / "reference" / "tables" / "sources.toml").read_text())
    cited = {
        (key, shown(path))
        for path in modules("science", "planning", "reference")
        for key in CITATION.findall(path.read_text())
    }

    assert {(key, where) for key, where in cited if key not in known} == set()
