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


@pytest.fixture(scope="session", autouse=True)
def _flow_is_compiled():
    """No page waits for the solvers to be compiled, which may outlast the patience of a browser."""
    from friable.planning.container_text import parse_container
    from friable.planning.plain_season import plain_season
    from friable.planning.watering import WateringCase, watering
    from friable.reference.materials import find_material

    pot = parse_container("round 9/6/8.5 cm").with_headspace(1)
    perlite = ((find_material("perlite coarse"), 1.0),)
    watering(
        WateringCase(parts=perlite, container=pot, climate=plain_season("temperate glasshouse summer", 30)),
        draws=0,
    )


@pytest.fixture(autouse=True)
def _patient(page):
    """Two test processes on two cores: a page may have to wait for the other one's numbers."""
    page.set_default_navigation_timeout(150_000)
    page.set_default_timeout(60_000)


@pytest.fixture
def bench(live_server):
    """The address of a bench that has what a job needs."""
    cast.potting_on()
    cast.bucket()
    actions.add_mixer("drum", by=cast.KEEPER, working_l=60)
    return live_server.url
