"""Materials in a real browser: found by any word, measured here."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

pytestmark = pytest.mark.browser


def test_a_word_asks_back_and_a_measurement_takes_the_place_of_the_table(live_server, page: Page):
    page.goto(f"{live_server.url}/materials/")
    assert violations(page) == []
    page.get_by_label("Find a material by any of its names").fill("grit")
    page.get_by_role("button", name="Find it").click()
    expect(page.get_by_text("Which one is meant?")).to_be_visible()
    assert violations(page) == []
    page.get_by_role("link", name="crushed granite grit 2-5 mm").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("crushed granite grit 2-5 mm")
    assert violations(page) == []

    page.get_by_role("link", name="Measure its dry bulk density").click()
    page.get_by_label("Loose volume of each fill").fill("1 L")
    page.get_by_label("Dry mass of the first fill").fill("1.45 kg")
    page.get_by_label("Your initials").fill("jo")
    assert violations(page) == []
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("cell", name="measured here", exact=True)).to_be_visible()
    assert violations(page) == []

    page.get_by_role("link", name="Materials").click()
    page.get_by_role("link", name="Where the figures come from").click()
    assert violations(page) == []
