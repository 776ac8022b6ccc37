"""Every page of the invented glasshouse: no accessibility violation, nothing cut off at 800 px."""

from pprint import pformat

import pytest
from django.core.management import call_command
from playwright.sync_api import Page
from tests.browser.axe import violations
from tests.web import small_searches

from friable.records.models import Batch, ClimateFile, Container, Mix, PottingJob, Season

pytestmark = pytest.mark.browser

POT = "mix=Quillmoor+potting-on&container=2+L+pot&plant=shrubs"
LAYER = "layer=3+cm&layer_material=gravel"
CHOICES = "a-mix=seed+mix&a-container=seed+tray&b-container=9+cm+pot&plant=seedlings"

# What is pressed with a wet thumb: buttons, fields, and links that stand alone (not inside a sentence).
TOO_SMALL = """() => {
  const alone = it => it.parentElement.innerText.trim() === it.innerText.trim();
  const pressed = [
    ...document.querySelectorAll(
      'button:not([tabindex="-1"]), .button, nav a, input, select, textarea, summary'
    ),
    ...[...document.querySelectorAll('main a')].filter(alone),
  ];
  return pressed
    .filter(it => it.offsetParent && !['hidden', 'radio', 'checkbox'].includes(it.type))
    .filter(it => it.getBoundingClientRect().height < 44)
    .map(it => it.outerHTML.slice(0, 160));
}"""


def searches():
    """Return the addresses of searches: found, none within, replaced, stood in for, begun, stopped."""
    found = small_searches.found()
    others = (
        small_searches.found_none(), small_searches.replaced(), small_searches.stood_in(),
        small_searches.beginning(), small_searches.stopped(),
    )  # fmt: skip
    make = f"/find/{found}/make?recipe=4+coir+pith+%2B+1+perlite+coarse&shrinkage=5+%25"
    beside = f"/find/{found}/?tick=1&tick=2&sort=air"
    return [f"/find/{found}/", beside, make, *(f"/find/{key}/" for key in others)]


def fewest_mixes():
    """Return the addresses of the fewest mixes: answered, and just beginning."""
    begun, done = small_searches.fewest(), small_searches.fewest()
    small_searches.worked_out(done)
    return [f"/fewest/{begun}/", f"/fewest/{done}/"]


def addresses():
    """Return the address of each kind of page, with something to show on it."""
    job = PottingJob.objects.get(title="Sixty saplings on into 2 L").pk
    made = Batch.objects.filter(state="made").first().code
    planned = Batch.objects.filter(state="planned").first().code
    mix = Mix.objects.get(name="Quillmoor potting-on").pk
    pot = Container.objects.get(name="2 L pot").pk
    climate, season = ClimateFile.objects.get().pk, Season.objects.get().pk
    steps = [f"/jobs/{job}/{step}" for step in ("pots", "mix", "amounts", "batch", "clone", "drop")]
    return [
        "/", "/initials", "/jobs/new", *steps,
        "/batches/", f"/batches/{made}", f"/batches/{made}/undo", f"/batches/{planned}",
        f"/sheets/label/{made}",
        "/mixes/", "/mixes/write", "/mixes/published", "/mixes/compare", "/mixes/pot-test",
        f"/mixes/{mix}/", f"/mixes/{mix}/new-version",
        "/materials/", "/materials/add", "/materials/sources", "/materials/BKP_M/", "/materials/BKP_M/alias",
        "/materials/BKP_M/density", "/materials/BKP_M/mix-volume", "/materials/BKP_M/pack",
        "/materials/stock", "/materials/BKP_M/stock", "/materials/BKP_M/price",
        "/windows/", "/windows/epiphyte-grown/", "/windows/epiphyte-grown/air_space",
        "/windows/fern-grown/hygiene",
        "/containers/", "/containers/add", f"/containers/{pot}/", f"/containers/{pot}/weigh",
        "/watering/", f"/watering/?{POT}", f"/watering/?{POT}&{LAYER}", f"/watering/compare/?{CHOICES}",
        f"/watering/weigh?{POT}",
        "/climates/", "/climates/add", f"/climates/{climate}/", f"/climates/{climate}/change",
        "/seasons/", "/seasons/new", f"/seasons/{season}/",
        "/sayings/", "/sayings/sand-opens-bark/", "/sayings/gravel-drains/", "/sayings/shallow-wetter/",
        "/sayings/bale-doubles/", "/sayings/charcoal-sweetens/",
        "/find/", "/find/?for=fern,+seed", "/find/replace/", "/find/can-make/", *searches(),
        "/fewest/", "/fewest/?demo=1", *fewest_mixes(),
        "/there-is-no-such-page",
    ]  # fmt: skip


def test_no_page_shuts_anyone_out(live_server, page: Page):
    call_command("load_quillmoor", verbosity=0)
    page.set_viewport_size({"width": 800, "height": 900})
    found = {}
    for address in addresses():
        answer = page.goto(live_server.url + address)
        assert answer.status == (404 if "no-such" in address else 200), address
        if problems := violations(page):
            found[address] = problems
        if page.evaluate("document.documentElement.scrollWidth") > 800:
            found[address] = "wider than the window"
        if small := page.evaluate(TOO_SMALL):
            found[address] = small

    assert found == {}, pformat(found)
