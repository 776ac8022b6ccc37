"""Reading batches."""

from friable.records.batch_codes import read_batch_code
from friable.records.models import Batch, BatchLine
from friable.records.queries.mixes import versions_above


def batches_with_lines():
    """Batches with mix, job, lines, amendments, cautions and what corrects what."""
    return Batch.objects.select_related(
        "mix_version__mix", "job", "corrects", "corrected_by"
    ).prefetch_related("lines__material", "amendments", "cautions")


def batches_by_state(*states):
    """Batches in these states (all, if none are given), newest first, with mix and job."""
    batches = Batch.objects.select_related("mix_version__mix", "job", "corrects", "corrected_by")
    if states:
        batches = batches.filter(state__in=states)
    return batches.order_by("-year", "-number")


def batches_made_lately():
    """Batches that were made, the last one made first."""
    return batches_by_state("made").order_by("-made_at", "-year", "-number")


def batches_made_from(version):
    """Batches of a version, by itself or inside another mix, newest first."""
    return batches_by_state().filter(mix_version__in=[row.pk for row in versions_above(version)])


def batches_with_material(material):
    """Batches into which a material was planned, newest first."""
    lines = BatchLine.objects.filter(material=material).values("batch")
    return batches_by_state().filter(pk__in=lines)


def batch_coded(text):
    """The batch of a code as somebody wrote it; None if there is none.

    Raises
    ------
    BadText
        If it cannot be a code, or its check sign does not fit.
    """
    return batches_with_lines().filter(code=read_batch_code(text)).first()
