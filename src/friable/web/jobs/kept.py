"""What a step shows when one comes back to it: what was typed last, or else what is kept."""

from django.http import HttpRequest

from friable.records.models import PottingJob
from friable.records.queries.jobs import typed_in
from friable.records.queries.stores import materials_in_use
from friable.reference.materials import all_materials
from friable.reference.moisture import MoistureTarget
from friable.web.jobs import pot_lines
from friable.web.jobs.answers import ExpectedShrinkage
from friable.web.jobs.forms import PotsForm
from friable.web.templatetags.friable import share, short

NOT_TYPED = frozenset({"csrfmiddlewaretoken", "signed_by", "work", "one_more", "take_out"})


def pots_as_kept(request: HttpRequest, job: PottingJob) -> tuple[list[dict[str, str]], PotsForm]:
    """Return the lines and the form of the step `pots`."""
    kept = {
        "title": job.title,
        "due_on": job.due_on,
        "note": job.note,
        "litres": f"{short(job.litres_l, 6)} L" if job.litres_l else "",
    }
    typed = typed_in(job).get("pots")
    if not typed:
        rows = pot_lines.stored_rows(job.lines.all()) or [{}]
        return rows, PotsForm(request, initial=kept)
    return pot_lines.typed_rows(typed) or [{}], PotsForm(request, initial={**kept, **_firsts(typed)})


def amounts_as_kept(
    job: PottingJob, shrinkage: ExpectedShrinkage | None, usual: MoistureTarget
) -> dict[str, object]:
    """Return what the step `amounts` shows."""
    expected = shrinkage.figure.value if shrinkage else None
    kept = {
        "overage": share(job.overage),
        "settling": share(job.settling),
        "shrinkage": share(expected if job.shrinkage is None else job.shrinkage),
        "moisture_now": share(job.moisture_now),
        "moisture_wanted": share(job.moisture_wanted) or f"{short(usual.low)} {usual.unit}",
        "moisture_meaning": job.moisture_meaning,
        "bucket": job.bucket_id,
        "mixer": job.mixer_id,
    }
    return {**kept, **_firsts(typed_in(job).get("amounts") or {})}


def material_names() -> list[str]:
    """Return names of materials to choose from: ours, then the table's."""
    own = [row.name for row in materials_in_use()]
    return [*own, *[material.title for material in all_materials() if material.title not in own]]


def _firsts(typed) -> dict[str, str]:
    return {name: (text[0] if isinstance(text, list) and text else text) for name, text in typed.items()}
