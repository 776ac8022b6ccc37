"""Find and replace in a real browser, the search in a real process: from a question to a batch."""

import pytest
from django.core.management import call_command
from playwright.sync_api import Page, expect
from tests.browser.axe import violations
from tests.browser.test_keyboard import fill, go_to, press

from friable.records.models import Batch, Mix

pytestmark = pytest.mark.browser

PATIENCE_MS = 180_000  # a process begins, and the search is compiled once on a machine
FEWER_THAN = 10


class Hand:
    """A hand that counts what it does."""

    def __init__(self, page: Page) -> None:
        self.page, self.done = page, 0

    def press(self, name: str) -> None:
        self._act(self.page.get_by_role("button", name=name).first.click)

    def follow(self, name: str) -> None:
        self._act(self.page.get_by_role("link", name=name).first.click)

    def fill(self, label: str, text: str) -> None:
        self._act(lambda: self.page.get_by_label(label, exact=True).fill(text))

    def choose(self, label: str, option: str) -> None:
        self._act(lambda: self.page.get_by_label(label, exact=True).select_option(option))

    def _act(self, act) -> None:
        act()
        self.done += 1


@pytest.fixture
def quillmoor(live_server, page: Page):
    """The invented glasshouses, with what lies in their store."""
    call_command("load_quillmoor", verbosity=0)
    return live_server.url


def answered(page: Page, words: str) -> None:
    expect(page.locator(".reading")).to_contain_text(words, timeout=PATIENCE_MS)
    assert violations(page) == []


def make_a_batch(hand: Hand, litres: str = "20 L") -> Batch:
    before = Batch.objects.count()
    hand.follow("Make a batch of it")
    assert violations(hand.page) == []
    hand.fill("Finished mix wanted", litres)
    hand.fill("Your initials", "jo")
    hand.press("Keep it, and plan the batch")
    expect(hand.page.get_by_role("status")).to_contain_text("is planned")
    assert Batch.objects.count() == before + 1
    return Batch.objects.order_by("-pk").first()


def test_bark_ran_out_on_potting_day(quillmoor, page: Page):
    mix = Mix.objects.get(name="Quillmoor potting-on")
    page.goto(f"{quillmoor}/mixes/{mix.pk}/")
    hand = Hand(page)
    hand.follow("Replace a material")
    assert violations(page) == []
    hand.fill("Without", "pine bark")
    hand.press("Find what comes closest")
    answered(page, "Without pine bark nursery 0-12 mm, the nearest of")
    expect(page.get_by_role("heading", name="What to watch")).to_be_visible()

    batch = make_a_batch(hand)

    assert "pine bark" not in " ".join(line.name for line in batch.lines.all())
    assert hand.done < FEWER_THAN


def test_a_peat_free_policy(quillmoor, page: Page):
    mix = Mix.objects.get(name="Quillmoor potting-on")
    page.goto(f"{quillmoor}/mixes/{mix.pk}/")
    hand = Hand(page)
    hand.press("Peat free")
    answered(page, "Without sphagnum peat medium 0-10 mm, the nearest of")

    batch = make_a_batch(hand)

    assert "peat" not in " ".join(line.name for line in batch.lines.all())
    assert hand.done < FEWER_THAN


def test_a_learner_asks_what_to_sow_ferns_in(quillmoor, page: Page):
    page.goto(quillmoor)
    hand = Hand(page)
    hand.follow("Find and replace")
    assert violations(page) == []
    hand.choose("For", "fern, seed")
    hand.press("Find the best mix")
    answered(page, "stays within the windows in")
    expect(page.get_by_role("heading", name="What was asked, and what is proved")).to_be_visible()

    batch = make_a_batch(hand)

    assert batch.mix_version.mix.plant_group == "fern, seed"
    assert hand.done < FEWER_THAN


def test_recipes_are_sorted_ticked_and_held_side_by_side(quillmoor, page: Page):
    page.goto(f"{quillmoor}/find/?for=general,+grown")
    page.get_by_role("button", name="Find the best mix").click()
    answered(page, "stays within the windows in")
    page.get_by_role("link", name="Wet, kg").click()
    expect(page.locator("th[aria-sort=ascending]")).to_contain_text("Wet, kg")
    for place in (0, 2):
        page.locator("input[name=tick]").nth(place).check()
    page.get_by_role("button", name="Show these; ticked ones side by side").click()
    expect(page.locator("#side-by-side thead th")).to_have_count(2)
    expect(page.locator("th[aria-sort=ascending]")).to_contain_text("Wet, kg")
    assert violations(page) == []
    page.set_viewport_size({"width": 800, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 800

    page.get_by_role("link", name="Write this mix").first.click()
    expect(page.get_by_label("What is in it")).not_to_have_value("")
    expect(page.locator("#answer svg")).to_be_visible()


def test_an_impossible_wish_names_the_limit_that_would_open_it(quillmoor, page: Page):
    page.goto(f"{quillmoor}/find/?for=general,+grown")
    page.get_by_text("Windows of my own").click()
    page.get_by_label("air, at least").fill("90 %")
    page.get_by_role("button", name="Find the best mix").click()

    answered(page, "lies within every window; the nearest is")
    expect(page.get_by_role("heading", name="Which one limit would open it")).to_be_visible()
    page.get_by_role("link", name="Change the question").first.click()
    expect(page.get_by_label("air, at least")).to_have_value("90 %")


def test_a_search_is_asked_and_stopped_by_keyboard_alone(quillmoor, page: Page):
    page.goto(quillmoor)
    press(page, "Find and replace")
    go_to(page, "For")
    page.keyboard.type("fern, se")
    go_to(page, "what is in stock")
    page.keyboard.press("ArrowDown")  # all that are known: long enough to be stopped
    press(page, "Find the best mix")
    press(page, "Stop it")
    expect(page.get_by_text("It was stopped; nothing of it is kept but the question.")).to_be_visible(
        timeout=PATIENCE_MS
    )
    press(page, "Change the question")

    expect(page.get_by_label("all that are known")).to_be_checked()
    go_to(page, "all that are known")
    page.keyboard.press("ArrowDown")
    go_to(page, "Mineral")
    page.keyboard.press("Enter")
    go_to(page, "perlite coarse")
    page.keyboard.press("Space")
    expect(page.get_by_label("perlite coarse 2-6 mm")).to_be_checked()
    go_to(page, "Limits")
    page.keyboard.press("Enter")
    fill(page, "Peat at most", "20 %")
    assert page.get_by_label("Peat at most").input_value() == "20 %"
