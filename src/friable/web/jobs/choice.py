"""Choosing the mix of a job."""

from friable.records.actions.jobs import save_job_step
from friable.records.models import MixVersion, PottingJob


def choose_mix(job: PottingJob, version: MixVersion, *, by: str) -> PottingJob:
    """Keep which mix a job uses; the shrinkage of another mix is not carried over to it."""
    changes = job.mix_version_id not in (None, version.pk)
    if changes and job.shrinkage is not None:
        save_job_step(job, "amounts", {}, by=by, shrinkage=None)
    return save_job_step(job, "mix", by=by, mix_version=version)
