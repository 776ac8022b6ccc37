"""Mixes in a real browser: the answer comes while typing; charts are drawn under the strict policy."""

import pytest
from playwright.sync_api import Page, expect
from tests import cast
from tests.browser.axe import violations

from friable.records import actions
from friable.records.models import Mix

pytestmark = pytest.mark.browser

FIRST_FORECAST_MS = 30_000  # numerics are loaded at the first one
LEAF = "rgb(44, 90, 54)"
RECIPE = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"


def is_filled(page: Page, name: str) -> bool:
    """Say whether a button stands out as the main one."""
    button = page.get_by_role("button", name=name)
    return button.evaluate("it => getComputedStyle(it).backgroundColor") == LEAF


def test_the_answer_comes_while_a_mix_is_written_and_the_mix_is_kept(live_server, page: Page):
    page.goto(f"{live_server.url}/mixes/write")
    assert violations(page) == []
    assert is_filled(page, "Show air and water")  # the main action is the answer until there is one
    assert not is_filled(page, "Keep this mix")
    page.get_by_label("In this pot", exact=True).fill("tray 50x30x4 cm")
    page.get_by_label("What is in it").fill("3 moon dust")
    expect(page.get_by_text("No material is called “moon dust”.")).to_be_visible(timeout=FIRST_FORECAST_MS)
    expect(page.get_by_label("What is in it")).to_be_focused()

    page.get_by_label("What is in it").fill(RECIPE)
    expect(page.get_by_text("In this 4 cm tray")).to_be_visible(timeout=FIRST_FORECAST_MS)
    expect(page.locator("#answer svg")).to_be_visible()
    page.get_by_label("Meant for").select_option("general pots")
    expect(page.get_by_text("What is asked for general pots")).to_be_visible()
    assert violations(page) == []

    assert is_filled(page, "Keep this mix")
    assert not is_filled(page, "Show air and water")
    page.get_by_label("Name of the mix").fill("potting-on bark")
    page.get_by_label("Your initials").fill("mk")
    page.get_by_role("button", name="Keep this mix").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("potting-on bark")
    expect(page.get_by_text("potting-on bark, version 1 is kept.")).to_be_visible()
    assert violations(page) == []
    assert Mix.objects.get().name == "potting-on bark"


def test_mixes_side_by_side_with_their_charts(live_server, page: Page):
    cast.potting_on()
    actions.write_mix(cast.recipe("fern basket", (1, "sphagnum peat medium"), (3, "perlite coarse")), by="MK")
    cast.two_litre_pot()

    page.goto(f"{live_server.url}/mixes/compare?mix=potting-on+bark")
    page.get_by_label("Mix 2").fill("fern basket")
    page.get_by_label("Pot 2").fill("tray 50x30x4 cm")
    page.get_by_role("button", name="Show them side by side").click()

    for key in ("retention", "air"):
        drawn = page.locator(f"[data-chart=spec-{key}][data-drawn=yes] canvas")
        expect(drawn).to_be_visible(timeout=FIRST_FORECAST_MS)
        assert drawn.bounding_box()["width"] > 400
    expect(page.locator("figure svg")).to_have_count(4)
    host = page.locator("[data-chart=spec-air]")
    assert host.get_attribute("aria-label").startswith("Air space against the height of the medium")
    page.get_by_text("The same as a table").first.click()
    expect(page.get_by_role("columnheader", name="Suction, cm of water")).to_be_visible()
    assert violations(page) == []


def test_a_mix_is_written_with_the_keyboard_alone_and_without_scripts(browser, live_server):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{live_server.url}/mixes/write")
    page.get_by_label("What is in it").focus()
    page.keyboard.type(RECIPE)
    page.keyboard.press("Tab")  # line by line, folded
    page.keyboard.press("Tab")
    expect(page.get_by_label("In this pot", exact=True)).to_be_focused()
    page.keyboard.press("Enter")

    expect(page.get_by_text("In this 13 cm deep pot")).to_be_visible(timeout=FIRST_FORECAST_MS)
    expect(page.get_by_label("What is in it")).to_have_value(RECIPE)
    context.close()
