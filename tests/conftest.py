"""What all tests share: a data folder of their own, a browser that reaches only this machine."""

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "quick", deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))

CHECKOUT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def checkout():
    """The folder that holds pyproject.toml."""
    return CHECKOUT


# --- browser ------------------------------------------------------------------------------------


def chromium() -> str:
    """Return the path of this machine's Chromium."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        if path := shutil.which(name):
            return path
    raise RuntimeError("Install chromium to run the browser tests.")


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    return {
        **browser_type_launch_args,
        "executable_path": chromium(),
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ],
    }


@pytest.fixture
def context(context):
    """A browser context that can reach this machine only; trying anything else fails the test."""
    elsewhere: list[str] = []

    def decide(route):
        url = route.request.url
        if url.startswith(("http://127.0.0.1:", "http://localhost:", "data:", "blob:", "about:")):
            route.continue_()
        else:
            elsewhere.append(url)
            route.abort()

    context.route("**/*", decide)
    yield context
    assert not elsewhere, f"the page reached beyond this machine: {elsewhere}"


@pytest.fixture
def page(context):
    """A page whose script errors and refusals of the content security policy fail the test."""
    problems: list[str] = []
    page = context.new_page()
    page.on("pageerror", lambda error: problems.append(str(error)))
    page.on(
        "console",
        lambda message: problems.append(message.text) if "Content Security Policy" in message.text else None,
    )
    yield page
    page.close()
    assert not problems, f"errors in the page: {problems}"


@pytest.fixture(autouse=True)
def _browser_beside_django(request, monkeypatch):
    """Playwright runs an event loop in the test's thread; Django would refuse to query there."""
    if "playwright" in request.fixturenames:
        monkeypatch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
    return
