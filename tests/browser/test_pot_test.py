"""The pot test in a real browser: what drained is the air, for this depth only."""

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

from friable.records.models import Measurement

pytestmark = pytest.mark.browser


# A round pot 15/11/12.5 cm, 1 cm headspace, holds 1.499 L (frustum, worked by hand): 270 mL drained is
# 18 % air, 1110 mL in is 74 % pores, the difference 56 % water.
def test_a_pot_test_is_read_carried_to_a_tray_and_kept(live_server, page: Page):
    page.goto(f"{live_server.url}/mixes/pot-test")
    assert violations(page) == []
    page.get_by_label("The pot of the test").fill("round 15/11/12.5 cm")
    page.get_by_label("Headspace").fill("1 cm")
    page.get_by_label("Water poured in").fill("1110")
    page.get_by_label("Water drained").fill("270 mL")
    page.get_by_role("button", name="Read the test").click()
    expect(page.get_by_text("has no unit")).to_be_visible()
    expect(page.get_by_label("Water poured in")).to_be_focused()

    page.get_by_label("Water poured in").fill("1110 mL")
    page.get_by_label("What would it be in this pot").fill("tray 50x30x4 cm")
    page.get_by_role("button", name="Read the test").click()
    shown = page.locator("#answer .figure-value")
    expect(shown).to_have_text(["18 %", "56 %", "74 %", *[shown.nth(i).inner_text() for i in (3, 4)]])
    assert int(shown.nth(3).inner_text().split()[0]) < 18
    expect(page.get_by_text("Valid for a column of 11.5 cm only")).to_be_visible()
    assert violations(page) == []

    page.get_by_label("What was in it").fill("coir pith")
    page.get_by_label("Your initials").fill("tb")
    page.get_by_role("button", name="Keep this test").click()
    expect(page.get_by_text("The pot test is kept.")).to_be_visible()
    assert violations(page) == []
    assert Measurement.objects.get().done_by == "TB"
