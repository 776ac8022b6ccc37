"""What the tests of the pages share: a browser without scripts, on shift or not."""

import pytest
from django.test import Client
from tests import cast


def browser(**options) -> Client:
    """Return a browser on this machine."""
    return Client(headers={"host": "127.0.0.1"}, **options)


def on_shift(client: Client, initials: str = cast.HELPER) -> Client:
    """Begin a shift with this client."""
    answer = client.post("/initials", {"initials": initials, "next": "/"})
    assert answer.status_code == 302
    return client


@pytest.fixture
def helper(db):
    """The helper's browser, on shift."""
    return on_shift(browser())


@pytest.fixture
def stranger(db):
    """A browser in which nobody has said who is on shift."""
    return browser()


@pytest.fixture
def strict(db):
    """A browser whose forms must come from our pages, as in real life."""
    return browser(enforce_csrf_checks=True)


def text_of(answer) -> str:
    """Return an answer's page."""
    return answer.content.decode()


@pytest.fixture
def nothing_begun(settings, tmp_path, monkeypatch):
    """Searches have a folder of their own and no process; a test does their work itself."""
    from friable.runs import searches

    settings.DATA_FOLDER = tmp_path
    monkeypatch.setattr(searches, "WORKER", ("true",))
