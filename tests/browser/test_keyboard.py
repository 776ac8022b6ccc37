"""The main road by keyboard alone; where the keyboard is can always be seen."""

import pytest
from playwright.sync_api import Page, expect

from friable.records.models import Batch

pytestmark = pytest.mark.browser

MOST_STOPS = 60
WHERE = """() => {
  const at = document.activeElement;
  const label = at.labels && at.labels.length ? at.labels[0].innerText : at.innerText;
  const line = getComputedStyle(at);
  return {
    name: (label || at.value || "").trim(),
    seen: line.outlineStyle !== "none" && parseFloat(line.outlineWidth) >= 2,
    stop: at !== document.body,
  };
}"""


def go_to(page: Page, name: str) -> None:
    """Press Tab until the keyboard is at what begins with this name; every stop on the way must show."""
    for _stop in range(MOST_STOPS):
        page.keyboard.press("Tab")
        at = page.evaluate(WHERE)
        assert at["seen"] or not at["stop"], f"the keyboard is at {at['name']!r} and nothing shows it"
        if at["name"].startswith(name):
            return
    raise AssertionError(f"{name!r} was not reached in {MOST_STOPS} stops")


def fill(page: Page, name: str, text: str) -> None:
    go_to(page, name)
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def press(page: Page, name: str) -> None:
    go_to(page, name)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_from_the_bench_to_the_label_by_keyboard_alone(bench, page: Page):
    page.goto(bench)
    press(page, "Start a potting job")
    fill(page, "What is potted", "saplings")
    fill(page, "Your initials", "jo")
    press(page, "Start, and list")

    fill(page, "How many", "60")
    fill(page, "Into", "round 17/12/13 cm")
    page.keyboard.press("Escape")
    fill(page, "Headspace", "1.5 cm")
    go_to(page, "root ball")
    page.keyboard.press("Space")
    fill(page, "Out of", "round 9/6/8.5 cm")
    page.keyboard.press("Escape")
    fill(page, "Headspace of the old pot", "1 cm")
    press(page, "Keep, and go on to the mix")

    go_to(page, "Mix")
    go_to(page, "Mix")
    page.keyboard.type("potting")
    press(page, "Show its air and water")
    expect(page.get_by_text("In this 13 cm deep pot")).to_be_visible()
    press(page, "Use potting-on bark")

    fill(page, "Shrinkage on mixing", "12 %")
    go_to(page, "Work it out")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.get_by_role("cell", name="108.8 L")).to_be_visible()
    press(page, "Keep, and go on to the batch")
    press(page, "Plan this batch")
    press(page, "Write down what was made")
    go_to(page, "What I leave empty above")
    page.keyboard.press("Space")
    fill(page, "Finished volume made", "95 L")
    press(page, "Write it down as made")
    press(page, "Print labels")
    go_to(page, "Make the labels")

    assert Batch.objects.get().state == "made"


def test_the_first_stop_leads_past_the_bar(bench, page: Page):
    page.goto(bench)
    page.keyboard.press("Tab")
    assert page.evaluate(WHERE)["name"] == "Skip to the content"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")

    assert page.evaluate("document.querySelector('main').contains(document.activeElement)")


def test_the_keyboard_goes_to_what_was_refused(bench, page: Page):
    page.goto(f"{bench}/jobs/new")
    fill(page, "What is potted", "ferns")
    press(page, "Start, and list")

    expect(page.get_by_label("Your initials")).to_be_focused()
    expect(page.get_by_label("What is potted")).to_have_value("ferns")
