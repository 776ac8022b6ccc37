"""Runs the command line inside the test's own process; and browsers on this machine."""

import pytest
from tests.web.conftest import browser, on_shift

from friable.cli import names_here
from friable.cli.main import main


@pytest.fixture
def refusal(capsys, monkeypatch):
    """Return a function that runs what must be refused and gives its one sentence."""
    monkeypatch.setattr(names_here, "records_exist", lambda: False)

    def run(*arguments):
        code = main(arguments)
        said = capsys.readouterr()
        assert (code, said.out) == (2, "")
        assert said.err.count("\n") == 1
        return said.err.rstrip("\n")

    return run


@pytest.fixture
def helper(db):
    """The helper's browser, on shift; a crash is answered with its page, as in real life."""
    return on_shift(browser(raise_request_exception=False))


@pytest.fixture
def stranger(db):
    """A browser in which nobody has said who is on shift."""
    return browser(raise_request_exception=False)
