"""No page says a word that was not offered for translation."""

import pytest
from django.urls import reverse
from tests.web import small_searches
from tests.web.conftest import browser, on_shift, text_of
from tests.wording.marked import Data, texts_of_records, texts_of_tables, words_outside

from friable.demo.quillmoor import load
from friable.planning.sayings.registry import asked_of
from friable.records.models import (
    Batch,
    ClimateFile,
    Container,
    Material,
    Measurement,
    Mix,
    MixVersion,
    PottingJob,
    Season,
)
from friable.reference.plant_groups import plant_groups
from friable.reference.sayings import all_sayings
from friable.reference.seasons import all_seasons, houses
from friable.web.materials.known import all_known


def addresses():
    """Every page there is to look at, on the data of the demo."""
    planned, made = Batch.objects.filter(state="planned")[0], Batch.objects.filter(state="made")[0]
    undone = Batch.objects.filter(state="undone")[0]
    yield from map(
        reverse,
        (
            "bench", "initials", "job-new", "mix-list", "mix-write", "mix-compare", "pot-test",
            "material-list", "source-list", "material-add", "container-list", "container-add", "batch-list",
            "watering", "watering-compare", "climate-list", "climate-add", "season-list", "season-new",
            "material-store", "window-list",
        ),
    )  # fmt: skip
    jobs = {job.state: job for job in PottingJob.objects.all()}
    for job in jobs.values():
        for step in ("pots", "mix", "amounts", "batch", "clone", "drop", "potted"):
            yield reverse(f"job-{step}", args=[job.pk])
    for mix in Mix.objects.all():
        yield reverse("mix-detail", args=[mix.pk])
    yield reverse("mix-new-version", args=[mix.pk])
    version = MixVersion.objects.exclude(mix=mix).first()
    yield reverse("mix-change", args=[version.pk])
    yield f"{reverse('mix-compare')}?mix1={mix.name}&mix2={version.mix.name}&pot1=2 L pot"
    for key in [known.key for known in all_known()][::6]:
        yield reverse("material-detail", args=[key])
    own = f"OWN_{Material.objects.filter(table_key='').first().pk}"
    for page in ("detail", "change", "alias", "pack", "density", "mix-volume", "stock", "price"):
        yield reverse(f"material-{page}", args=[own])
    yield reverse("measurement-withdraw", args=[Measurement.objects.first().pk])
    for group in ("epiphyte-grown", "arid-grown", "bog-grown"):
        yield reverse("window-detail", args=[group])
        for quantity in ("air_space", "years", "lime"):
            yield reverse("window-set", args=[group, quantity])
    yield reverse("saying-list")
    for saying in all_sayings():
        yield reverse("saying-detail", args=[saying.key])
    yield f"{reverse('saying-detail', args=['sand-opens-bark'])}?share=95 %&medium2=none such"
    yield f"{reverse('material-list')}?q=perlite"
    yield f"{reverse('material-list')}?q=none such"
    for pot in Container.objects.all()[:4]:
        yield reverse("container-detail", args=[pot.pk])
    for page in ("change", "weigh"):
        yield reverse(f"container-{page}", args=[pot.pk])
    yield f"{reverse('container-detail', args=[pot.pk])}?mix={version.pk}"
    for typed in ("2 L", "#1", "none such"):
        yield f"{reverse('container-list')}?trade={typed.replace('#', '%23')}"
    for batch in (planned, made, undone):
        for page in ("batch-detail", "batch-record", "batch-undo", "sheet-label"):
            yield reverse(page, args=[batch.code])
    yield f"{reverse('batch-list')}?state=undone"
    yield f"{reverse('batch-list')}?code=none such"
    yield f"{reverse('watering')}?{POT}&layer=3 cm&layer_material=gravel&base=saucer&base_amount=0.2 L"
    yield f"{reverse('watering-compare')}?a-{POT}&b-container=9 cm pot&d-mix=none such"
    yield f"{reverse('watering-weigh')}?{POT}"
    for page in ("detail", "change"):
        yield reverse(f"climate-{page}", args=[ClimateFile.objects.get().pk])
    for page in ("detail", "progress"):
        yield reverse(f"season-{page}", args=[Season.objects.get().pk])
    for address in ("find", "replace", "can-make"):
        yield reverse(address)
    yield "/nowhere"


def searched():
    """Pages of searches, worked out while every word is marked."""
    found = small_searches.found()
    yield f"/find/{found}/"
    yield f"/find/{found}/?tick=1&tick=2&sort=air&word=none such"
    yield f"/find/{found}/make?recipe=1 coir pith"
    for key in (
        small_searches.found_none(), small_searches.replaced(), small_searches.stood_in(),
        small_searches.beginning(), small_searches.stopped(),
    ):  # fmt: skip
        yield f"/find/{key}/"


POT = "mix=seed mix&container=seed tray&plant=seedlings"

# The program's own name, initials, what is asked for, the shapes as they are typed, “no date” in a citation.
NAMES = {"friable", "JO", "none such", "round", "square", "tray", "cell", "basket", "n.d."}
# Built-in seasons are called by their names, as materials are.
# The size of a material is kept on one line, so that its name stands alone before it.
NAMES |= {"pine bark nursery"}
NAMES |= {*houses(), *(season.name for season in all_seasons())}
# So are groups of plants, at a stage and otherwise.
NAMES |= {name for group in plant_groups() for name in (group.title, ", ".join(group.also_called))}
# Recipes that a saying is asked of if nobody names another.
NAMES |= {
    role.usual for saying in all_sayings() for role in asked_of(saying).media if role.usual[0].isdigit()
}

SENT = [
    ("initials", {"initials": "?"}),
    ("job-new", {}),
    ("mix-write", {"look": "1", "recipe": "5 pine bark nursery + 1 perlite coarse", "container": "2 L pot"}),
    ("mix-write", {"recipe": "0 none such", "amendments": "1", "amendment-0-name": "lime", "name": ""}),
    ("pot-test", {"container": "2 L pot", "headspace": "1.5 cm", "water_in": "1 L", "drained": "300 mL"}),
    ("pot-test", {"container": "", "water_in": "many", "drained": "-1 L", "keep": "1"}),
    ("material-add", {}),
    ("container-add", {"measures": "round"}),
    ("climate-add", {"text": "a,b\n1,2\n", "latitude": "x"}),
    ("material-store", {"stock-BKP_M": "none such", "price-BKP_M": "-1 per L"}),
    ("season-new", {"collection": "mix,container,count\nnone such,round,x\n", "weathers": "0", "draws": "x"}),
    ("find", {"which": "stock", "parts": "99", "kinds": "x", "must": "none such", "within_stock": "on"}),
    ("find", {"group": "bog-grown", "which": "chosen", "low-air_space": "90 %", "high-air_space": "10 %"}),
    ("replace", {"mix": "none such", "without": "", "which": "", "drum": "60 L", "never_with": "none such"}),
    ("can-make", {"litres": "none such", "stand_ins": "1"}),
]


@pytest.mark.django_db
def test_no_page_says_a_word_that_was_not_offered_for_translation(request):
    load()
    typed = {text for _page, said in SENT for text in said.values()}
    data = Data(texts_of_records() | texts_of_tables() | typed | NAMES)
    pages = list(addresses())
    helper, stranger = on_shift(browser()), browser()
    request.getfixturevalue("marking")
    pages += searched()

    outside = {}
    for address in pages:
        answer = helper.get(address)
        assert answer.status_code in (200, 404, 422), (address, answer.status_code)
        for words in words_outside(text_of(answer), data):
            outside.setdefault(words, address)
    for name, said in SENT:
        for words in words_outside(text_of(stranger.post(reverse(name), said)), data):
            outside.setdefault(words, f"{name} {said}")

    assert not outside, "\n".join(f"{words!r} on {address}" for words, address in outside.items())
