"""Watering in a real browser: an answer, four moments with a slider, charts; and without scripts."""

import pytest
from playwright.sync_api import Page, expect
from tests import cast
from tests.browser.axe import violations

from friable.records.models import ClimateFile, PotWeighing

pytestmark = pytest.mark.browser

FIRST_ANSWER_MS = 60_000  # the flow of water is compiled at the first one
MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"


def ask(page: Page, address: str) -> None:
    page.goto(f"{address}/watering/")
    page.get_by_label("Mix", exact=True).fill(MIX)
    page.get_by_label("In this pot", exact=True).fill("round 17/12/13 cm")
    page.get_by_label("Plant").select_option("shrubs and trees in pots")
    page.get_by_role("button", name="Follow a watering").click(timeout=FIRST_ANSWER_MS)


def test_a_pot_is_followed_and_its_moments_shown_one_at_a_time(live_server, page: Page):
    page.set_default_timeout(FIRST_ANSWER_MS)
    ask(page, live_server.url)

    expect(page.locator(".reading")).to_contain_text("Water it about every")
    expect(page.get_by_text("of the full weight of mix and water")).to_be_visible()
    for key in ("mass", "air"):
        drawn = page.locator(f"[data-chart=spec-{key}][data-drawn=yes] canvas")
        expect(drawn).to_be_visible(timeout=FIRST_ANSWER_MS)
    assert violations(page) == []

    slider = page.get_by_label("One at a time")
    slider.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(page.locator("output")).to_contain_text("drained")
    expect(page.locator(".moment-one figure:visible")).to_have_count(1)
    expect(page.locator(".moment-all")).to_be_hidden()
    assert violations(page) == []
    page.emulate_media(media="print")
    expect(page.locator(".moment-all")).to_be_visible()  # on paper the four stand side by side
    expect(page.locator(".moment-one figure:visible")).to_have_count(0)
    page.emulate_media(media="screen")

    page.get_by_role("link", name="Compare it with others").click()
    page.get_by_label("In this pot", exact=True).nth(1).fill("tray 50x30x4 cm")
    page.get_by_role("button", name="Show them side by side").click()
    expect(page.get_by_role("row", name="B: ")).to_be_visible()
    expect(page.locator("[data-chart=spec-mass][data-drawn=yes] canvas")).to_be_visible()
    assert violations(page) == []


def test_without_scripts_the_four_moments_stand_side_by_side(browser, live_server):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.set_default_timeout(FIRST_ANSWER_MS)
    ask(page, live_server.url)

    expect(page.locator(".moment-all svg")).to_be_visible()
    expect(page.get_by_label("One at a time")).to_be_hidden()
    page.get_by_text("Hour by hour").click()
    expect(page.get_by_role("columnheader", name="mass of mix and water, kg")).to_be_visible()
    context.close()


def test_a_pot_is_weighed_twice_and_its_own_use_taken(live_server, page: Page):
    page.set_default_timeout(FIRST_ANSWER_MS)
    ask(page, live_server.url)
    page.get_by_role("link", name="Weigh this pot twice").click()
    page.get_by_label("First weighing").fill("1.42 kg")
    page.get_by_label("Weighed first at").fill("2026-03-14T08:00")
    page.get_by_label("Second weighing").fill("1.24 kg")
    page.get_by_label("Weighed again at").fill("2026-03-15T08:00")
    page.get_by_label("Your initials").fill("jo")
    assert violations(page) == []
    page.get_by_role("button", name="Keep the weighings").click()

    said = page.get_by_role("status").filter(has_text="The pot's own use is")
    expect(said).to_be_visible()
    expect(page.get_by_text("This pot's own use is taken")).to_be_visible()
    assert PotWeighing.objects.get().done_by == "JO"
    assert violations(page) == []


def test_a_loggers_columns_are_asked_for_once(live_server, page: Page, tmp_path):
    lines = [
        f"2026-03-{day:02d} {hour:02d}:00,{10 + hour % 12},80" for day in (1, 2, 3) for hour in range(24)
    ]
    file = tmp_path / "house.csv"
    file.write_text("\n".join(["when,probe 1,probe 2", *lines]) + "\n")
    page.goto(f"{live_server.url}/climates/add")
    page.get_by_label("The file", exact=True).set_input_files(file)
    page.get_by_label("Your name for it").fill("house 2")
    page.get_by_label("under glass").check()
    page.get_by_label("Your initials").fill("mk")
    page.get_by_role("button", name="Read it and keep it").click()

    expect(page.get_by_text("Which column holds what")).to_be_visible()
    assert violations(page) == []
    page.get_by_label("Date and time").select_option("when")
    page.get_by_label("Temperature of the air").select_option("probe 1")
    page.get_by_label("Relative humidity").select_option("probe 2")
    page.get_by_role("button", name="Read it and keep it").click()
    for label, answer in (
        ("Temperature in", "°C"),
        ("Humidity in", "per cent"),
    ):  # asked once the columns are known
        if page.get_by_label(label).count():
            page.get_by_label(label).select_option(answer)
    if page.get_by_role("button", name="Read it and keep it").count():
        page.get_by_role("button", name="Read it and keep it").click()

    expect(page.get_by_role("heading", level=1)).to_have_text("house 2")
    assert ClimateFile.objects.get().days == 3
    assert violations(page) == []


def test_a_mix_and_a_container_lead_to_their_watering(live_server, page: Page):
    version = cast.potting_on()
    pot = cast.two_litre_pot()
    page.set_default_timeout(FIRST_ANSWER_MS)
    page.goto(f"{live_server.url}/mixes/{version.mix_id}/")
    page.get_by_role("link", name="Follow a watering of it").click()
    expect(page.get_by_label("Mix", exact=True)).to_have_value("potting-on bark, version 1")
    expect(page.locator(".reading")).to_be_visible()

    page.goto(f"{live_server.url}/containers/{pot.pk}/")
    page.get_by_role("link", name="Follow a watering in it").click()
    expect(page.get_by_label("In this pot", exact=True)).to_have_value("2 L pot")
