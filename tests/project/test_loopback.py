"""Friable answers this machine only."""

import pytest
from django.test import Client

from friable.project.loopback import is_own_host

pytestmark = pytest.mark.urls("tests.project.addresses")

HERE = {"HTTP_HOST": "127.0.0.1:8000", "REMOTE_ADDR": "127.0.0.1"}


OTHER_NAMES = [
    "garden.example",
    "127.0.0.1.garden.example",
    "localhost.garden.example",
    "127.0.0.1:80@garden.example",
    "0.0.0.0:8000",
    "192.168.1.20:8000",
    "127.0.0.1:",
    "[::1]x",
    "localhost:8000:8000",
    "",
]


@pytest.mark.parametrize("host", OTHER_NAMES)
def test_other_names_are_refused(host):
    """A page elsewhere can let its own name point to 127.0.0.1; its Host header gives it away."""
    answer = Client().get("/show", **{**HERE, "HTTP_HOST": host})

    assert answer.status_code == 400
    assert answer.content.decode().count("\n") == 1
    assert not is_own_host(host)


@pytest.mark.parametrize(
    "header",
    [
        "HTTP_FORWARDED",
        "HTTP_X_FORWARDED_FOR",
        "HTTP_X_FORWARDED_HOST",
        "HTTP_X_FORWARDED_PROTO",
        "HTTP_X_REAL_IP",
        "HTTP_VIA",
    ],
)
def test_what_was_passed_on_is_refused(header):
    answer = Client().get("/show", **{**HERE, header: "127.0.0.1"})

    assert answer.status_code == 403
    assert "never through a proxy" in answer.content.decode()


def test_a_refused_request_changes_nothing():
    from tests.project import addresses

    addresses.saved.clear()
    Client().post("/save", {"name": "a"}, **{**HERE, "REMOTE_ADDR": "192.168.1.20"})

    assert addresses.saved == []
