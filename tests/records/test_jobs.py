"""Potting jobs: nothing typed is lost, a plan follows its job, an old job starts a new one."""

import pytest
from tests import cast

from friable.errors import BadQuantity, BadText, FriableError, Refused
from friable.records import actions
from friable.records.amounts import job_amounts
from friable.records.models import JobDraft
from friable.records.queries import last_open_job, open_jobs, typed_in

pytestmark = pytest.mark.django_db


def test_a_job_is_filled_in_step_by_step():
    job = cast.bench_job()

    assert (job.state, job.step) == ("draft", "amounts")
    [line] = job.lines.all()
    assert (line.count, line.headspace_cm, line.potted_from_headspace_cm) == (60, 1.5, 1.0)


def test_sixty_saplings_need_what_was_worked_by_hand():
    # Frustum volumes, 60 pots, 5 % more, 12 % lost on mixing; worked by hand, printed to 0.1 L.
    amounts = job_amounts(cast.bench_job())

    assert amounts.net_l == pytest.approx(91.2, abs=0.05)
    assert amounts.with_overage_l == pytest.approx(95.7, abs=0.06)
    assert amounts.sum_of_parts_l == pytest.approx(108.8, abs=0.06)
    assert [part.volume_l for part in amounts.parts] == pytest.approx([77.7, 15.5, 15.5], abs=0.06)
    assert all(part.known for part in amounts.parts)


def test_our_own_material_is_known_to_the_amounts():
    actions.add_material("Moorside bark", by=cast.KEEPER, table_key="BKP_M")
    actions.add_material("mystery dust", by=cast.KEEPER)
    version = actions.write_mix(
        cast.recipe("ours", (1, "Moorside bark"), (1, "mystery dust")), by=cast.KEEPER
    )

    parts = job_amounts(cast.bench_job(version)).parts

    assert [(part.title, part.known) for part in parts] == [("Moorside bark", True), ("mystery dust", False)]


def test_what_was_typed_survives_a_refusal():
    job = cast.bench_job()
    typed = {"overage": "5 % or so", "bucket": ["blue", "12 L"]}

    with pytest.raises(BadQuantity, match="overage is 7; it must be at least 0 and at most 1"):
        actions.save_job_step(job, "amounts", typed, by=cast.HELPER, overage=7.0)

    job.refresh_from_db()
    assert typed_in(job)["amounts"] == typed
    assert job.overage == 0.05


def test_what_was_typed_may_be_kept_before_anything_is_valid():
    job = actions.start_job("saplings", by=cast.HELPER)

    actions.keep_typed(job, "pots", {"count": "sixty\x00\ud800", "into": ""}, by=cast.HELPER)
    actions.keep_typed(job, "pots", {"count": "60", "into": "2 L"}, by=cast.HELPER)

    assert JobDraft.objects.get().typed == {"count": "60", "into": "2 L"}
    assert [row.typed["count"] for row in JobDraft.history.all()] == ["60", "sixty?"]


def test_far_too_much_text_is_refused():
    job = actions.start_job("saplings", by=cast.HELPER)

    with pytest.raises(BadText, match="is longer than 100000 characters"):
        actions.keep_typed(job, "pots", {"count": "6" * 100_001}, by=cast.HELPER)


def test_a_step_that_does_not_exist_is_refused():
    job = actions.start_job("saplings", by=cast.HELPER)

    for act in (actions.save_job_step, lambda *a, **b: actions.keep_typed(*a, {}, **b)):
        with pytest.raises(BadText, match="The step “party” is not one of pots, mix, amounts, batch"):
            act(job, "party", by=cast.HELPER)


def test_a_value_of_another_step_is_refused():
    job = cast.bench_job()

    with pytest.raises(Refused, match="state cannot be changed here"):
        actions.save_job_step(job, "amounts", by=cast.HELPER, state="potted")


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"count": 0}, "how many is 0; it must be at least 1 and at most 100000"),
        ({"count": 10**12}, r"how many is 1e\+12; it must be at least 1"),
        ({"headspace_cm": 14}, "headspace is 14 cm; it must be at least 0 and less than the height"),
        ({"headspace_cm": float("nan")}, "headspace is not a number"),
        ({"drainage_layer_cm": 12}, "drainage layer is 12 cm"),
        ({"root": "root ball"}, "Say which pot the root balls come from"),
    ],
)
def test_an_impossible_line_is_refused_and_the_old_ones_stay(values, said):
    job = cast.bench_job()
    line = {"container": job.lines.get().container, "count": 5, **values}

    with pytest.raises(FriableError, match=said):
        actions.save_job_step(job, "pots", by=cast.HELPER, lines=[actions.PotLine(**line)])

    assert job.lines.get().count == 60


def test_a_layer_material_needs_a_layer():
    job = cast.bench_job()
    gravel = actions.use_material("gravel", by=cast.HELPER)
    line = actions.PotLine(container=job.lines.get().container, count=5, layer_material=gravel)

    with pytest.raises(Refused, match="Give the drainage layer a depth above 0 cm"):
        actions.save_job_step(job, "pots", by=cast.HELPER, lines=[line])


def test_a_planned_job_that_is_changed_is_a_draft_again():
    job = cast.bench_job()
    batch = actions.plan_batch(job, by=cast.HELPER)

    actions.save_job_step(job, "amounts", by=cast.PROPAGATOR, overage=0.10)

    batch.refresh_from_db()
    assert job.state == "draft"
    assert (batch.state, batch.undone_by) == ("undone", cast.PROPAGATOR)
    assert batch.undo_reason == "the job was changed after planning"


def test_a_planned_job_that_is_saved_unchanged_keeps_its_batch():
    job = cast.bench_job()
    batch = actions.plan_batch(job, by=cast.HELPER)
    line = job.lines.get()

    actions.save_job_step(
        job,
        "pots",
        {"count": "60"},
        by=cast.HELPER,
        lines=[
            actions.PotLine(
                container=line.container, count=60, potted_from=line.potted_from, root="root ball"
            )
        ],
    )

    batch.refresh_from_db()
    assert (job.state, batch.state) == ("planned", "planned")
    assert job.lines.get().pk == line.pk


def test_a_mixed_job_stays_as_it_is():
    job = cast.made_batch().job

    with pytest.raises(Refused, match="“saplings” is mixed and stays as it is; clone it to do it again"):
        actions.save_job_step(job, "amounts", by=cast.HELPER, overage=0.2)
    with pytest.raises(Refused, match="clone it"):
        actions.drop_job(job, by=cast.HELPER, reason="no plants")


def test_a_clone_has_pots_mix_and_amounts_but_not_what_was_typed():
    old = cast.made_batch().job

    new = actions.clone_job(old, by=cast.PROPAGATOR, title="saplings again")

    assert (new.state, new.cloned_from, new.created_by) == ("draft", old, cast.PROPAGATOR)
    assert (new.mix_version, new.shrinkage, new.bucket) == (old.mix_version, 0.12, old.bucket)
    assert [(line.container, line.count) for line in new.lines.all()] == [
        (line.container, line.count) for line in old.lines.all()
    ]
    assert (typed_in(new), typed_in(old)) == ({}, {"pots": {"count": "60"}})
    assert job_amounts(new).sum_of_parts_l == job_amounts(old).sum_of_parts_l
    assert old.lines.count() == 1


def test_a_job_is_dropped_with_its_reason_and_its_plan():
    job = cast.bench_job()
    batch = actions.plan_batch(job, by=cast.HELPER)

    actions.drop_job(job, by=cast.KEEPER, reason="the saplings froze")

    batch.refresh_from_db()
    assert (job.state, job.dropped_reason, batch.state) == ("dropped", "the saplings froze", "undone")
    assert job not in open_jobs()


def test_a_job_is_not_dropped_without_a_reason():
    job = cast.bench_job()

    with pytest.raises(Refused, match="Say why the job is dropped"):
        actions.drop_job(job, by=cast.KEEPER, reason="  ")


def test_only_a_mixed_job_can_be_potted():
    job = cast.bench_job()
    with pytest.raises(Refused, match="“saplings” is being prepared; only a mixed job can be potted"):
        actions.mark_potted(job, by=cast.HELPER)

    batch = actions.plan_batch(job, by=cast.HELPER)
    actions.record_batch_made(batch, by=cast.HELPER, made_l=95)
    assert actions.mark_potted(job, by=cast.HELPER).state == "potted"


def test_the_last_open_job_is_the_one_changed_last():
    first = actions.start_job("first", by=cast.HELPER)
    second = actions.start_job("second", by=cast.KEEPER)
    assert last_open_job() == second

    actions.save_job_step(first, "batch", by=cast.HELPER, note="tomorrow")
    assert last_open_job() == first
    assert last_open_job(cast.KEEPER) == second
    assert last_open_job(cast.BUYER) is None


def test_jobs_due_first_stand_at_the_top():
    late = actions.start_job("late", by=cast.HELPER, due_on="2026-12-01")
    undated = actions.start_job("whenever", by=cast.HELPER)
    soon = actions.start_job("soon", by=cast.HELPER, due_on="2026-11-20")

    assert list(open_jobs()) == [soon, late, undated]


def test_litres_may_be_asked_for_in_place_of_pots():
    job = actions.start_job("stock", by=cast.HELPER)
    actions.save_job_step(job, "mix", by=cast.HELPER, mix_version=cast.potting_on())
    with pytest.raises(Refused, match="“stock” has no pots yet; say how many of which, or how many litres"):
        actions.plan_batch(job, by=cast.HELPER)

    actions.save_job_step(job, "pots", by=cast.HELPER, litres_l=40)
    actions.save_job_step(job, "amounts", by=cast.HELPER, overage=0)
    assert actions.plan_batch(job, by=cast.HELPER).planned_l == pytest.approx(40)


def test_a_job_without_a_mix_is_not_planned():
    job = actions.start_job("saplings", by=cast.HELPER)

    with pytest.raises(Refused, match="“saplings” has no mix yet; choose one"):
        actions.plan_batch(job, by=cast.HELPER)
