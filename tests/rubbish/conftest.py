"""Runs the command line inside the test's own process, without any records."""

import pytest

from friable.cli import names_here
from friable.cli.main import main


@pytest.fixture
def refusal(capsys, monkeypatch):
    """Return a function that runs what must be refused and gives its one sentence."""
    monkeypatch.setattr(names_here, "_records_exist", lambda: False)

    def run(*arguments):
        code = main(arguments)
        said = capsys.readouterr()
        assert (code, said.out) == (2, "")
        assert said.err.count("\n") == 1
        return said.err.rstrip("\n")

    return run
