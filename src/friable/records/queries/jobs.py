"""Reading potting jobs."""

from django.db.models import F, Prefetch, Sum

from friable.records.models import JobLine, PottingJob

LINES = Prefetch(
    "lines",
    JobLine.objects.select_related("container", "potted_from", "layer_material").order_by("position"),
)


def jobs_with_lines():
    """Jobs with mix, lines, bucket, mixer, scale and batches; three queries however many."""
    return PottingJob.objects.select_related("mix_version__mix", "bucket", "mixer", "scale").prefetch_related(
        LINES, "batches"
    )


def open_jobs():
    """Jobs that are not mixed yet, the ones due first at the top, then those without a day, newest first."""
    return (
        jobs_with_lines()
        .filter(state__in=("draft", "planned"))
        .annotate(pots=Sum("lines__count"))
        .order_by(F("due_on").asc(nulls_last=True), "-changed_at", "-pk")
    )


def closed_jobs():
    """Jobs that are mixed, potted or dropped, newest first."""
    return (
        jobs_with_lines()
        .exclude(state__in=("draft", "planned"))
        .annotate(pots=Sum("lines__count"))
        .order_by("-changed_at", "-pk")
    )


def jobs_to_pot():
    """Jobs that are mixed and not potted yet, the ones wanted first at the top, those without a day last."""
    return (
        closed_jobs().filter(state="mixed").order_by(F("due_on").asc(nulls_last=True), "-changed_at", "-pk")
    )


def last_open_job(initials=""):
    """The open job that was changed last (of these initials, if any are given); None if there is none."""
    jobs = jobs_with_lines().filter(state__in=("draft", "planned"))
    if initials:
        jobs = jobs.filter(created_by=initials)
    return jobs.order_by("-changed_at", "-pk").first()


def typed_in(job):
    """What was typed into each step of a job: step -> fields as typed."""
    return {draft.step: draft.typed for draft in job.drafts.all()}
