"""Batches: planning, writing down what was made, undoing and correcting in the open."""

from collections.abc import Iterator, Mapping
from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone

from friable.errors import Refused
from friable.planning.job_values import JobAmounts, Stage
from friable.records import plain
from friable.records.actions.act import act, in_the_past, keep, keep_lines, read_initials, refresh
from friable.records.actions.mixes import refuse_unusable
from friable.records.amounts import job_amounts, mix_amounts
from friable.records.batch_codes import batch_code
from friable.records.models import Batch, BatchAmendment, BatchCaution, BatchLine, MixVersion, PottingJob
from friable.records.water import job_water
from friable.wording import gettext as _

WATER = (
    "water_l", "water_low_l", "water_high_l", "moisture_now", "moisture_wanted", "moisture_meaning",
)  # fmt: skip
MOST_ATTEMPTS = 20  # hands that plan in the same moment


@act
def plan_batch(job: PottingJob, *, by: str, planned_at: datetime | None = None) -> Batch:
    """Plan the batch of a job; a job that is planned already keeps its batch.

    Parameters
    ----------
    planned_at : datetime, optional
        When it was planned, where that is written down later; now, if not given.

    Raises
    ------
    Refused, BadRecipe, BadQuantity
        If the job is closed, its mix is missing or incomplete, or the amounts are impossible.
    """
    refresh(job)
    standing = job.batches.filter(state="planned").order_by("-pk").first()
    if job.state == "planned" and standing is not None:
        return standing
    if not job.is_open:
        raise Refused(
            _("“{title}” is {state}; clone it to make the mix again.").format(
                title=job.title, state=job.get_state_display()
            )
        )
    amounts = job_amounts(job)
    batch = _plan(job.mix_version, amounts, by, job, planned_at)
    keep(job, state="planned", step="batch", changed_at=timezone.now())
    return batch


@act
def plan_litres(
    version: MixVersion, litres_l: float, *, by: str, planned_at: datetime | None = None
) -> Batch:
    """Plan a batch of so many finished litres, for no job."""
    return _plan(version, mix_amounts(version, litres_l), by, None, planned_at)


@act
def record_batch_made(
    batch: Batch,
    *,
    by: str,
    made_l: float,
    made_by: str = "",
    made_at: datetime | None = None,
    put_in: Mapping[int, float | None] | None = None,
    amendments: Mapping[int, float | None] | None = None,
    treated: str = "unknown",
    note: str = "",
) -> Batch:
    """Write down what was really made.

    Parameters
    ----------
    made_l : float
        Finished volume. [L]
    made_by : str
        Who mixed it; who writes it down (`by`), if not given.
    made_at : datetime, optional
        When it was mixed; now, if not given. When it is written down is kept beside it.
    put_in, amendments : mapping, optional
        pk of a batch line -> litres, pk of a batch amendment -> grams. What is left out, or None, stays
        "not written down".
    treated : str
        `yes`, `no` or `unknown`.
    """
    refresh(batch)
    if batch.state != "planned":
        raise Refused(
            _("Batch {code} is {state}; it cannot be written down as made again.").format(
                code=batch.code, state=batch.get_state_display()
            )
        )
    _put_in(batch, batch.lines, put_in or {})
    _put_in(batch, batch.amendments, amendments or {})
    keep(
        batch,
        state="made",
        made_l=made_l,
        made_by=read_initials(made_by or by),
        made_at=in_the_past(made_at, _("The time it was made")),
        entered_at=timezone.now(),
        treated=treated,
        note=note,
    )
    if batch.job is not None and batch.job.is_open:
        keep(batch.job, state="mixed", changed_at=timezone.now())
    return batch


@act
def undo_batch(batch: Batch, *, by: str, reason: str) -> Batch:
    """Undo a wrong batch in the open: it stays, with who, when and why."""
    _undo(batch, by, reason)
    job = batch.job
    if job and job.state in ("planned", "mixed") and not job.batches.exclude(state="undone").exists():
        keep(job, state="draft", changed_at=timezone.now())
    return batch


@act
def correct_batch(batch: Batch, *, by: str, reason: str) -> Batch:
    """Undo a wrong batch and return a planned one with the same lines, which corrects it."""
    _undo(batch, by, reason)
    new = _new_batch(
        by,
        timezone.now(),
        job=batch.job,
        mix_version=batch.mix_version,
        mix_name=batch.mix_name,
        top_dressing=batch.top_dressing,
        not_for=batch.not_for,
        use_within_days=batch.use_within_days,
        planned_l=batch.planned_l,
        poured_l=batch.poured_l,
        shrinkage=batch.shrinkage,
        **{column: getattr(batch, column) for column in WATER},
        corrects=batch,
    )
    for rows in (batch.lines, batch.amendments, batch.cautions):
        keep_lines(_copies(rows.order_by("position"), new))
    if batch.job is not None and batch.job.state == "mixed":
        keep(batch.job, state="planned", changed_at=timezone.now())
    return new


def undo_planned(job: PottingJob, by: str, reason: str) -> None:
    """Undo the planned batches of a job, inside another act."""
    for batch in job.batches.filter(state="planned").order_by("pk"):
        _undo(batch, by, reason)


def _undo(batch: Batch, by: str, reason: str) -> None:
    refresh(batch)
    if batch.state == "undone":
        raise Refused(
            _("Batch {code} is undone already, by {initials}.").format(
                code=batch.code, initials=batch.undone_by
            )
        )
    if not reason.strip():
        raise Refused(_("Say why batch {code} is undone.").format(code=batch.code))
    keep(batch, state="undone", undone_by=by, undone_at=timezone.now(), undo_reason=reason)


def _plan(
    version: MixVersion, amounts: JobAmounts, by: str, job: PottingJob | None, planned_at: datetime | None
) -> Batch:
    refuse_unusable(version)
    versions = plain.load_versions(version)
    top = amounts.stages[0]
    batch = _new_batch(
        by,
        in_the_past(planned_at, _("The time it was planned")),
        job=job,
        mix_version=version,
        mix_name=version.name,
        top_dressing=version.top_dressing,
        not_for=", ".join(dict.fromkeys(one.not_for for one in versions.values() if one.not_for)),
        use_within_days=min(
            (one.use_within_days for one in versions.values() if one.use_within_days), default=None
        ),
        planned_l=top.finished_l,
        poured_l=amounts.sum_of_parts_l,
        shrinkage=top.shrinkage,
        **_water(job, top.finished_l),
    )
    keep_lines(_lines(batch, versions, amounts))
    keep_lines(_amendments(batch, versions, amounts))
    cautions = dict.fromkeys(caution.text for part in versions.values() for caution in part.cautions.all())
    keep_lines(
        BatchCaution(batch=batch, position=place, text=text) for place, text in enumerate(cautions, start=1)
    )
    return batch


def _water(job: PottingJob | None, finished_l: float) -> dict[str, object]:
    """Return the columns of the water to add; none where no moisture is given."""
    found = job_water(job, finished_l) if job else None
    if found is None:
        return {}
    water = found.water_l
    values = (water.value, water.low, water.high, found.now, found.wanted, found.meaning)
    return dict(zip(WATER, values, strict=True))


def _lines(batch: Batch, versions: Mapping[int, MixVersion], amounts: JobAmounts) -> Iterator[BatchLine]:
    """What each stage pours, as planning split it; its parts stand in the order of the recipe's lines."""
    place = 0
    for stage, version in _stages(versions, amounts):
        for line, part in zip(version.lines.all(), stage.parts, strict=True):
            place += 1
            yield BatchLine(
                batch=batch,
                position=place,
                stage=stage.mix,
                name=part.name,
                material=line.material,
                is_mix=line.sub_mix_id is not None,
                parts=line.parts,
                state=line.state,
                planned_l=part.volume_l,
            )


def _stages(versions: Mapping[int, MixVersion], amounts: JobAmounts) -> Iterator[tuple[Stage, MixVersion]]:
    by_name = {name: versions[pk] for pk, name in plain.version_names(versions).items()}
    for stage in amounts.stages:
        yield stage, by_name[stage.mix]


def _amendments(
    batch: Batch, versions: Mapping[int, MixVersion], amounts: JobAmounts
) -> Iterator[BatchAmendment]:
    place = 0
    for stage, version in _stages(versions, amounts):
        for amendment in version.amendments.all():
            place += 1
            yield BatchAmendment(
                batch=batch,
                position=place,
                stage=stage.mix,
                name=amendment.name,
                rate_g_per_l=amendment.rate_g_per_l,
                caution=amendment.caution,
                planned_g=amendment.rate_g_per_l * stage.finished_l,
            )


def _new_batch(by: str, planned_at: datetime, **columns: object) -> Batch:
    """Keep a new batch under the next number of its year; of two hands at once, one waits."""
    year = timezone.localtime(planned_at).year
    attempt = 0
    while True:
        attempt += 1
        newest = Batch.objects.filter(year=year).order_by("-number").first()
        number = newest.number + 1 if newest else 1
        batch = Batch(year=year, number=number, planned_by=by, planned_at=planned_at, **columns)
        batch.code = batch_code(year, number)
        try:
            with transaction.atomic():
                return keep(batch)
        except IntegrityError:
            if attempt == MOST_ATTEMPTS:
                raise


def _copies(rows, batch: Batch):
    for row in rows:
        row.pk, row.id, row.batch, row._state.adding = None, None, batch, True
        if hasattr(row, "put_in_l"):
            row.put_in_l = None
        if hasattr(row, "put_in_g"):
            row.put_in_g = None
        yield row


def _put_in(batch: Batch, rows, amounts: Mapping[int, float | None]) -> None:
    known = {row.pk: row for row in rows.all()}
    foreign = sorted(set(amounts) - set(known))
    if foreign:
        raise Refused(_("Line {line} is not one of batch {code}.").format(line=foreign[0], code=batch.code))
    column = "put_in_l" if rows.model is BatchLine else "put_in_g"
    for pk, amount in amounts.items():
        if amount is not None:
            keep(known[pk], **{column: amount})
