"""Mix, amounts and batch of a job; cloning, dropping, potted."""

import re

import pytest
from tests import cast
from tests.sheets.pages import text_of as words_on
from tests.web.conftest import text_of

from friable.records import actions
from friable.records.models import Batch, PottingJob

# Worked by hand from the printed sizes of the pots: 91.2 L net, 95.7 L with overage, 108.8 L as sum of parts.
SUM_OF_PARTS = "108.8"
AMOUNTS = {"overage": "5 %", "settling": "0 %", "shrinkage": "12 %", "bucket": "", "mixer": ""}


@pytest.fixture
def job(db):
    """A job with pots, mix and amounts."""
    return cast.bench_job()


def test_a_mix_is_looked_at_before_it_is_chosen(helper, job):
    other = actions.write_mix(cast.recipe("all bark", (1, "pine bark nursery")), by=cast.KEEPER)

    page = text_of(helper.get(f"/jobs/{job.pk}/mix?version={other.pk}"))

    assert "Use all bark" in page
    assert "% air" in page
    assert "<svg" in page
    assert "Plain averaging of the materials would say" in page
    assert "The widest range comes in with" in page
    assert "trust which mix is airier" in page
    job.refresh_from_db()
    assert job.mix_version.name == "potting-on bark"


def test_a_shallow_tray_says_that_it_stays_wet(helper):
    job = actions.start_job("plugs", by=cast.HELPER)
    tray = {
        "lines": "1",
        "title": "plugs",
        "line-0-count": "4",
        "line-0-into": "tray 50x30x4 cm",
        "line-0-root": "none",
    }
    assert helper.post(f"/jobs/{job.pk}/pots", tray).status_code == 302
    version = cast.potting_on()

    page = text_of(helper.get(f"/jobs/{job.pk}/mix?version={version.pk}"))

    assert "In this 4 cm tray" in page


def test_a_drainage_layer_shows_what_it_takes_and_both_cases(helper):
    job = actions.start_job("layer trial", by=cast.HELPER)
    line = {"count": "1", "into": "round 12/9/12 cm", "root": "none", "drainage_layer": "3 cm"}
    line["layer_material"] = "gravel"
    sent = {"lines": "1", "title": "layer trial", **{f"line-0-{name}": text for name, text in line.items()}}
    assert helper.post(f"/jobs/{job.pk}/pots", sent).status_code == 302

    page = text_of(helper.get(f"/jobs/{job.pk}/mix?version={cast.potting_on().pk}"))

    # Frustums worked by hand: the lowest 3 of 12 cm of a 12/9/12 cm pot hold 0.207 of 1.046 L.
    assert "The drainage layer takes 19.8 % of the filled volume" in page
    assert "What is published for and against drainage layers" in page
    assert "if they hold together" in page


def test_cautions_stand_where_hands_are_at_risk(helper, job):
    for step in ("mix", "amounts"):
        page = text_of(helper.get(f"/jobs/{job.pk}/{step}"))
        assert "Open bags away from the face" in page
        assert "workplace" in page


def test_choosing_a_mix_leads_on_to_the_amounts(helper, job):
    other = actions.write_mix(cast.recipe("all bark", (1, "pine bark nursery")), by=cast.KEEPER)

    answer = helper.post(f"/jobs/{job.pk}/mix", {"version": other.pk})

    assert answer["Location"] == f"/jobs/{job.pk}/amounts"
    job.refresh_from_db()
    assert job.mix_version == other


def test_the_shrinkage_of_one_mix_is_not_carried_over_to_another(helper, job):
    helper.post(f"/jobs/{job.pk}/amounts", AMOUNTS)
    other = actions.write_mix(
        cast.recipe("all bark", (1, "pine bark nursery"), shrinkage=0.04), by=cast.KEEPER
    )

    helper.post(f"/jobs/{job.pk}/mix", {"version": other.pk})

    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))
    assert 'name="shrinkage" value="4 %"' in page
    assert 'name="overage" value="5 %"' in page
    assert "Measured here for this mix: 4 %" in page


@pytest.mark.parametrize("wanted", ["", "4711", "abc", "99999999999999999999", "<script>"])
def test_a_mix_that_is_not_in_the_list_is_refused(helper, job, wanted):
    answer = helper.post(f"/jobs/{job.pk}/mix", {"version": wanted})

    assert answer.status_code == 422
    assert "choose" in text_of(answer)
    assert helper.get(f"/jobs/{job.pk}/mix", {"version": wanted}).status_code == 200


def test_a_material_of_which_nothing_is_known_takes_the_forecast_away_only(helper, job):
    actions.add_material("grandfather's grit", by=cast.KEEPER)
    mix = actions.write_mix(cast.recipe("gritty", (1, "grandfather's grit")), by=cast.KEEPER)

    page = text_of(helper.get(f"/jobs/{job.pk}/mix?version={mix.pk}"))

    assert "Nothing is known of grandfather&#x27;s grit" in page
    assert "Use gritty" in page


def test_the_amounts_are_those_worked_by_hand(helper, job):
    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    assert f"{SUM_OF_PARTS} L of parts" in page
    litres = [float(x) for x in re.findall(r'<td class="n big">([\d.]+)', page)]
    assert litres[:3] == pytest.approx([77.7, 15.5, 15.5], abs=0.11)
    assert sum(litres[:3]) == pytest.approx(litres[3])
    assert "60 × 2 L = 120 L ignores taper, headspace and the root ball" in page
    assert "6 and 5." in page  # buckets of 12 L
    assert "root ball from round 9/6/8.5 cm" in page  # the working


def test_the_forecast_shrinkage_is_offered_and_may_be_overridden(helper, job):
    actions.save_job_step(job, "amounts", by=cast.HELPER, shrinkage=None)

    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    assert "Forecast for this mix:" in page
    assert re.search(r'name="shrinkage" value="[\d.]+ %"', page)


def test_bags_are_ordered_for_the_lowest_yield(helper, job):
    peat = actions.use_material("sphagnum peat medium", by=cast.KEEPER)
    actions.add_pack(peat, "small bale", by=cast.KEEPER, declared_l=8, yield_low=1.34, yield_high=2.0)

    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    # 15.5 L; a bale gives 10.7 to 16 L.
    assert "2 × small bale of sphagnum peat medium" in page
    assert "Order 2, for the lowest yield; 1 would do at the highest." in page


def test_working_it_out_keeps_nothing_but_what_was_typed(helper, job):
    answer = helper.post(f"/jobs/{job.pk}/amounts", {**AMOUNTS, "shrinkage": "50 %", "work": "1"})

    assert answer.status_code == 200
    assert "191.5 L of parts" in text_of(answer)  # 91.17 L x 1.05 / 0.5, worked by hand
    job.refresh_from_db()
    assert job.shrinkage == 0.12
    assert 'value="50 %"' in text_of(helper.get(f"/jobs/{job.pk}/amounts"))


def test_looking_needs_no_initials_but_keeping_does(stranger, job):
    assert stranger.post(f"/jobs/{job.pk}/amounts", {**AMOUNTS, "work": "1"}).status_code == 200

    refused = stranger.post(f"/jobs/{job.pk}/amounts", AMOUNTS)
    assert refused.status_code == 422
    assert "Initials are missing" in text_of(refused)
    assert 'value="12 %"' in text_of(refused)

    kept = stranger.post(f"/jobs/{job.pk}/amounts", {**AMOUNTS, "signed_by": "jo"})
    assert kept["Location"] == f"/jobs/{job.pk}/batch"


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("overage", "5"),
        ("overage", ""),
        ("shrinkage", "100 %"),
        ("shrinkage", "NaN"),
        ("settling", "-1 %"),
        ("settling", "1e308 %"),
        ("overage", "5 %\t12 L"),
        ("overage", "💧"),
    ],
)
def test_an_impossible_share_is_refused_where_it_was_typed(helper, job, field, text):
    answer = helper.post(f"/jobs/{job.pk}/amounts", {**AMOUNTS, field: text})

    assert answer.status_code == 422
    page = text_of(answer)
    assert f'id="id_{field}_error"' in page
    assert f'value="{text}"' in page or not text


def test_a_batch_is_planned_once(helper, job):
    first = helper.post(f"/jobs/{job.pk}/batch")
    helper.post(f"/jobs/{job.pk}/batch")

    batch = Batch.objects.get()
    assert first["Location"] == f"/jobs/{job.pk}/batch"
    page = text_of(helper.get(f"/jobs/{job.pk}/batch"))
    assert f"Batch {batch.code}" in page
    assert f"/sheets/batch/{batch.code}" in page


def test_a_batch_needs_a_mix_and_initials(stranger, helper, job):
    empty = actions.start_job("nothing yet", by=cast.HELPER)
    refused = helper.post(f"/jobs/{empty.pk}/batch")
    assert refused.status_code == 422
    assert "has no mix yet" in text_of(refused)

    unsigned = stranger.post(f"/jobs/{job.pk}/batch")
    assert unsigned.status_code == 422
    assert "Initials are missing" in text_of(unsigned)
    assert not Batch.objects.exists()


def test_steps_show_what_is_done(helper, job):
    page = text_of(helper.get(f"/jobs/{job.pk}/batch"))

    steps = page[page.index("Steps of this job") :]
    assert steps[: steps.index("</nav>")].count(", done") == 3
    assert 'aria-current="step"' in steps


def test_a_job_is_cloned_with_its_pots_and_mix(helper, job):
    answer = helper.post(f"/jobs/{job.pk}/clone", {"title": "saplings again", "due_on": ""})

    new = PottingJob.objects.get(title="saplings again")
    assert answer["Location"] == f"/jobs/{new.pk}/pots"
    assert (new.mix_version, new.lines.get().count) == (job.mix_version, 60)
    assert job.title == "saplings"


def test_a_job_is_dropped_with_a_reason_only(helper, job):
    assert helper.post(f"/jobs/{job.pk}/drop", {"reason": ""}).status_code == 422
    assert helper.post(f"/jobs/{job.pk}/drop", {"reason": "frost took them"}).status_code == 302

    page = text_of(helper.get(f"/jobs/{job.pk}/pots"))
    assert "frost took them" in page
    assert "Keep, and go on" not in page


def test_a_mixed_job_is_potted_and_stays(helper):
    batch = cast.made_batch()

    assert helper.post(f"/jobs/{batch.job.pk}/potted").status_code == 302
    assert helper.post(f"/jobs/{batch.job.pk}/potted").status_code == 422
    refused = helper.post(f"/jobs/{batch.job.pk}/mix", {"version": batch.mix_version.pk})
    assert refused.status_code == 422
    assert "stays as it is" in text_of(refused)


def test_a_nested_mix_is_worked_out_with_its_own_shrinkages(helper):
    version = cast.nested_mix()
    job = actions.start_job("many", by=cast.HELPER)
    actions.save_job_step(job, "pots", by=cast.HELPER, lines=[], litres_l=240)
    actions.save_job_step(job, "mix", by=cast.HELPER, mix_version=version)
    actions.save_job_step(job, "amounts", by=cast.HELPER, overage=0.0)

    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    # Worked by hand: 240 / 0.94 = 255.3 L poured; of it base A 191.5 L out of 208.1 L of parts, grit base
    # 63.8 L out of 65.8 L.
    litres = [float(x) for x in re.findall(r'<td class="n big">([\d.]+)', page)]
    assert litres[:5] == pytest.approx([124.9, 62.4, 20.8, 32.9, 32.9], abs=0.11)
    assert "base A: 191.5 L finished, 8 % lost on mixing" in page
    assert "grit base: 63.8 L finished, 3 % lost on mixing" in page
    assert "574 g" in page  # 3 g/L of dolomitic limestone into 191.49 L, worked by hand


def test_the_job_and_the_mix_page_say_the_same_of_a_pot(helper, job):
    parts = {"container": "2 L pot", "headspace": "1.5 cm"}

    of_the_job = text_of(helper.get(f"/jobs/{job.pk}/mix"))
    of_the_mix = text_of(helper.get(f"/mixes/{job.mix_version.mix.pk}/", parts))

    reading = re.search(r"In this 13 cm deep pot [^<]+", of_the_job)
    assert reading
    assert reading[0] in of_the_mix


WATER = {**AMOUNTS, "moisture_now": "30 %", "moisture_wanted": "50 %", "moisture_meaning": "wet-mass"}


def test_the_moisture_wanted_is_offered_with_its_source(helper, job):
    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    assert 'name="moisture_wanted" value="50 %"' in page
    assert "Published: 50 % of the wet mass" in page
    assert "By the squeeze: no moisture is given." in page


def test_the_water_of_a_batch_is_told_and_printed(helper, job, tmp_path):
    looked = text_of(helper.post(f"/jobs/{job.pk}/amounts", {**WATER, "work": "1"}))
    told = re.search(r"[\d.]+ L \([\d.]+ to [\d.]+ L\), from 30 to 50 % of the wet mass", looked)
    assert told
    other = text_of(
        helper.post(f"/jobs/{job.pk}/amounts", {**WATER, "moisture_meaning": "water-to-dry", "work": "1"})
    )
    assert "from 30 to 50 % of the dry mass" in other
    assert told[0] not in other

    assert helper.post(f"/jobs/{job.pk}/amounts", WATER).status_code == 302
    helper.post(f"/jobs/{job.pk}/batch")
    batch = Batch.objects.get()
    printed = words_on(helper.get(f"/sheets/batch/{batch.code}").content, tmp_path)
    assert f"Water to add: {told[0].split(',')[0]}" in printed
    assert "by the squeeze" not in printed


def test_without_moistures_the_sheet_says_by_the_squeeze(helper, tmp_path):
    batch = cast.planned_batch()

    printed = words_on(helper.get(f"/sheets/batch/{batch.code}").content, tmp_path)
    assert "Water to add: by the squeeze" in printed


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"moisture_wanted": ""}, "Say which moisture is wanted too, or leave the moisture now empty."),
        ({"moisture_now": "60 %"}, "spread it out to dry, add no water."),
        ({"moisture_wanted": "100 %"}, "from 0 to less than 100 % of the wet mass"),
        ({"moisture_now": "30"}, "does not say per cent of what"),
        ({"moisture_meaning": "both"}, "not in the list"),
    ],
)
def test_moistures_that_cannot_be_are_refused_beside_their_field(helper, job, said, sentence):
    answer = helper.post(f"/jobs/{job.pk}/amounts", {**WATER, **said})

    assert answer.status_code == 422
    assert sentence in text_of(answer)
    job.refresh_from_db()
    assert job.moisture_now is None
