"""The four steps of a potting job: where one is, and what is done."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from friable.records.models import PottingJob
from friable.records.models.jobs import STEPS
from friable.records.queries.jobs import typed_in

NAMES = {"pots": _("Pots"), "mix": _("Mix"), "amounts": _("Amounts"), "batch": _("Batch")}


@dataclass(frozen=True, slots=True)
class Step:
    """One step as a link."""

    number: int
    name: str
    address: str
    done: bool
    current: bool


def steps(job: PottingJob, current: str, typed: Mapping[str, object]) -> list[Step]:
    """Return the steps of a job in their order."""
    done = {
        "pots": bool(job.lines.all()) or job.litres_l is not None,
        "mix": job.mix_version_id is not None,
        "amounts": bool(typed.get("amounts")) or job.step in ("amounts", "batch"),
        "batch": job.state in ("mixed", "potted"),
    }
    return [
        Step(number, NAMES[step], reverse(f"job-{step}", args=[job.pk]), done[step], step == current)
        for number, step in enumerate(STEPS, start=1)
    ]


def page_of(job: PottingJob, current: str, **context: object) -> dict[str, object]:
    """Return what every page of a job shows."""
    return {"job": job, "steps": steps(job, current, typed_in(job)), "step": current, **context}


def next_address(job: PottingJob) -> str:
    """Return the page on which a job goes on: its first step that is not done."""
    every = steps(job, "", typed_in(job))
    return next((step.address for step in every if not step.done), every[-1].address)
