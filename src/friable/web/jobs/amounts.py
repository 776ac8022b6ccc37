"""The amounts of a job, put together for its pages: litres, buckets, bags, mixings, weight."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.planning import buckets
from friable.planning.amendments import AmendmentGrams, all_grams
from friable.planning.batch import BatchSplit, split_batches
from friable.planning.batch_water import BatchWater
from friable.planning.job_values import JobAmounts, MaterialAmount
from friable.planning.lifting import wet_mass_note
from friable.planning.packs import Packs, packs_needed
from friable.planning.wet_load import wet_load_kg
from friable.records import plain
from friable.records.amounts import job_amounts
from friable.records.models import Bucket, PottingJob
from friable.records.queries.stores import packs_in_use
from friable.records.water import job_water
from friable.web.jobs.answers import PotAnswer
from friable.web.jobs.forms import AmountsForm


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material to measure out, as it is said at the bench, and what to fetch for it."""

    part: MaterialAmount
    in_buckets: str
    packs: tuple[Packs, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """The amendments of one mix in a job, and those that our scale cannot weigh."""

    mix: str
    amendments: tuple[AmendmentGrams, ...]
    refusals: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AmountsAnswer:
    """What the amounts come to, or why they cannot be worked out."""

    amounts: JobAmounts | None = None
    rows: tuple[MaterialRow, ...] = ()
    bucket: Bucket | None = None
    mixings: BatchSplit | None = None
    lifting: tuple[str, ...] = ()
    to_weigh: tuple[Weighed, ...] = ()
    refusals: tuple[str, ...] = ()
    water: BatchWater | None = None

    @property
    def has_packs(self) -> bool:
        """True if anything is known of the packs of any material."""
        return any(row.packs for row in self.rows)


def amounts_answer(job: PottingJob, form: AmountsForm, pots: Sequence[PotAnswer]) -> AmountsAnswer:
    """Return the amounts of a job with what a bound form says; nothing is kept."""
    if not form.is_valid():
        beside = [sentence for bound in form for sentence in bound.errors]
        return AmountsAnswer(refusals=(*beside, *form.non_field_errors()))
    for column, value in form.values().items():
        setattr(job, column, value)
    return kept_answer(job, pots)


def kept_answer(job: PottingJob, pots: Sequence[PotAnswer]) -> AmountsAnswer:
    """Return the amounts of a job as it stands."""
    try:
        amounts = job_amounts(job)
        mixings = split_batches(amounts.sum_of_parts_l, job.mixer.working_l if job.mixer else None)
        packs = _packs(amounts)
    except FriableError as problem:
        return AmountsAnswer(refusals=(str(problem),))
    rows = tuple(
        MaterialRow(part, _in_buckets(part, amounts, job.bucket), packs.get(part.material, ()))
        for part in amounts.parts
    )
    try:
        water, refusals = job_water(job, amounts.stages[0].finished_l), ()
    except FriableError as problem:
        water, refusals = None, (str(problem),)
    lifting, to_weigh = _lifting(job, pots), _to_weigh(job, amounts)
    return AmountsAnswer(amounts, rows, job.bucket, mixings, lifting, to_weigh, refusals, water)


def _to_weigh(job: PottingJob, amounts: JobAmounts) -> tuple[Weighed, ...]:
    recipes = plain.recipe_book(job.mix_version).recipes
    smallest_g = job.scale.smallest_g if job.scale else None
    return tuple(
        Weighed(stage.mix, *all_grams(recipes[stage.mix].amendments, stage.finished_l, smallest_g))
        for stage in amounts.stages
        if recipes[stage.mix].amendments
    )


def _in_buckets(part: MaterialAmount, amounts: JobAmounts, bucket: Bucket | None) -> str:
    if bucket is None:
        return ""
    ours = buckets.Bucket(bucket.name, bucket.line_l, bucket.brim_l)
    return buckets.fill(part.rounded_l, ours, amounts.step_l).words


def _packs(amounts: JobAmounts) -> dict[str, tuple[Packs, ...]]:
    """Return, by material, what to fetch in each of its packs whose yield is known."""
    needs = {part.material: part.volume_l for part in amounts.parts}
    found: dict[str, tuple[Packs, ...]] = {}
    for pack in packs_in_use():
        name = pack.material.name
        given = plain.pack_yield(pack, pack.measured)
        if name in needs and given is not None:
            order = packs_needed(
                pack.name,
                needs[name],
                pack.declared_l,
                given.low,
                given.high,
                pack.measured is not None,
                how_known=given.how_known,
                source=given.source,
            )
            found[name] = (*found.get(name, ()), order)
    return found


def _lifting(job: PottingJob, pots: Sequence[PotAnswer]) -> tuple[str, ...]:
    """Say how heavy a bucket and a pot are when wet, if the forecast knows."""
    said = []
    for pot in pots:
        if pot.forecast is None:
            continue
        if job.bucket is not None and not said:
            mass = wet_load_kg(pot.forecast, job.bucket.line_l)
            said.append(
                _("“{bucket}” to the line: {note}").format(
                    bucket=job.bucket.name, note=wet_mass_note(mass.high)
                )
            )
        each = wet_mass_note(pot.forecast.wet_mass_kg.high)
        said.append(_("Mix in one {pot}: {note}").format(pot=pot.line.container.name, note=each))
    return tuple(said)
