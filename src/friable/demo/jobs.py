"""Jobs and batches of Quillmoor in every state; all invented."""

from datetime import timedelta

from django.utils import timezone

from friable.demo.people import HELPER, KEEPER, PROPAGATOR, RESEARCHER, days_ago
from friable.records import actions
from friable.records.actions import PotLine
from friable.records.models import Batch, Bucket, Container, Material, Mixer, MixVersion, PottingJob, Scale

Tools = tuple[Bucket, Bucket, Mixer, Scale]
Pots = dict[str, Container]
Mixes = dict[str, MixVersion]


def write_jobs(rows: dict[str, Material], pots: Pots, mixes: Mixes, tools: Tools, marker: str) -> None:
    """Write the jobs down: two planned, two drafts, one mixed, one potted, one dropped."""
    saplings = _job(
        "Sixty saplings on into 2 L",
        HELPER,
        2,
        [PotLine(container=pots["2 L pot"], count=60, potted_from=pots["9 cm pot"], root="root ball")],
        mixes[marker],
        tools,
    )
    actions.plan_batch(saplings, by=HELPER)

    stock = actions.start_job("Peat-free stock for the trial bench", by=KEEPER, due_on=_day(6))
    actions.save_job_step(stock, "pots", by=KEEPER, litres_l=240)
    actions.save_job_step(stock, "mix", by=KEEPER, mix_version=mixes["potting-on mix"])
    _amounts(stock, KEEPER, tools, overage=0.0)
    actions.plan_batch(stock, by=KEEPER)

    orchids = _job(
        "Cattleyas, house 3",
        PROPAGATOR,
        -9,
        [
            PotLine(container=pots["orchid basket"], count=14, root="bare root"),
            PotLine(container=pots["1 L pot"], count=8, root="bare root"),
        ],
        mixes["epiphyte bark"],
        tools,
        shrinkage=0.02,
    )
    _made(actions.plan_batch(orchids, by=PROPAGATOR, planned_at=days_ago(10)), PROPAGATOR, 9)

    alpines = _job(
        "Gentians into 3 L",
        KEEPER,
        -24,
        [
            PotLine(
                container=pots["3 L pot"],
                count=18,
                potted_from=pots["9 cm pot"],
                root="root ball",
                drainage_layer_cm=1.5,
                layer_material=rows["GRAV"],
            )
        ],
        mixes["alpine mix"],
        tools,
        shrinkage=0.05,
    )
    _made(actions.plan_batch(alpines, by=KEEPER, planned_at=days_ago(26)), HELPER, 24)
    actions.mark_potted(alpines, by=KEEPER)

    lilies = _job(
        "Divide the water lilies",
        KEEPER,
        -40,
        [PotLine(container=pots["pond basket"], count=6, root="bare root")],
        mixes["pond basket loam"],
        tools,
    )
    actions.drop_job(lilies, by=KEEPER, reason="too late in the year; in April")

    _job("Gentians, second lot", HELPER, 12, [], None, tools, clone=alpines)

    cuttings = actions.start_job("Semi-ripe cuttings", by=PROPAGATOR, due_on=_day(4))
    actions.save_job_step(
        cuttings,
        "pots",
        by=PROPAGATOR,
        lines=[PotLine(container=pots["cutting cell"], count=240)],
        note="Four sheets; the fuchsias first.",
    )


def make_stock(mixes: Mixes) -> None:
    """Make batches for no job, one of them wrong and corrected in the open."""
    for name, litres_l, days, who in (
        ("seed mix", 40.0, 48, PROPAGATOR),
        ("cactus mix", 25.0, 31, HELPER),
        ("bog mix", 50.0, 17, RESEARCHER),
    ):
        planned = actions.plan_litres(mixes[name], litres_l, by=who, planned_at=days_ago(days + 1))
        _made(planned, who, days)

    wrong = actions.plan_litres(mixes["cutting mix"], 30.0, by=PROPAGATOR, planned_at=days_ago(14))
    _made(wrong, HELPER, 14)
    right = actions.correct_batch(
        wrong, by=PROPAGATOR, reason="fine perlite was tipped in from the sack beside it"
    )
    _made(right, PROPAGATOR, 13, "Made afresh with coarse perlite; the wrong one went on the heap.")


def _job(
    title: str,
    by: str,
    due_in: int,
    lines: list[PotLine],
    version: MixVersion | None,
    tools: Tools,
    *,
    shrinkage: float | None = None,
    clone: PottingJob | None = None,
) -> PottingJob:
    if clone is not None:
        return actions.clone_job(clone, by=by, title=title, due_on=_day(due_in))
    job = actions.start_job(title, by=by, due_on=_day(due_in))
    actions.save_job_step(job, "pots", by=by, lines=lines)
    actions.save_job_step(job, "mix", by=by, mix_version=version)
    return _amounts(job, by, tools, overage=0.05, shrinkage=shrinkage)


def _amounts(
    job: PottingJob, by: str, tools: Tools, *, overage: float, shrinkage: float | None = None
) -> PottingJob:
    blue, _grey, mixer, scale = tools
    return actions.save_job_step(
        job,
        "amounts",
        by=by,
        overage=overage,
        shrinkage=shrinkage,
        bucket=blue,
        mixer=mixer,
        scale=scale,
    )


def _made(batch: Batch, by: str, days: int, note: str = "") -> None:
    """Write a batch down as made: half litres by bucket, whole grams."""
    actions.record_batch_made(
        batch,
        by=by,
        made_at=days_ago(days, hour=14),
        made_l=round(2 * batch.planned_l) / 2,
        put_in={line.pk: max(0.5, round(2 * line.planned_l) / 2) for line in batch.lines.all()},
        amendments={row.pk: round(row.planned_g) for row in batch.amendments.all()},
        treated="no",
        note=note,
    )


def _day(ahead: int):
    return timezone.localdate() + timedelta(days=ahead)
