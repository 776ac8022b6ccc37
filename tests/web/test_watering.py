"""Watering in a browser without scripts: what is asked of a pot, and a pot weighed twice."""

import html
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from tests import cast
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, RIGHT_TO_LEFT, TEMPLATE

from friable.records.models import Container, PotWeighing

pytestmark = pytest.mark.django_db

MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
ASKED = {"mix": MIX, "container": "round 17/12/13 cm", "headspace": "1.5 cm", "plant": "shrubs"}


def at(hours_ago):
    return timezone.localtime(timezone.now() - timedelta(hours=hours_ago)).strftime("%Y-%m-%dT%H:%M")


def weighed(**changes):
    """What is sent for a pot that lost 180 g in a day."""
    return {
        "first": "1.42 kg", "first_at": at(26), "second": "1.24 kg", "second_at": at(2), "scale_step": "5 g",
        **changes,
    }  # fmt: skip


def weigh_address(**changes):
    from urllib.parse import urlencode

    return f"/watering/weigh?{urlencode({**ASKED, **changes})}"


def test_a_first_look_asks_for_a_mix_and_names_what_is_usual(helper):
    cast.two_litre_pot()

    page = text_of(helper.get("/watering/"))

    assert 'value="2 L pot"' in page
    assert '<option value="temperate glasshouse summer" selected>' in page
    assert "Name a mix: how a watering runs through" in page


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"mix": "5 moon dust"}, "No material is called “moon dust”"),
        ({"mix": MARKUP}, "does not begin with a number"),
        ({"mix": TEMPLATE}, "does not begin with a number"),
        ({"mix": RIGHT_TO_LEFT}, "hidden character"),
        ({"mix": "x" * 2001}, "it may have 2000"),
        ({"container": "moon pot"}, "No container is called “moon pot”"),
        ({"headspace": "14 cm"}, "less than the height of the container"),
        ({"climate": "the moon"}, "This is not in the list any more"),
        ({"plant": "triffids"}, "This is not in the list any more"),
        ({"first_day": "2026-02-30"}, "This is not a day of the calendar"),
        ({"first_day": "2026-07-01"}, "A built-in season is the same every day"),
        ({"climate": "stored-99999999999999999999"}, "This is not in the list any more"),
        ({"base": "mat"}, "does not say all that it needs"),
        ({"base": "open holes", "base_amount": "2 cm"}, "Open holes have no depth"),
        ({"base": "saucer", "base_amount": "2 cm"}, "is in a unit of another kind"),
        ({"base": "standing water", "base_amount": "NaN cm"}, "standing water NaN cm"),
        ({"dose": "-1 L"}, "is below 0"),
        ({"dose": "inf L"}, "is not a finite number"),
        ({"rate": "6 L"}, "is no volume per time"),
        ({"factor": "NaN"}, "is no use of water"),
        ({"factor": "99"}, "it must be from 0.05 to 10"),
        ({"used": "0 %"}, "Give a share above 0 %"),
        ({"used": "100 %"}, "from 0 to less than 100 %"),
        ({"layer": "3 cm"}, "Say what the drainage layer is made of"),
        ({"layer": "3 cm", "layer_material": "moon dust"}, "moon dust"),
    ],
)
def test_what_cannot_be_followed_is_refused_in_a_sentence_and_stays(helper, asked, sentence):
    answer = helper.get("/watering/", {**ASKED, "dose": "400 mL", **asked})

    page = html.unescape(text_of(answer))
    assert answer.status_code == 422 or "first_day" in asked
    assert sentence in page
    for text in asked.values():
        assert text in page or text in ("the moon", "triffids") or text.startswith("stored")
    assert "<script>alert" not in text_of(answer)


def test_two_weighings_fix_the_use_of_a_pot(helper):
    answer = helper.post(weigh_address(), weighed())

    assert answer.status_code == 302
    kept = PotWeighing.objects.get()
    assert answer["Location"].startswith("/watering/?mix=5+pine")
    assert (kept.recipe_text, kept.plant, kept.done_by) == (MIX, "shrubs", "JO")
    assert kept.container == Container.objects.get()
    # 1.5 cm below the rim the pot is 16.42 cm wide, 211.8 cm2: 180 g are 8.50 mm, worked by hand.
    assert kept.factor * kept.reference_mm == pytest.approx(8.50, rel=0.005)
    assert kept.factor_low < kept.factor < kept.factor_high


def test_a_stored_mix_is_weighed_by_its_version(helper):
    version = cast.potting_on()
    cast.two_litre_pot()

    helper.post(weigh_address(mix="potting-on bark", container="2 L pot", headspace=""), weighed())

    kept = PotWeighing.objects.get()
    assert (kept.mix_version, kept.recipe_text, kept.container.name) == (version, "", "2 L pot")
    assert "potting-on bark, version 1" in text_of(helper.get("/watering/"))


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({"second": "1.5 kg"}, "The pot gained 80 g"),
        ({"second": "1.42 kg"}, "too little for a scale with steps of 5 g"),
        ({"second": ""}, "The second weighing is missing"),
        ({"first": "NaN kg"}, "is not a finite number"),
        ({"first": "1e308 kg"}, "is too large"),
        ({"first_at": at(1)}, "The second weighing must come after the first"),
        ({"first_at": "yesterday"}, "This is not a day and time"),
        ({"watered_between": "on"}, "The pot was watered between the weighings"),
        ({"second_at": at(-48), "first_at": at(-24)}, "still to come"),
        ({"first_at": at(24 * 40)}, "More than three weeks"),
        ({"scale_step": "0 g"}, "nothing at all"),
    ],
)
def test_weighings_that_tell_nothing_are_refused_and_stay(helper, sent, sentence):
    answer = helper.post(weigh_address(), weighed(note="kept note", **sent))

    page = html.unescape(text_of(answer))
    assert answer.status_code == 422
    assert sentence in page
    assert "kept note" in page
    assert not PotWeighing.objects.exists()


def test_weighing_asks_first_which_pot_it_is(helper):
    answer = helper.get("/watering/weigh", follow=True)

    assert answer.redirect_chain
    assert "Say first which mix in which pot it is." in text_of(answer)


def test_a_wrong_weighing_is_withdrawn_in_the_open(helper):
    helper.post(weigh_address(), weighed())
    kept = PotWeighing.objects.get()
    address = f"/watering/weighing/{kept.pk}/withdraw"

    assert "The reason is missing" in text_of(helper.post(address, {"reason": ""}))
    helper.post(address, {"reason": "watered between"})

    kept.refresh_from_db()
    assert (kept.withdrawn_by, kept.withdrawn_reason) == ("JO", "watered between")
    assert "Weighed twice lately" not in text_of(helper.get("/watering/"))


def test_a_stranger_is_asked_for_initials_before_a_weighing_is_kept(stranger):
    answer = stranger.post(weigh_address(), weighed())

    assert answer.status_code == 422
    assert "Initials are missing" in text_of(answer)
    assert stranger.post(weigh_address(), weighed(signed_by="tb")).status_code == 302
    assert PotWeighing.objects.get().done_by == "TB"


def test_nobody_may_what_the_guard_does_not_let_them(helper, monkeypatch):
    helper.post(weigh_address(), weighed())
    kept = PotWeighing.objects.get()
    monkeypatch.setattr("friable.web.guard.local_person_may", lambda _act: False)

    for name, args in (
        ("watering", []), ("watering-compare", []), ("watering-weigh", []), ("watering-withdraw", [kept.pk]),
    ):  # fmt: skip
        assert helper.get(reverse(name, args=args), ASKED).status_code == 403, name
    assert helper.post(f"/watering/weighing/{kept.pk}/withdraw", {"reason": "x"}).status_code == 403
    assert helper.post(weigh_address(), weighed()).status_code == 403
    assert PotWeighing.objects.get().withdrawn_at is None


def test_ten_megabytes_are_refused_in_one_sentence(helper):
    answer = helper.post(weigh_address(), weighed(note="x" * 10_000_000))

    assert answer.status_code == 413
    assert "it must be at most 1 MB" in text_of(answer)


def test_nothing_typed_is_lost_however_long_it_is(helper):
    flood = "y" * 800_000

    answer = helper.post(weigh_address(), weighed(note=flood))

    assert answer.status_code == 422
    assert flood in text_of(answer)


def test_a_comparison_takes_over_the_pot_one_comes_from(helper):
    answer = helper.get("/watering/compare/", {"mix": "5 moon dust", "container": "round 17/12/13 cm"})

    page = html.unescape(text_of(answer))
    assert answer.status_code == 422
    assert 'name="a-mix" value="5 moon dust"' in page
    assert "No material is called “moon dust”" in page
    assert "Choice D" in page


def test_whoever_asks_first_is_told_that_it_takes_longer_once(helper, monkeypatch, tmp_path):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert "The first answer after installing takes about" in text_of(helper.get("/watering/"))

    (tmp_path / "ready-pot").touch()

    assert "The first answer" not in text_of(helper.get("/watering/"))


def test_a_pot_is_answered_first_in_a_sentence_with_its_range(helper):
    answer = helper.get("/watering/", ASKED)

    page = html.unescape(text_of(answer))
    assert answer.status_code == 200
    answered = page[page.index('class="reading"') :]
    assert "Water it about every" in answered
    for words in (
        "Water it again after", "Too wet after watering", "Runs through", "Four moments",
        "of the full weight of mix and water", "of the water between full and dry", "unglazed clay",
        "An old root ball",
    ):  # fmt: skip
        assert words in answered, words
    assert answered.index("Water it about every") < answered.index('name="mix"')
    assert " style=" not in page


def test_what_the_page_says_is_what_planning_says(helper):
    from friable.planning.container_text import parse_container
    from friable.planning.plain_season import plain_season
    from friable.planning.watering import WateringCase, watering, watering_reading
    from friable.reference.materials import find_material
    from friable.reference.plant_water import find_plant

    names = ("pine bark nursery", "sphagnum peat medium", "perlite coarse")
    parts = tuple((find_material(name), volume) for name, volume in zip(names, (5.0, 1.0, 1.0), strict=True))
    case = WateringCase(
        parts=parts,
        container=parse_container("round 17/12/13 cm").with_headspace(1.5),
        climate=plain_season("temperate glasshouse summer", 60),
        plant=find_plant("shrubs"),
    )

    said = watering_reading(watering(case))

    assert said in html.unescape(text_of(helper.get("/watering/", ASKED)))


def test_a_weighed_pot_is_followed_by_its_own_use(helper):
    helper.post(weigh_address(), weighed())

    page = text_of(helper.get("/watering/", ASKED))

    assert "This pot's own use is taken" in html.unescape(page)
    other = text_of(helper.get("/watering/", {**ASKED, "plant": "ferns"}))
    assert "own use is taken" not in other


def test_both_sides_of_a_drainage_layer_are_told(helper):
    page = text_of(helper.get("/watering/", {**ASKED, "layer": "3 cm", "layer_material": "gravel"}))

    assert "The drainage layer, both sides" in page
    assert "broken films" in page
    assert "continuous films" in page


def test_choices_stand_side_by_side(helper):
    asked = {"a-mix": MIX, "a-container": "round 17/12/13 cm", "b-container": "tray 50x30x4 cm"}
    page = html.unescape(text_of(helper.get("/watering/compare/", asked)))

    assert page.index("Choices side by side") < page.index("Choice A")  # the answer comes first
    assert f"A: {MIX[:59]}" in page
    assert page.count("Water it about every") == 2
    assert 'data-chart="spec-mass"' in page
