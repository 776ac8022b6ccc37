"""A season in a real browser, its work in a real process: asked for, watched, read, put on the door."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

from friable.records.models import Season

pytestmark = pytest.mark.browser

PATIENCE_MS = 180_000  # a process begins, and the flow of water may have to be compiled
COLLECTION = """group,mix,container,count,plant,watering
north,2 sphagnum peat medium + 1 perlite coarse,round 17/12/13 cm,10,shrubs,every 3 days
south,2 sphagnum peat medium + 1 perlite coarse,round 9/7/8 cm,100,ferns,on need
"""


def test_a_season_is_asked_for_watched_and_put_on_the_door(live_server, page: Page):
    page.goto(f"{live_server.url}/seasons/")
    assert violations(page) == []
    page.get_by_role("link", name="Work out a season").click()
    page.get_by_label("What to call it").fill("the houses")
    page.get_by_text("The lines of the collection").click()
    page.get_by_label("Or paste its lines").fill("mix,container,count\n5 moon dust,round 9/7/8 cm,3\n")
    page.get_by_label("Climate").select_option("temperate glasshouse")
    page.get_by_label("Weathers").fill("1")
    page.get_by_label("Draws").fill("2")
    page.get_by_label("Your initials").fill("jo")
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("cell", name="moon dust")).to_be_visible()
    assert violations(page) == []
    page.get_by_label("Or paste its lines").fill(COLLECTION)
    page.get_by_role("button", name="Begin").click()

    expect(page.get_by_role("button", name="Stop it; what is done stays")).to_be_visible()
    assert violations(page) == []
    expect(page.locator(".reading")).to_contain_text("Watering these 110 pots", timeout=PATIENCE_MS)
    assert Season.objects.get().state == "done"
    assert violations(page) == []
    page.set_viewport_size({"width": 800, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 800
    expect(page.locator("caption", has_text="January 2025")).to_be_visible()

    page.get_by_label("From").fill("2026-11-28")
    page.get_by_label("To", exact=True).fill("2026-11-29")
    with page.expect_response(lambda answer: "first=2026-11-28" in answer.url) as sheet:
        page.get_by_role("button", name="Make the door sheet").click()
    assert sheet.value.headers["content-type"] == "application/pdf"
