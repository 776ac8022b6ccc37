"""The fewest mixes in a real browser, the search in a real process: asked, answered, taken further."""

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

from friable.web.fewest.collections import demo_collection

pytestmark = pytest.mark.browser

PATIENCE_MS = 240_000  # a process begins, and the search is compiled once on a machine
COLLECTION = """group,stage,container,count,mix
epiphyte,grown,1 L pot,85,epiphyte bark
fern,grown,1 L pot,75,Quillmoor potting-on
heath,grown,2 L pot,45,bog mix
bog,grown,1 L pot,140,bog mix
bromeliad,grown,1 L pot,40,epiphyte bark
"""


def narrow(page: Page) -> None:
    page.set_viewport_size({"width": 800, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 800
    page.set_viewport_size({"width": 1280, "height": 900})


def test_from_a_collection_to_a_mix_that_is_written(live_server, page: Page):
    call_command("load_quillmoor", verbosity=0)
    page.goto(f"{live_server.url}/find/")
    page.get_by_role("link", name="Fewest mixes").click()
    page.get_by_role("link", name="Take the collection of Quillmoor, to try it").click()
    expect(page.get_by_label("Or paste its lines")).to_have_value(demo_collection())
    assert violations(page) == []
    narrow(page)

    page.get_by_label("Or paste its lines").fill("group,count\nmoon flower,3\n")
    page.get_by_role("button", name="Find the fewest").click()
    expect(page.get_by_role("cell", name="moon flower")).to_be_visible()
    assert violations(page) == []
    page.get_by_label("Or paste its lines").fill(COLLECTION)
    page.get_by_label("Parts at most").fill("4")
    page.get_by_label("Kinds at most").fill("2")
    page.get_by_role("button", name="Find the fewest").click()

    expect(page.locator(".reading")).to_contain_text("within their windows", timeout=PATIENCE_MS)
    assert violations(page) == []
    narrow(page)
    expect(page.get_by_text("Proved: ")).to_be_visible()
    expect(
        page.get_by_role("heading", name="Left on their mix: nothing is asked of air and water")
    ).to_be_visible()
    page.get_by_text("The windows of each group").click()
    expect(page.get_by_text("no figure known")).to_be_visible()

    page.get_by_role("link", name="Change the question").click()
    expect(page.get_by_label("Or paste its lines")).to_have_value(COLLECTION)
    page.go_back()
    page.get_by_role("link", name="Write this mix").or_(
        page.get_by_role("link", name="Look at this mix")
    ).first.click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert "/mixes/" in page.url


def test_it_can_be_stopped_by_hand(live_server, page: Page):
    call_command("load_quillmoor", verbosity=0)
    page.goto(f"{live_server.url}/fewest/?demo=1")
    page.get_by_label("all that are known").check()
    page.get_by_label("Kinds at most").fill("4")
    page.get_by_role("button", name="Find the fewest").click()
    page.get_by_role("button", name="Stop it").click()

    expect(page.get_by_text("It was stopped; nothing of it is kept but the question.")).to_be_visible(
        timeout=PATIENCE_MS
    )
    assert violations(page) == []
