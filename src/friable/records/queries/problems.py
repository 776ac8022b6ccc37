"""Is the data sound? What constraints of single rows cannot hold, as sentences for `friable check`."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from django.db.models import Count, F, Q

from friable.errors import FriableError
from friable.records import plain
from friable.records.batch_codes import batch_code
from friable.records.models import (
    Batch,
    Container,
    Material,
    MaterialAlias,
    Measurement,
    Mix,
    MixLine,
    MixVersion,
    PottingJob,
    PotWeighing,
)
from friable.records.models.measurements import MIX_VOLUME, POT_VOLUME
from friable.records.queries.measurements import standing
from friable.records.queries.mixes import versions_with_lines
from friable.records.queries.store_problems import store_problems, window_problems
from friable.reference.materials import all_materials
from friable.wording import gettext as _

SUM_TOLERANCE = 1e-6  # of the sum; lines are stored as they were computed, so only rounding may part them
MADE_OVER_PUT_IN = 1.1  # a mix is never more than its parts; a tenth is left for measuring by bucket


def problems() -> list[str]:
    """Return every unsound thing that was found, one sentence each; empty if all is well."""
    checks = (
        _names,
        _materials,
        _containers,
        _measurements,
        _mixes,
        _frozen,
        _jobs,
        _batches,
        _batch_sums,
        _weighings,
        store_problems,
        window_problems,
    )
    return [sentence for check in checks for sentence in check()]


def _names() -> Iterator[str]:
    owners = defaultdict(list)
    for model, what in ((Material, _("material")), (MaterialAlias, _("alias")), (Mix, _("mix"))):
        for name in model.objects.values_list("name", flat=True):
            owners[name.casefold()].append(f"{what} “{name}”")
    for same in owners.values():
        if len(same) > 1:
            yield _("One name stands for several things: {things}.").format(things=", ".join(same))


def _materials() -> Iterator[str]:
    known = {material.key for material in all_materials()}
    for row in Material.objects.exclude(table_key=""):
        if row.table_key not in known:
            yield _("Material “{name}” rests on “{key}”, which the table does not hold.").format(
                name=row.name, key=row.table_key
            )


def _containers() -> Iterator[str]:
    measured = {}
    for measurement in standing(POT_VOLUME):
        measured.setdefault(measurement.container_id, measurement.brim_l)
    for row in Container.objects.all():
        try:
            plain.container(row)
        except FriableError as problem:
            yield _("Container “{name}”: {problem}").format(name=row.name, problem=problem)
        if row.measured_volume_l != measured.get(row.pk):
            yield _("Container “{name}” carries a volume that is not its newest measurement.").format(
                name=row.name
            )


def _measurements() -> Iterator[str]:
    for row in Measurement.objects.filter(done_at__gt=F("entered_at")):
        yield _("Measurement {number} was done after it was entered.").format(number=row.pk)
    for row in standing(MIX_VOLUME).select_related("material", "other_material"):
        try:
            plain.overlap_losses([row])
        except FriableError as problem:
            yield _("Measurement {number}, {subject}: {problem}").format(
                number=row.pk, subject=row.subject, problem=problem
            )


def _weighings() -> Iterator[str]:
    for row in PotWeighing.objects.filter(second_at__gt=F("entered_at")):
        yield _("Weighing {number} was done after it was entered.").format(number=row.pk)


def _mixes() -> Iterator[str]:
    for mix in Mix.objects.filter(versions=None):
        yield _("Mix “{name}” has no version.").format(name=mix.name)
    for version in MixVersion.objects.select_related("mix").filter(lines=None):
        yield _("{version} has no components.").format(version=version)
    inside = defaultdict(set)
    for version in versions_with_lines():
        inside[version.mix_id] |= {line.sub_mix.mix_id for line in version.lines.all() if line.sub_mix_id}
    for mix in Mix.objects.all():
        if mix.pk in _reached(inside, mix.pk):
            yield _("Mix “{name}” contains itself.").format(name=mix.name)


def _frozen() -> Iterator[str]:
    """A version that was changed after something used it, by itself or inside another mix."""
    first_use: dict[int, datetime] = {}
    uses = [
        *PottingJob.history.filter(mix_version__isnull=False).values_list("mix_version_id", "history_date"),
        *Batch.history.values_list("mix_version_id", "history_date"),
    ]
    inside = defaultdict(set)
    for whole, part in MixLine.objects.exclude(sub_mix=None).values_list("version_id", "sub_mix_id"):
        inside[whole].add(part)
    for version, moment in sorted(uses, key=lambda use: use[1]):
        for used in (version, *_reached(inside, version)):
            first_use.setdefault(used, moment)
    for model in (MixVersion.lines, MixVersion.amendments, MixVersion.cautions):
        for row in model.rel.related_model.history.select_related("version__mix").order_by("history_date"):
            used = first_use.get(row.version_id)
            if used is not None and row.history_date > used:
                yield _("{version} was changed after it was used; a used version must stay as it is.").format(
                    version=row.version
                )
                first_use.pop(row.version_id)
    for version in MixVersion.objects.select_related("mix").filter(incomplete=True, batches__isnull=False):
        yield _("{version} is incomplete, yet a batch uses it.").format(version=version)


def _jobs() -> Iterator[str]:
    standing_batches = Count("batches", filter=Q(batches__state="planned"))
    made = Count("batches", filter=Q(batches__state="made"))
    for job in PottingJob.objects.annotate(planned_batches=standing_batches, made_batches=made):
        if job.state == "planned" and not job.planned_batches:
            yield _("Job “{title}” is planned but has no planned batch.").format(title=job.title)
        if job.state == "mixed" and not job.made_batches:
            yield _("Job “{title}” is mixed but has no made batch.").format(title=job.title)
        if job.state in ("draft", "dropped") and job.planned_batches:
            yield _("Job “{title}” is not planned but has a planned batch.").format(title=job.title)


def _batches() -> Iterator[str]:
    for batch in Batch.objects.select_related("corrects"):
        if batch.code != batch_code(batch.year, batch.number):
            yield _("Batch {code} does not carry the code of its number.").format(code=batch.code)
        if batch.corrects and batch.corrects.state != "undone":
            yield _("Batch {code} corrects {other}, which is not undone.").format(
                code=batch.code, other=batch.corrects.code
            )
        if batch.made_at and batch.made_at > batch.entered_at:
            yield _("Batch {code} was made after it was entered.").format(code=batch.code)


def _batch_sums() -> Iterator[str]:
    for batch in Batch.objects.prefetch_related("lines"):
        lines = list(batch.lines.all())
        if not lines:
            yield _("Batch {code} has no lines.").format(code=batch.code)
            continue
        materials = [line for line in lines if not line.is_mix]
        planned = sum(line.planned_l for line in materials)
        if abs(planned - batch.poured_l) > SUM_TOLERANCE * batch.poured_l:
            yield _("Batch {code}: the lines add up to {lines:.4g} L, not to {sum:.4g} L.").format(
                code=batch.code, lines=planned, sum=batch.poured_l
            )
        put_in = [line.put_in_l for line in materials]
        if batch.made_l and None not in put_in and batch.made_l > MADE_OVER_PUT_IN * sum(put_in):
            yield _("Batch {code}: {made:.4g} L were made out of {put_in:.4g} L put in.").format(
                code=batch.code, made=batch.made_l, put_in=sum(put_in)
            )


def _reached(inside: dict[int, set[int]], start: int) -> set[int]:
    reached: set[int] = set()
    ahead = set(inside[start])
    while ahead:
        mix = ahead.pop()
        if mix not in reached:
            reached.add(mix)
            ahead |= inside[mix]
    return reached
