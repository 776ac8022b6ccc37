"""The answer of `friable job` as people read it."""

from typing import TYPE_CHECKING

from friable.cli.answer import columns, share, titled
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.batch import BatchSplit, LoadingPlan
    from friable.planning.buckets import Bucket
    from friable.planning.job_amendments import JobAmendments
    from friable.planning.job_values import JobAmounts


def job_lines(
    answer: "JobAmounts",
    weighed: "JobAmendments",
    bucket: "Bucket | None",
    split: "BatchSplit | None",
    plan: "LoadingPlan",
) -> list[str]:
    """Return the amounts first, then stages, batches, amendments, the working and notes."""
    from friable.planning.buckets import fill
    from friable.planning.rounding import rounded

    step = answer.step_l
    total = float(rounded(answer.sum_of_parts_l, step))
    rows = []
    for part in answer.parts:
        name = part.material if part.known else _("{name} (as typed)").format(name=part.material)
        name = name if part.state == "loose moist" else f"{name}, {part.state}"
        measure = fill(part.rounded_l, bucket, step).words if bucket else ""
        rows.append((name, f"{_number(part.rounded_l, step)} L", measure))
    rows.append((_("sum of parts"), f"{_number(total, step)} L", ""))
    head = _("Buckets of {line:g} L").format(line=bucket.line_l) if bucket else _("Litres")
    lines = [head, *columns(rows, right=(1,))]
    if len(answer.stages) > 1:
        for stage in answer.stages:
            title = _("{mix}: pour {poured:.1f} L, gives {finished:.1f} L (shrinkage {lost})").format(
                mix=stage.mix, poured=stage.poured_l, finished=stage.finished_l, lost=share(stage.shrinkage)
            )
            parts = columns([(p.name, f"{p.rounded_l:g} L") for p in stage.parts], right=(1,))
            lines += titled(title, parts)
        shares = [("", _("poured"), _("by finished mixes"))]
        shares += [
            (part.material, f"{100 * part.share:.1f} %", f"{100 * part.share_by_finished:.1f} %")
            for part in answer.parts
        ]
        lines += titled(_("Shares"), columns(shares, right=(1, 2)))
    if split is not None:
        volumes = ", ".join(f"{_number(volume, step)} L" for volume in split.volumes_l)
        lines += titled(_("Batches"), [split.advice, volumes])
    lines += titled(
        _("Amendments, for the finished mix"),
        columns([(grams.name, grams.words, mix) for mix, grams in weighed.grams], right=(1,)),
    )
    lines += titled(_("Mixing"), plan.sentences)
    working = [(step_.text, f"{step_.value_l:.1f} L") for step_ in answer.working]
    lines += titled(_("Working"), columns(working, right=(1,)))
    lines += titled(_("Note"), [*answer.advice, *weighed.cautions])
    return lines


def _number(volume_l: float, step: float) -> str:
    decimals = max(0, len(f"{step:g}".partition(".")[2]))
    return f"{volume_l:.{decimals}f}"
