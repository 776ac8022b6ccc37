"""A bench with a mix, two pots, a bucket and a mixer, in a real browser."""

import os

import pytest
from tests import cast

from friable.records import actions


@pytest.fixture(scope="session", autouse=True)
def _database_beside_the_browser():
    """The browser's event loop runs already when the test database is made."""
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    yield
    os.environ.pop("DJANGO_ALLOW_ASYNC_UNSAFE", None)


@pytest.fixture
def bench(live_server):
    """The address of a bench that has what a job needs."""
    cast.potting_on()
    cast.bucket()
    actions.add_mixer("drum", by=cast.KEEPER, working_l=60)
    return live_server.url
