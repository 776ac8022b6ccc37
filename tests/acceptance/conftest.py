"""Runs the command line as a person would, in a process of its own, without any data of its own."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.fixture
def friable(tmp_path):
    """Return a function that runs `friable` and gives (exit code, standard output, standard error)."""

    def run(*arguments, stdin=None):
        done = subprocess.run(
            [sys.executable, "-m", "friable.cli.main", *arguments],
            input=stdin,
            capture_output=True,
            text=True,
            timeout=60,
            cwd=tmp_path,
            env=os.environ | {"FRIABLE_DATA": str(tmp_path / "nothing-here"), "PYTHONWARNINGS": "error"},
            check=False,
        )
        return done.returncode, done.stdout, done.stderr

    return run


@pytest.fixture
def answer(friable):
    """Return a function that runs `friable ... --json` and gives what it answers."""

    def run(*arguments, stdin=None):
        code, out, err = friable(*arguments, "--json", stdin=stdin)
        assert (code, err) == (0, ""), err
        return json.loads(out)

    return run


@pytest.fixture
def file_of(tmp_path):
    """Return a function that writes a text file and gives its path."""

    def write(name: str, text: str) -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write
