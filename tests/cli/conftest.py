"""Runs the command line inside the test's own process, without any records."""

import json
import subprocess
import sys

import pytest

from friable.cli import at_hand_typed, names_here
from friable.cli.main import main


def prepare_flow():
    """Ask for a small pot in a process of its own, so that its first use is behind us."""
    pot = ("1 perlite coarse", "--container", "round 9/6/8.5 cm", "--no-range", "--json")
    subprocess.run([sys.executable, "-m", "friable.cli.main", "water", *pot], check=True, capture_output=True)


@pytest.fixture
def friable(capsys, monkeypatch):
    """Return a function that runs `friable` and gives (exit code, standard output, standard error)."""
    for module in (names_here, at_hand_typed):
        monkeypatch.setattr(module, "records_exist", lambda: False)

    def run(*arguments):
        code = main(arguments)
        printed = capsys.readouterr()
        return code, printed.out, printed.err

    return run


@pytest.fixture
def answer(friable):
    """Return a function that runs `friable ... --json` and gives what it answers."""

    def run(*arguments):
        code, out, err = friable(*arguments, "--json")
        assert (code, err) == (0, "")
        return json.loads(out)

    return run


@pytest.fixture
def refusal(friable):
    """Return a function that runs what must be refused and gives its one sentence."""

    def run(*arguments):
        code, out, err = friable(*arguments)
        assert (code, out) == (2, "")
        assert err.endswith("\n")
        assert err.count("\n") == 1
        return err.rstrip("\n")

    return run


@pytest.fixture(scope="session")
def prepared_flow():
    """Compile the solvers once, as the first use after installing does."""
    prepare_flow()


@pytest.fixture(scope="session")
def prepared_search():
    """Compile the search once, as the first use after installing does."""
    asked = ("--for", "general, grown", "--materials", "sphagnum peat medium,perlite coarse", "--json")
    subprocess.run(
        [sys.executable, "-m", "friable.cli.main", "find", *asked], check=True, capture_output=True
    )
