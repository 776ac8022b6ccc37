"""Potting jobs: starting, filling in step by step, cloning, dropping."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from friable.errors import BadText, Refused
from friable.planning.batch_water import check_moistures
from friable.records import plain
from friable.records.actions.act import act, drop, keep, keep_lines, read_initials, refresh, refuse_unknown
from friable.records.actions.batches import undo_planned
from friable.records.actions.mixes import refuse_unusable
from friable.records.models import Container, JobDraft, JobLine, Material, PottingJob
from friable.records.models.jobs import STEPS
from friable.records.signature import signed
from friable.wording import gettext as _

MOISTURES = ("moisture_now", "moisture_wanted", "moisture_meaning")
LONGEST_TYPED = 100_000  # characters of one step, all fields together
COLUMNS = {
    "pots": {"title", "due_on", "litres_l", "note"},
    "mix": {"mix_version"},
    "amounts": {"overage", "settling", "shrinkage", "bucket", "mixer", "scale", *MOISTURES},
    "batch": {"due_on", "note"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PotLine:
    """So many pots of one kind, as the step `pots` takes them. None: the container's usual headspace."""

    container: Container
    count: int
    headspace_cm: float | None = None
    potted_from: Container | None = None
    potted_from_headspace_cm: float | None = None
    root: str = "none"
    drainage_layer_cm: float = 0.0
    layer_material: Material | None = None


@act
def start_job(title, *, by, due_on=None, note="", cloned_from=None):
    """Start a potting job."""
    return keep(PottingJob(title=title, due_on=due_on, note=note, created_by=by, cloned_from=cloned_from))


def keep_typed(job: PottingJob, step: str, typed: Mapping[str, object], *, by: str) -> JobDraft:
    """Keep what was typed into a step as it was typed, valid or not; a refusal later does not undo this.

    Raises
    ------
    BadText
        If there is no such step, or far too much was typed.
    """
    by = read_initials(by)
    if step not in STEPS:
        raise BadText(_("The step"), step, _("is not one of {steps}").format(steps=", ".join(STEPS)))
    kept = {str(name): _text(value) for name, value in typed.items()}
    if len(str(kept)) > LONGEST_TYPED:
        raise BadText(
            _("What was typed"), "", _("is longer than {most} characters").format(most=LONGEST_TYPED)
        )
    with signed(by), transaction.atomic():
        draft, new = JobDraft.objects.get_or_create(job=job, step=step, defaults={"typed": kept})
        if not new and draft.typed != kept:
            draft.typed, draft.saved_at = kept, timezone.now()
            draft.save()
    return draft


def save_job_step(
    job: PottingJob,
    step: str,
    typed: Mapping[str, object] | None = None,
    *,
    by: str,
    lines: Sequence[PotLine] | None = None,
    **values: object,
) -> PottingJob:
    """Keep what was typed into a step, then set what it means.

    Parameters
    ----------
    step : str
        One of `pots` (lines or litres_l, title, due_on, note), `mix` (mix_version), `amounts` (overage,
        settling, shrinkage, bucket, mixer, scale, moisture_now, moisture_wanted, moisture_meaning) and
        `batch` (due_on, note).
    typed : mapping, optional
        The form as it was typed; kept even where the rest is refused.

    Raises
    ------
    FriableError
        If a value is impossible, or the job is mixed already.

    Notes
    -----
    A change of pots, mix or amounts takes a planned job back to its draft; its planned batch is undone.
    """
    if typed is not None:
        keep_typed(job, step, typed, by=by)
    return _set_step(job, step, lines, values, by=by)


@act
def clone_job(job, *, by, title="", due_on=None):
    """Start a new job with the pots, mix and amounts of an old one; what was typed stays with the old."""
    new = keep(
        PottingJob(
            title=title or job.title,
            due_on=due_on,
            created_by=by,
            cloned_from=job,
            mix_version=job.mix_version,
            litres_l=job.litres_l,
            overage=job.overage,
            settling=job.settling,
            shrinkage=job.shrinkage,
            bucket=job.bucket,
            mixer=job.mixer,
            scale=job.scale,
        )
    )
    lines = list(job.lines.order_by("position"))
    for line in lines:
        line.pk, line.id, line.job, line._state.adding = None, None, new, True
    keep_lines(lines)
    return new


@act
def drop_job(job, *, by, reason):
    """Drop a job that will not be done; it stays, with its reason. A planned batch is undone with it."""
    refresh(job)
    _refuse_closed(job)
    undo_planned(job, by, _("the job was dropped"))
    return keep(job, state="dropped", dropped_reason=reason, changed_at=timezone.now())


@act
def mark_potted(job):
    """Say that the plants are potted."""
    refresh(job)
    if job.state != "mixed":
        raise Refused(
            _("“{title}” is {state}; only a mixed job can be potted.").format(
                title=job.title, state=job.get_state_display()
            )
        )
    return keep(job, state="potted", changed_at=timezone.now())


@act
def _set_step(job, step, lines, values, *, by):
    if step not in STEPS:
        raise BadText(_("The step"), step, _("is not one of {steps}").format(steps=", ".join(STEPS)))
    refresh(job)
    _refuse_closed(job)
    refuse_unknown(values, COLUMNS[step])
    before = _fingerprint(job)
    now, wanted = values.get("moisture_now"), values.get("moisture_wanted")
    if now is not None and wanted is not None:
        check_moistures(now, wanted, values.get("moisture_meaning", job.moisture_meaning))
    if values.get("mix_version") is not None:
        refuse_unusable(values["mix_version"])
    keep(job, step=step, changed_at=timezone.now(), **values)
    if lines is not None:
        _write_lines(job, lines)
    if job.state == "planned" and _fingerprint(job) != before:
        undo_planned(job, by, _("the job was changed after planning"))
        keep(job, state="draft")
    return job


def _write_lines(job: PottingJob, lines: Sequence[PotLine]) -> None:
    rows = [_row(job, place, line) for place, line in enumerate(lines, start=1)]
    if [_values(row) for row in rows] == [_values(row) for row in job.lines.order_by("position")]:
        return
    for row in rows:
        plain.container(row.container, headspace_cm=row.headspace_cm, drainage_layer_cm=row.drainage_layer_cm)
        if row.potted_from:
            plain.container(row.potted_from, headspace_cm=row.potted_from_headspace_cm)
        elif row.root == "root ball":
            raise Refused(_("Say which pot the root balls come from, or choose bare root."))
        if row.layer_material and not row.drainage_layer_cm:
            raise Refused(_("Give the drainage layer a depth above 0 cm, or leave its material out."))
    drop(job.lines.all())
    keep_lines(rows)


def _row(job: PottingJob, place: int, line: PotLine) -> JobLine:
    old = line.potted_from
    return JobLine(
        job=job,
        position=place,
        container=line.container,
        count=line.count,
        headspace_cm=line.container.headspace_cm if line.headspace_cm is None else line.headspace_cm,
        potted_from=old,
        potted_from_headspace_cm=(old.headspace_cm if old else 0.0)
        if line.potted_from_headspace_cm is None
        else line.potted_from_headspace_cm,
        root=line.root,
        drainage_layer_cm=line.drainage_layer_cm,
        layer_material=line.layer_material,
    )


def _values(row: JobLine) -> tuple[object, ...]:
    return tuple(
        getattr(row, field.attname) for field in row._meta.concrete_fields if field.name not in ("id", "job")
    )


def _fingerprint(job: PottingJob) -> tuple[object, ...]:
    """What the amounts of a job follow from."""
    return (
        job.mix_version_id,
        job.litres_l,
        job.overage,
        job.settling,
        job.shrinkage,
        *[getattr(job, column) for column in MOISTURES],
        *[_values(row) for row in job.lines.order_by("position")],
    )


def _refuse_closed(job: PottingJob) -> None:
    if not job.is_open:
        raise Refused(
            _("“{title}” is {state} and stays as it is; clone it to do it again.").format(
                title=job.title, state=job.get_state_display()
            )
        )


def _text(value: object) -> str | list[str]:
    if isinstance(value, list | tuple):
        return [_text(one) for one in value]
    # A column of text can hold neither NUL nor half a character; nothing else that was typed is touched.
    return str(value).replace("\x00", "").encode(errors="replace").decode()
