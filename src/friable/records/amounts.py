"""What a stored job comes to: its rows handed to planning."""

from friable.errors import Refused
from friable.planning import quantities
from friable.records import plain
from friable.records.models import MixVersion, PottingJob
from friable.wording import gettext as _


def job_lines(job: PottingJob) -> list[quantities.JobLine]:
    """Return the lines of a job as planning takes them; one query."""
    rows = job.lines.select_related("container", "potted_from").order_by("position")
    return [
        quantities.JobLine(
            container=plain.container(
                row.container, headspace_cm=row.headspace_cm, drainage_layer_cm=row.drainage_layer_cm
            ),
            count=row.count,
            potted_from=plain.container(row.potted_from, headspace_cm=row.potted_from_headspace_cm)
            if row.potted_from
            else None,
            root=row.root,
        )
        for row in rows
    ]


def job_amounts(job: PottingJob) -> quantities.JobAmounts:
    """Return what a job needs.

    Raises
    ------
    Refused
        If it has no mix yet, or neither pots nor litres.
    BadRecipe, BadQuantity
        If planning refuses.
    """
    if job.mix_version is None:
        raise Refused(_("“{title}” has no mix yet; choose one.").format(title=job.title))
    lines = job_lines(job)
    if not lines and job.litres_l is None:
        raise Refused(
            _("“{title}” has no pots yet; say how many of which, or how many litres.").format(title=job.title)
        )
    versions = plain.load_versions(job.mix_version)
    return quantities.job_amounts(
        lines,
        plain.book(versions, job.mix_version),
        overage=job.overage,
        settling=job.settling,
        shrinkage=job.shrinkage,
        bucket_l=job.bucket.line_l if job.bucket else None,
        litres=None if lines else job.litres_l,
        find=plain.finder(versions),
    )


def mix_amounts(version: MixVersion, litres_l: float) -> quantities.JobAmounts:
    """Return what so many litres of a mix need, without overage."""
    versions = plain.load_versions(version)
    return quantities.job_amounts(
        [], plain.book(versions, version), litres=litres_l, find=plain.finder(versions)
    )
