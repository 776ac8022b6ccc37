"""The store is counted by keyboard alone; a window is set and the one before stays in sight."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

from friable.records import queries
from friable.records.models import MaterialStock

pytestmark = pytest.mark.browser


def test_a_walk_along_the_bins_by_keyboard_alone(live_server, page: Page):
    page.goto(f"{live_server.url}/materials/")
    page.get_by_role("link", name="What is here, and what it costs").press("Enter")
    expect(page.get_by_text("Nothing is counted yet")).to_be_visible()
    expect(page.get_by_text("Keys: Enter or ↓ goes to the next material")).to_be_visible()
    page.get_by_label("Your initials").focus()
    page.keyboard.type("jo")

    fields = page.locator("[data-column=stock]")
    names = [fields.nth(place).get_attribute("name") for place in range(3)]
    fields.first.focus()
    for typed in ("120", "3.8 cu ft", "40 l"):
        page.keyboard.type(typed)
        page.keyboard.press("Enter")
    expect(fields.nth(3)).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(fields.nth(2)).to_be_focused()
    page.keyboard.type("lots")
    page.keyboard.press("Tab")
    page.keyboard.type("£12.50 for 50 L")
    assert not MaterialStock.objects.exists()
    page.get_by_role("button", name="Write it down").press("Enter")

    expect(fields.nth(2)).to_be_focused()  # the keyboard goes to what was refused
    expect(fields.nth(0)).to_have_value("120")
    expect(fields.nth(1)).to_have_value("3.8 cu ft")
    assert violations(page) == []
    page.keyboard.press("Control+A")
    page.keyboard.type("38 L")
    page.get_by_role("button", name="Write it down").press("Enter")

    expect(page.get_by_text("3 materials are written down.")).to_be_visible()
    expect(page.get_by_text("£0.25")).to_be_visible()
    assert violations(page) == []
    counted = {f"stock-{one.material.key}": one.stock_l for one in queries.at_hand(in_stock_only=True)}
    assert counted == {names[0]: 120.0, names[1]: pytest.approx(107.604, abs=0.001), names[2]: 38.0}


def test_the_last_field_of_a_column_leads_to_the_button(live_server, page: Page):
    page.goto(f"{live_server.url}/materials/stock")
    page.locator("[data-column=price]").last.focus()
    page.keyboard.press("Enter")

    expect(page.get_by_role("button", name="Write it down")).to_be_focused()


def test_a_keeper_sets_a_window_and_the_old_value_stays(live_server, page: Page):
    page.goto(f"{live_server.url}/windows/")
    assert violations(page) == []
    page.get_by_role("link", name="epiphyte, grown", exact=True).click()
    page.get_by_role("link", name="Set air", exact=True).click()
    page.get_by_label("Lowest").fill("30")
    page.get_by_label("Your initials").fill("mk")
    page.get_by_role("button", name="Set this window").click()
    expect(page.get_by_text("Write per cent with its sign")).to_be_visible()
    expect(page.get_by_label("Lowest")).to_have_value("30")
    assert violations(page) == []

    page.get_by_label("Lowest").fill("30 %")
    page.get_by_role("button", name="Set this window").click()
    expect(page.get_by_text("The window for air is set.")).to_be_visible()
    page.get_by_role("link", name="Set air", exact=True).click()
    page.get_by_label("Lowest").fill("25 %")
    page.get_by_label("Highest").fill("40 %")
    page.get_by_role("button", name="Set this window").click()

    expect(page.get_by_text("25 to 40 %").first).to_be_visible()
    page.get_by_text("What was set here, and when").click()
    expect(page.get_by_text("MK: at least 30 %")).to_be_visible()
    assert violations(page) == []
