"""Containers in a real browser: added by inside measures, weighed with water, filled with a mix."""

import pytest
from playwright.sync_api import Page, expect
from tests import cast
from tests.browser.axe import violations

pytestmark = pytest.mark.browser

FIRST_FORECAST_MS = 30_000  # numerics are loaded at the first one


def test_a_pot_is_added_filled_with_a_mix_and_weighed(live_server, page: Page):
    cast.potting_on()
    page.goto(f"{live_server.url}/containers/")
    page.get_by_label("Only a trade name?").fill("#1")
    page.get_by_role("button", name="Look it up").click()
    expect(page.get_by_text("lists give from 2.37 to 3 L")).to_be_visible()
    assert violations(page) == []

    page.get_by_role("link", name="Measure yours, and add it").click()
    expect(page.get_by_label("Your name for it")).to_have_value("#1")
    page.get_by_label("Inside measures").fill("round 17/12/13 cm")
    page.get_by_label("Usual headspace").fill("1.5 cm")
    page.get_by_label("Your initials").fill("mk")
    assert violations(page) == []
    page.get_by_role("button", name="Keep this container").click()

    expect(page.get_by_text("In this 13 cm deep pot")).to_be_visible(timeout=FIRST_FORECAST_MS)
    expect(page.locator("[data-chart=spec-air][data-drawn=yes] canvas")).to_be_visible()
    assert violations(page) == []

    page.get_by_role("link", name="Weigh it with water").click()
    page.get_by_label("Filled with water to the brim").fill("2.385 kg")
    page.get_by_label("Empty", exact=True).fill("85 g")
    page.get_by_role("button", name="Keep this volume").click()
    expect(page.get_by_text("weighed with water here")).to_be_visible()
    assert violations(page) == []
