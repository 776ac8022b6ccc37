"""The worked stories say what the program says today, and their commands can be typed as they stand.

Figures are compared to a tenth: the last digit may differ between machines. When more differs, run
`python docs/stories/make.py` and read what changed.
"""

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "docs" / "stories"))

import make

NAMES = sorted(make.STORIES)
HEADINGS = ("The question", "What was asked", "What it says", "What the range says", "What to do")
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def read(name):
    return (make.HERE / name).read_text(encoding="utf-8")


def shown(name):
    """Return the command of a story and what it shows as the answer."""
    block = read(f"{name}.md").partition("```console\n$ friable ")[2].partition("\n```")[0]
    return re.fullmatch(r"((?:.*\\\n)*.*)\n((?:.|\n)*)", block).groups()


def rows(text):
    """Return the cells of a Markdown table."""
    return [[cell.strip() for cell in line.split("|")[1:-1]] for line in text.splitlines() if "|" in line]


def first_number(text):
    """Return the first number of a text; -1 if there is none, as in “always” and “no limit”."""
    return float(NUMBER.search(text)[0]) if NUMBER.search(text) else -1


def figure_of(label, printed):
    """Return the figure that stands behind a label of the printed answer."""
    return first_number(next(line for line in printed.splitlines() if label in line).partition(label)[2])


@pytest.mark.parametrize("name", NAMES)
def test_the_table_of_a_story_is_what_the_program_says(name):
    written = [row for row in rows(read(f"{name}.md")) if len(row) == 6]
    said = rows(make.table(make.STORIES[name]))

    assert [row[0] for row in written] == [row[0] for row in said]
    for row, row_said in zip(written[2:], said[2:], strict=True):
        for cell, cell_said in zip(row[1:], row_said[1:], strict=True):
            assert first_number(cell) == pytest.approx(first_number(cell_said), rel=0.1, abs=1), row[0]


def test_the_season_of_the_epiphytes_is_what_the_program_says():
    written = [row for row in rows(read("epiphytes.md")) if len(row) == 4]
    said = rows(make.season_table("epiphytes", "temperate glasshouse"))

    assert [row[0] for row in written] == [row[0] for row in said]
    for row, row_said in zip(written[2:], said[2:], strict=True):
        for cell, cell_said in zip(row[1:], row_said[1:], strict=True):
            assert first_number(cell) == pytest.approx(first_number(cell_said), rel=0.1, abs=0.1), row[0]


@pytest.mark.parametrize("name", NAMES)
def test_what_a_story_types_prints_what_it_shows(name, tmp_path, monkeypatch):
    monkeypatch.setenv("FRIABLE_DATA", str(tmp_path))
    typed, answer = shown(name)
    ran = subprocess.run(
        [sys.executable, "-m", "friable.cli.main", *shlex.split(typed.replace("\\\n", " "))],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )

    assert ran.stdout.splitlines()[0] == answer.splitlines()[0]
    for label in (
        "after a watering",
        "days until it is watered again",
        "poured at a watering",
        "water now  ",
    ):
        assert figure_of(label, ran.stdout) == pytest.approx(figure_of(label, answer), rel=0.1, abs=0.01)


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_of_a_story_shows_the_case_it_stands_for(name):
    written, drawn = read(f"{name}.svg"), make.drawing(name)
    titles = [re.search(r"<title[^>]*>([^<]+)", text)[1] for text in (written, drawn)]
    litres = [[float(x) for x in re.findall(r">(\d+\.\d+)<", text)] for text in (written, drawn)]

    assert titles[0] == titles[1]
    assert len(litres[0]) == 4
    assert litres[0] == pytest.approx(litres[1], rel=0.1)
    assert len(written) < 60_000
    assert f"({name}.svg)" in read(f"{name}.md")


@pytest.mark.parametrize("name", NAMES)
def test_a_story_asks_answers_weighs_the_range_and_says_what_to_do(name):
    page = read(f"{name}.md")

    assert tuple(re.findall(r"^## (.+)$", page, re.MULTILINE)) == HEADINGS
    assert not make.MARK.search(page)


def test_no_story_writes_a_figure_by_hand():
    # Weights, volumes and hours come from marks; what is typed as a command stands in code.
    for name in NAMES:
        template = make.MARK.sub("", read(f"{name}-page.txt")).replace("```", "")
        template = re.sub(r"`[^`\n]+`", "", template)
        assert not re.search(r"\d (?:kg|h)\b|\d+ L\b|\d+ hours", template), name
