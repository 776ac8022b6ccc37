"""Batches: planned by the job's amounts, written down as made, undone in the open."""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from tests import cast

from friable.errors import BadQuantity, BadText, Refused
from friable.planning.container_text import parse_container
from friable.planning.forecast import forecast
from friable.records import actions, plain
from friable.records.amounts import job_amounts
from friable.records.models import Batch
from friable.records.queries import batch_coded, batches_by_state, batches_made_from, batches_with_material
from friable.records.water import batch_water_words

pytestmark = pytest.mark.django_db


def test_a_planned_batch_has_the_amounts_of_its_job():
    job = cast.bench_job()
    batch = actions.plan_batch(job, by=cast.HELPER)

    amounts = job_amounts(job)
    assert [line.planned_l for line in batch.lines.all()] == [part.volume_l for part in amounts.parts]
    assert (batch.planned_l, batch.poured_l) == (amounts.stages[0].finished_l, amounts.sum_of_parts_l)
    assert (job.state, batch.state, batch.planned_by, batch.shrinkage) == ("planned", "planned", "JO", 0.12)


def test_a_nested_batch_lists_every_stage_with_its_amendments():
    batch = cast.planned_batch(cast.nested_mix())

    amounts = job_amounts(batch.job)
    lines = list(batch.lines.all())
    assert [line.stage for line in lines] == ["potting-on mix"] * 2 + ["base A"] * 3 + ["grit base"] * 2
    assert [line.is_mix for line in lines] == [True] * 2 + [False] * 5
    by_name = {line.name: line.planned_l for line in lines if not line.is_mix}
    assert by_name == {part.material: part.volume_l for part in amounts.parts}
    [lime] = batch.amendments.all()
    base = next(stage for stage in amounts.stages if stage.mix == "base A")
    assert (lime.stage, lime.planned_g) == ("base A", pytest.approx(3.0 * base.finished_l))


def test_planning_twice_gives_one_batch():
    job = cast.bench_job()

    assert actions.plan_batch(job, by=cast.HELPER) == actions.plan_batch(job, by=cast.KEEPER)
    assert Batch.objects.count() == 1


def test_a_batch_may_be_planned_for_no_job():
    version = cast.potting_on(shrinkage=0.1)

    batch = actions.plan_litres(version, 90, by=cast.KEEPER)

    assert batch.job is None
    assert (batch.planned_l, batch.poured_l) == (pytest.approx(90), pytest.approx(100))


def test_codes_run_on_and_start_afresh_each_year():
    version = cast.potting_on()
    with time_machine.travel(datetime(2026, 12, 30, 12, tzinfo=UTC), tick=False):
        codes = [actions.plan_litres(version, 40, by=cast.KEEPER).code for _ in range(2)]
    with time_machine.travel(datetime(2027, 1, 2, 12, tzinfo=UTC), tick=False):
        codes.append(actions.plan_litres(version, 40, by=cast.KEEPER).code)

    assert [code[:6] for code in codes] == ["26-333", "26-334", "27-333"]


def test_what_was_really_put_in_stands_beside_the_plan():
    batch = cast.planned_batch(cast.potting_on(amendments=[("limestone", 3.0)]))
    bark, peat, _perlite = batch.lines.all()
    made_at = timezone.now() - timedelta(days=2)

    actions.record_batch_made(
        batch,
        by=cast.KEEPER,
        made_by="jo",
        made_at=made_at,
        made_l=95,
        put_in={bark.pk: 78, peat.pk: 15.5},
        amendments={batch.amendments.get().pk: 280},
        treated="no",
        note="perlite by eye",
    )

    batch.refresh_from_db()
    assert [line.put_in_l for line in batch.lines.all()] == [78, 15.5, None]
    assert batch.amendments.get().put_in_g == 280
    assert (batch.state, batch.made_by, batch.made_l, batch.treated) == ("made", "JO", 95, "no")
    assert batch.made_at == made_at
    assert batch.entered_at > made_at
    assert batch.job.state == "mixed"


def test_a_batch_is_a_snapshot_of_the_recipe_as_it_was():
    version = cast.potting_on(cautions=("Moisten the bark.",), top_dressing="grit")
    ours = actions.add_material("Moorside bark", by=cast.KEEPER, table_key="BKP_M")
    other = actions.write_mix(cast.recipe("ours", (1, "Moorside bark")), by=cast.KEEPER)
    batch, mine = cast.planned_batch(version), actions.plan_litres(other, 40, by=cast.KEEPER)

    actions.change_mix(version.mix, by=cast.KEEPER, name="bark mix")
    actions.change_material(ours, by=cast.KEEPER, name="Moorside fines")

    batch.refresh_from_db()
    assert (batch.mix_name, batch.top_dressing) == ("potting-on bark", "grit")
    assert [caution.text for caution in batch.cautions.all()] == ["Moisten the bark."]
    assert mine.lines.get().name == "Moorside bark"


def test_a_batch_keeps_what_its_label_warned_of():
    version = cast.potting_on(not_for="heaths", use_within_days=14)
    batch = cast.made_batch(version)
    unused = actions.new_mix_version(version.mix, cast.potting_on_recipe(use_within_days=7), by=cast.KEEPER)

    assert (unused.not_for, unused.use_within_days) == ("", 7)
    again = actions.correct_batch(batch, by=cast.KEEPER, reason="wrong bin")
    batch.refresh_from_db()
    for one in (batch, again):
        assert (one.not_for, one.use_within_days) == ("heaths", 14)


def test_a_batch_keeps_the_water_it_was_planned_with():
    job = cast.bench_job()
    actions.save_job_step(job, "amounts", by=cast.HELPER, moisture_now=0.3, moisture_wanted=0.5)
    batch = actions.plan_batch(job, by=cast.HELPER)

    density = forecast(
        plain.resolve_parts(job.mix_version), parse_container("round 12/9/12 cm")
    ).dry_bulk_density_g_cm3
    # A balance of mass: dry/0.5 - dry/0.7, the dry mass being density times litres.
    assert batch.water_l == pytest.approx(density.value * batch.planned_l * (1 / 0.5 - 1 / 0.7), rel=1e-6)
    assert batch.water_low_l < batch.water_l < batch.water_high_l
    assert batch_water_words(batch).endswith("from 30 to 50 % of the wet mass")

    again = actions.correct_batch(batch, by=cast.KEEPER, reason="wrong bin")
    assert batch_water_words(again) == batch_water_words(batch)


def test_another_moisture_plans_the_batch_afresh():
    job = cast.bench_job()
    dry = actions.plan_batch(job, by=cast.HELPER)
    assert batch_water_words(dry) == ""

    actions.save_job_step(job, "amounts", by=cast.HELPER, moisture_now=0.3, moisture_wanted=0.5)

    dry.refresh_from_db()
    assert (dry.state, job.state) == ("undone", "draft")
    with pytest.raises(Refused, match="spread it out to dry"):
        actions.save_job_step(job, "amounts", by=cast.HELPER, moisture_now=0.6, moisture_wanted=0.5)
    with pytest.raises(Refused, match="or neither"):
        actions.save_job_step(job, "amounts", by=cast.HELPER, moisture_now=None)


def test_what_is_inside_a_mix_warns_for_the_whole():
    cast.potting_on("base", not_for="heaths", use_within_days=10)
    whole = actions.write_mix(
        cast.recipe(
            "whole", (3, "base"), (1, "crushed granite grit"), not_for="bog plants", use_within_days=30
        ),
        by=cast.KEEPER,
    )

    batch = actions.plan_litres(whole, 40, by=cast.KEEPER)

    assert (batch.not_for, batch.use_within_days) == ("bog plants, heaths", 10)


@pytest.mark.parametrize(
    ("values", "refusal", "said"),
    [
        ({"made_l": 0}, BadQuantity, "finished volume made is 0 L; it must be above 0"),
        ({"made_l": float("inf")}, BadQuantity, "finished volume made is inf L"),
        ({"made_l": 95, "made_by": "?"}, BadText, "The initials “[?]” must be one to 6 letters"),
        ({"made_l": 95, "treated": "half"}, Refused, "Treated: "),
        ({"made_l": 95, "put_in": {0: 3}}, Refused, "Line 0 is not one of batch"),
        ({"made_l": 95, "amendments": {7: 3}}, Refused, "Line 7 is not one of batch"),
        ({"made_l": 95, "made_at": timezone.now() + timedelta(days=400)}, Refused, "which is still to come"),
    ],
)
def test_an_impossible_record_is_refused_and_the_batch_stays_planned(values, refusal, said):
    batch = cast.planned_batch()

    with pytest.raises(refusal, match=said):
        actions.record_batch_made(batch, by=cast.HELPER, **values)

    batch.refresh_from_db()
    assert (batch.state, batch.made_l) == ("planned", None)


def test_a_negative_amount_is_refused_and_nothing_of_the_record_is_kept():
    batch = cast.planned_batch()
    bark, peat, _perlite = batch.lines.all()

    with pytest.raises(BadQuantity, match="put in is -1 L; it must be at least 0"):
        actions.record_batch_made(batch, by=cast.HELPER, made_l=95, put_in={bark.pk: 78, peat.pk: -1})

    assert [line.put_in_l for line in batch.lines.all()] == [None, None, None]


def test_a_batch_is_made_once():
    batch = cast.made_batch()

    with pytest.raises(Refused, match=f"Batch {batch.code} is made; it cannot be written down as made again"):
        actions.record_batch_made(batch, by=cast.HELPER, made_l=95)


def test_a_wrong_batch_is_undone_in_the_open():
    batch = cast.made_batch()

    actions.undo_batch(batch, by=cast.KEEPER, reason="wrong bin")

    batch.refresh_from_db()
    assert (batch.state, batch.undone_by, batch.undo_reason) == ("undone", "MK", "wrong bin")
    assert (batch.made_by, batch.made_l) == ("JO", 95)
    assert batch.undone_at is not None
    assert batch.lines.count() == 3
    assert batch.job.state == "draft"


def test_undoing_needs_a_reason_and_happens_once():
    batch = cast.made_batch()
    with pytest.raises(Refused, match=f"Say why batch {batch.code} is undone"):
        actions.undo_batch(batch, by=cast.KEEPER, reason=" ")

    actions.undo_batch(batch, by=cast.KEEPER, reason="wrong bin")
    with pytest.raises(Refused, match="is undone already, by MK"):
        actions.undo_batch(batch, by=cast.HELPER, reason="again")


def test_a_corrected_batch_points_at_the_wrong_one():
    wrong = cast.made_batch(cast.potting_on(amendments=[("limestone", 3.0)], cautions=("Dusty.",)))

    right = actions.correct_batch(wrong, by=cast.KEEPER, reason="perlite was counted twice")

    wrong.refresh_from_db()
    assert (wrong.state, wrong.corrected_by, right.corrects) == ("undone", right, wrong)
    assert [(line.name, line.planned_l, line.put_in_l) for line in right.lines.all()] == [
        (line.name, line.planned_l, None) for line in wrong.lines.all()
    ]
    assert right.amendments.get().put_in_g is None
    assert right.cautions.get().text == "Dusty."
    assert right.job.state == "planned"

    actions.record_batch_made(right, by=cast.KEEPER, made_l=93)
    assert right.job.state == "mixed"
    with pytest.raises(Refused, match="is undone already"):
        actions.correct_batch(wrong, by=cast.KEEPER, reason="again")


def test_a_batch_is_found_by_its_code_as_it_was_written():
    batch = cast.made_batch()

    assert batch_coded(batch.code.replace("-", " ").lower()) == batch
    assert batch_coded("26-334J") is None or batch.code == "26-334J"


def test_batches_are_found_by_state_version_and_material():
    whole = cast.nested_mix()
    made = cast.made_batch(whole)
    planned = actions.plan_litres(cast.potting_on(), 40, by=cast.KEEPER)

    assert list(batches_by_state()) == [planned, made]
    assert list(batches_by_state("made")) == [made]
    assert list(batches_made_from(cast.mix("base A").versions.get())) == [made]
    perlite = actions.use_material("perlite coarse", by=cast.KEEPER)
    coir = actions.use_material("coir pith", by=cast.KEEPER)
    assert list(batches_with_material(perlite)) == [planned, made]
    assert list(batches_with_material(coir)) == [made]


class PlansEqualAmounts(TestCase):
    """Whatever the mix and the volume, the batch lists what planning works out."""

    @given(
        parts=st.lists(st.integers(1, 40), min_size=4, max_size=4),
        inner_lost=st.floats(0, 0.3),
        lost=st.floats(0, 0.3),
        litres=st.floats(0.5, 5000),
    )
    @settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow])
    def test_lines_add_up_to_the_amounts(self, parts, inner_lost, lost, litres):
        a, b, c, d = parts
        inner = actions.write_mix(
            cast.recipe("inner", (a, "coir pith"), (b, "perlite coarse"), shrinkage=inner_lost),
            by=cast.KEEPER,
        )
        top = actions.write_mix(
            cast.recipe("top", (c, "inner"), (d, "perlite coarse"), shrinkage=lost), by=cast.KEEPER
        )

        batch = actions.plan_litres(top, litres, by=cast.KEEPER)

        lines = list(batch.lines.all())
        poured = {name: 0.0 for name in ("coir pith 0-5 mm", "perlite coarse 2-6 mm")}
        for line in lines:
            if not line.is_mix:
                poured[line.name] += line.planned_l
        # Mass balance by hand: each stage pours its finished volume over what it keeps.
        top_poured = litres / (1 - lost)
        inner_poured = top_poured * c / (c + d) / (1 - inner_lost)
        assert poured["coir pith 0-5 mm"] == pytest.approx(inner_poured * a / (a + b), rel=1e-6)
        assert poured["perlite coarse 2-6 mm"] == pytest.approx(
            inner_poured * b / (a + b) + top_poured * d / (c + d), rel=1e-6
        )
        assert sum(poured.values()) == pytest.approx(batch.poured_l, rel=1e-9)
        assert inner.pk == lines[0].batch.mix_version.lines.get(position=1).sub_mix_id
