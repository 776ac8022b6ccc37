"""The bench: what is to be done today; and who is on shift."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from friable.records.queries.batches import batches_by_state, batches_made_lately
from friable.records.queries.jobs import jobs_to_pot, last_open_job, open_jobs
from friable.web import shift
from friable.web.addresses import own_address
from friable.web.answers import form_page
from friable.web.bench.forms import ShiftForm
from friable.web.guard import may
from friable.web.jobs.steps import next_address

SHOWN = 50
SHOWN_MADE = 6


@may("see the bench")
def bench(request: HttpRequest) -> HttpResponse:
    """Show what is to be done: the last job to go on with, then batches and jobs by state."""
    resume = last_open_job(shift.initials(request)) or last_open_job()
    to_pot = list(jobs_to_pot().prefetch_related("drafts")[:SHOWN])
    today = timezone.localdate()
    context = {
        "resume": resume,
        "resume_address": next_address(resume) if resume else "",
        "jobs": [(job, next_address(job)) for job in open_jobs().prefetch_related("drafts")],
        "to_pot": [(job, next_address(job)) for job in to_pot],
        "to_mix": batches_by_state("planned")[:SHOWN],
        "made": batches_made_lately()[:SHOWN_MADE],
        "pot_first": any(job.due_on and job.due_on < today for job in to_pot),
        "today": today,
    }
    return render(request, "bench/bench.html", context)


@may("say who is on shift")
def initials(request: HttpRequest) -> HttpResponse:
    """Ask for initials; begin or end a shift; go back to where one was."""
    back = own_address(request, request.POST.get("next") or request.GET.get("next") or "")
    if request.method == "POST" and "end" in request.POST:
        shift.end(request)
        return redirect(back)
    form = ShiftForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        shift.begin(request, form.cleaned_data["initials"])
        return redirect(back)
    return form_page(
        request,
        "shift/initials.html",
        {"form": form, "next": back, "initials": shift.initials(request)},
        form,
    )
