"""What a batch or a mix says on paper, put together from the records."""

from collections.abc import Iterable
from datetime import date

from django.utils import timezone
from django.utils.translation import gettext as _

from friable.drawing.pot_section import pot_section_svg
from friable.errors import FriableError
from friable.planning.batch import LoadingPlan, loading_order
from friable.planning.buckets import Bucket, fill
from friable.planning.keeping import use_by as last_day
from friable.planning.lifting import wet_mass_note
from friable.planning.recipe import Amendment
from friable.planning.wet_load import wet_load_kg
from friable.records import plain
from friable.records.models import Batch, Material, MixVersion
from friable.records.water import batch_water_words
from friable.reference.cautions import caution_about, cautions_for
from friable.reference.materials import Material as KnownMaterial
from friable.reference.sources import cited
from friable.sheets.batch_sheet import AmendmentToWeigh, BatchSheet, PartToLoad
from friable.sheets.bench_card import BenchCard, CardPart
from friable.sheets.bin_label import NO, NOT_KNOWN, YES, BinLabel
from friable.sheets.cautions import Caution
from friable.web.jobs.answers import job_answer
from friable.web.mixes.rows import STATE_WORDS

# Words by which the trade names what carries lime, or feeds: common practice, no source.
LIME_WORDS = ("lime", "dolomit", "chalk", "calcium carbonate", "oyster shell")
FERTILISER_WORDS = (
    "fertili", "feed", "superphosphate", "sulphate", "sulfate", "nitrate", "hoof", "horn", "bone", "blood",
    "manure", "trace element",
)  # fmt: skip


def batch_sheet(batch: Batch) -> BatchSheet:
    """Return the sheet of a batch: what to load, in which order, how much."""
    known = _known(line.material for line in batch.lines.all() if line.material)
    additions = [Amendment(row.name, row.rate_g_per_l, caution=row.caution) for row in batch.amendments.all()]
    plan = loading_order(list(known.values()), additions)
    bucket = batch.job.bucket if batch.job else None
    section, lifting = _pot_and_load(batch)
    return BatchSheet(
        title=_("Batch sheet"),
        batch_code=batch.code,
        mix_name=batch.mix_name,
        mix_version=str(batch.mix_version.number),
        finished_l=batch.planned_l,
        loading=tuple(_loading(batch, known, plan)),
        day=_day(batch.made_at or batch.planned_at),
        who=batch.made_by,
        bucket_name=bucket.name if bucket else "",
        bucket_l=bucket.line_l if bucket else None,
        dampen=plan.dampen_first,
        premix=plan.amendments,
        water_to_add=batch_water_words(batch) or _("by the squeeze"),
        stop_when=" ".join(plan.stop),
        squeeze="holds",
        keep_from_heat=plan.never_heat,
        cautions=tuple(_cautions(batch, known.values())),
        lifting=lifting,
        section_svg=section,
    )


def bin_label(
    batch: Batch, *, lime: str, fertiliser: str, not_for: str = "", use_by: date | None = None
) -> BinLabel:
    """Return the label of a batch."""
    treated = {"yes": YES, "no": NO}.get(batch.treated, NOT_KNOWN)
    return BinLabel(
        mix_name=batch.mix_name,
        mix_version=str(batch.mix_version.number),
        batch_code=batch.code,
        day=_day(batch.made_at or batch.planned_at),
        initials=batch.made_by or batch.planned_by,
        treated=treated,
        lime=lime,
        fertiliser=fertiliser,
        not_for=(not_for,) if not_for else (),
        use_by=use_by.isoformat() if use_by else "",
    )


def warned_of(batch: Batch) -> dict[str, object]:
    """Return what a label says at first of plants it is not for, and of the last day to use it."""
    made_on = timezone.localdate(batch.made_at or batch.planned_at)
    return {"not_for": batch.not_for, "use_by": last_day(made_on, batch.use_within_days)}


def holds(batch: Batch) -> dict[str, str]:
    """Return which component or amendment of a batch is lime or fertiliser, as far as it is known."""
    materials = _known(line.material for line in batch.lines.all() if line.material).values()
    added = [row.name for row in batch.amendments.all()]
    limy = [material.title for material in materials if material.carbonate == "yes"]
    limy += [name for name in added if any(word in name.casefold() for word in LIME_WORDS)]
    feeding = [name for name in added if any(word in name.casefold() for word in FERTILISER_WORDS)]
    return {"lime": ", ".join(limy), "fertiliser": ", ".join(feeding)}


def known_of(batch: Batch) -> dict[str, str]:
    """Return what a label can say of lime and fertiliser without being asked: no only where it is sure."""
    held = holds(batch)
    materials = [line.material for line in batch.lines.all() if line.material]
    carbonate = [known.carbonate for known in _known(materials).values()]
    sure = len(carbonate) == len(materials) and set(carbonate) == {"no"} and not batch.amendments.all()
    return {
        "lime": YES if held["lime"] else NO if sure else NOT_KNOWN,
        "fertiliser": YES if held["fertiliser"] else NOT_KNOWN,
    }


def bench_card(version: MixVersion) -> BenchCard:
    """Return the bench card of a mix."""
    lines = list(version.lines.all())
    known = _known(line.material for line in lines if line.material)
    plan = loading_order(list(known.values()))
    ours = [Caution(row.text, _("recipe")) for row in version.cautions.all()]
    return BenchCard(
        mix_name=version.name,
        mix_version=str(version.number),
        parts=tuple(
            CardPart(parts=f"{line.parts.normalize():f}", name=line.name, state=str(STATE_WORDS[line.state]))
            for line in lines
        ),
        day=_day(version.written_at),
        amendments=tuple(f"{row.name}: {row.typed or _rate(row)}" for row in version.amendments.all()),
        used_for=(version.mix.plant_group,) if version.mix.plant_group else (),
        dampen=plan.dampen_first,
        cautions=(*ours, *_of_materials(known.values())),
    )


def _loading(batch: Batch, known: dict[int, KnownMaterial], plan: LoadingPlan):
    """Yield the innermost mix first; in each, the materials as the plan loads them, then the amendments."""
    stages = list(dict.fromkeys(line.stage for line in batch.lines.all()))
    named = stages if len(stages) > 1 else []
    for stage in reversed(stages):
        lines = [line for line in batch.lines.all() if line.stage == stage]
        for line in sorted(lines, key=lambda line: _turn(line, known, plan)):
            yield _part(line, batch, stage if stage in named else "")
        for row in batch.amendments.all():
            if row.stage == stage:
                yield AmendmentToWeigh(
                    name=row.name,
                    mass_g=row.planned_g,
                    stage=stage if stage in named else "",
                    note=row.caution,
                )


def _turn(line, known: dict[int, KnownMaterial], plan: LoadingPlan) -> tuple[int, int]:
    """Return when a component is loaded: mixes first, then as the plan names them, unknown things last."""
    if line.is_mix:
        return (-1, line.position)
    key = known[line.material_id].key if line.material_id in known else ""
    return (plan.order.index(key) if key in plan.order else len(plan.order), line.position)


def _part(line, batch: Batch, stage: str) -> PartToLoad:
    bucket = batch.job.bucket if batch.job else None
    note = line.state if line.state != "loose moist" else ""
    if bucket is None:
        return PartToLoad(name=line.name, volume_l=line.planned_l, stage=stage, note=note)
    filled = fill(line.planned_l, Bucket(bucket.name, bucket.line_l, bucket.brim_l))
    return PartToLoad(
        name=line.name,
        volume_l=line.planned_l,
        buckets=filled.whole,
        remainder_l=filled.remainder_l,
        stage=stage,
        note=note,
    )


def _pot_and_load(batch: Batch) -> tuple[str, tuple[str, ...]]:
    """Return the section of the job's first pot in black and white, and how heavy a wet bucket is."""
    if batch.job is None:
        return "", ()
    for answer in job_answer(batch.job, batch.mix_version).pots[:1]:
        if answer.forecast is None:
            return "", ()
        section = pot_section_svg(
            answer.forecast.container,
            answer.forecast.profile,
            title=_("{mix} in {pot}, cut open").format(mix=batch.mix_name, pot=answer.line.container.name),
            width=520,
            black_and_white=True,
        )
        bucket = batch.job.bucket
        if bucket is None:
            return section, ()
        mass = wet_load_kg(answer.forecast, bucket.line_l)
        return section, (_("A full bucket: {note}").format(note=wet_mass_note(mass.high)),)
    return "", ()


def _cautions(batch: Batch, materials: Iterable[KnownMaterial]):
    yield from (Caution(row.text, _("recipe")) for row in batch.cautions.all())
    yield from _of_materials(materials)
    lifting = caution_about("lifting")
    yield Caution(lifting.caution, cited(lifting.source))


def _of_materials(materials: Iterable[KnownMaterial]) -> list[Caution]:
    hazards = ";".join(material.hazards for material in materials)
    return [Caution(row.caution, cited(row.source)) for row in cautions_for(hazards)]


def _known(rows: Iterable[Material]) -> dict[int, KnownMaterial]:
    """Return stored materials as values; one that rests on nothing known is left out."""
    found = {}
    for row in rows:
        try:
            found[row.pk] = plain.material(row)
        except FriableError:
            continue
    return found


def _rate(row) -> str:
    return _("{rate:g} g/L").format(rate=row.rate_g_per_l)


def _day(moment) -> str:
    return timezone.localtime(moment).date().isoformat()
