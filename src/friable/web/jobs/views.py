"""The potting job: start, pots, mix, amounts, batch; clone, drop, potted."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from friable.errors import FriableError
from friable.planning.batch_water import usual_moisture
from friable.records.actions import batches as batch_actions
from friable.records.actions import jobs as actions
from friable.records.queries.jobs import jobs_with_lines, open_jobs
from friable.records.queries.stores import containers_in_use
from friable.web import shift
from friable.web.answers import REFUSED, form_page
from friable.web.guard import may
from friable.web.jobs import answers, kept, pot_lines
from friable.web.jobs.amounts import amounts_answer, kept_answer
from friable.web.jobs.choice import choose_mix
from friable.web.jobs.forms import AmountsForm, DropForm, MixForm, PlanForm, PotsForm, StartForm
from friable.web.jobs.steps import next_address, page_of


@may("plan potting")
def new(request: HttpRequest) -> HttpResponse:
    """Start a job, or go on with an open one."""
    form = StartForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid():
        said = {name: form.cleaned_data[name] for name in ("title", "due_on", "note")}
        job = form.act(actions.start_job, by=form.by, **said)
        if job is not None:
            return redirect("job-pots", job.pk)
    jobs = [(job, next_address(job)) for job in open_jobs().prefetch_related("drafts")]
    return form_page(request, "jobs/new.html", {"form": form, "jobs": jobs}, form)


@may("plan potting")
def pots(request: HttpRequest, pk: int) -> HttpResponse:
    """Say which pots, how many, and out of what."""
    job = _job(pk)
    if request.method != "POST":
        rows, form = kept.pots_as_kept(request, job)
        return _pots_page(request, job, form, pot_lines.line_forms(rows, check=False))
    _keep_typed(request, job, "pots")
    rows = pot_lines.typed_rows(request.POST)
    if "one_more" in request.POST or "take_out" in request.POST:
        rows = pot_lines.with_a_line_more_or_less(rows, request.POST.get("take_out"))
        form = PotsForm(request, initial=request.POST.dict())
        return _pots_page(request, job, form, pot_lines.line_forms(rows, check=False), changed=True)
    form = PotsForm(request, request.POST)
    asked = pot_lines.asked_for(rows, request.POST.get("litres", ""))
    lines = pot_lines.line_forms(asked, check=True)
    if all([form.is_valid(), *[line.is_valid() for line in lines]]) and form.act(
        pot_lines.save, job, lines, by=form.by, **form.values()
    ):
        return redirect("job-mix", job.pk)
    return _pots_page(request, job, form, lines)


def _pots_page(request, job, form, lines, *, changed=False) -> HttpResponse:
    context = page_of(
        job,
        "pots",
        form=form,
        lines=lines,
        containers=containers_in_use(),
        materials=kept.material_names(),
        changed=changed,
        refused=any(line.errors for line in lines if line.is_bound),
    )
    return form_page(request, "jobs/pots.html", context, form, *lines)


@may("plan potting")
def mix(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose a mix, and see its air and water in every pot of the job."""
    job = _job(pk)
    if request.method == "POST":
        _keep_typed(request, job, "mix")
        form = MixForm(request, job, request.POST)
        if form.is_valid() and form.act(choose_mix, job, form.cleaned_data["version"], by=form.by):
            return redirect("job-amounts", job.pk)
        looked_at = form.cleaned_data.get("version")
    else:
        form = MixForm(request, job, initial={"version": job.mix_version_id})
        looked_at = form.look_at(request.GET.get("version"))
    found = answers.job_answer(job, looked_at)
    context = page_of(
        job,
        "mix",
        form=form,
        version=looked_at,
        pots=found.pots,
        cautions=found.cautions,
        layer_evidence=found.layer_evidence,
    )
    return form_page(request, "jobs/mix.html", context, form)


@may("plan potting")
def amounts(request: HttpRequest, pk: int) -> HttpResponse:
    """Work out litres, buckets and bags; keep with what they were worked out."""
    job = _job(pk)
    found = answers.job_answer(job, job.mix_version)
    shrinkage = answers.expected_shrinkage(job, found.pots)
    usual = usual_moisture([line.container.shape for line in job.lines.all()])
    only_look = "work" in request.POST
    if request.method == "POST":
        _keep_typed(request, job, "amounts")
        form = AmountsForm(request, request.POST, sign=not only_look)
        if form.is_valid() and not only_look:
            values = form.values()
            if form.act(actions.save_job_step, job, "amounts", by=form.by, **values):
                return redirect("job-batch", job.pk)
        answer = amounts_answer(job, form, found.pots)
    else:
        typed = kept.amounts_as_kept(job, shrinkage, usual)
        form = AmountsForm(request, initial=typed)
        answer = amounts_answer(job, AmountsForm(request, typed, sign=False), found.pots)
    context = page_of(job, "amounts", form=form, answer=answer, shrinkage=shrinkage)
    context["cautions"] = found.cautions
    context["usual"] = usual
    return form_page(request, "jobs/amounts.html", context, form)


@may("plan batches")
def batch(request: HttpRequest, pk: int) -> HttpResponse:
    """Plan the batch; then its sheet, its record and its labels."""
    job = _job(pk)
    form = PlanForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid():
        planned = form.act(batch_actions.plan_batch, job, by=form.by)
        if planned is not None:
            messages.success(request, _("Batch {code} is planned.").format(code=planned.code))
            return redirect("job-batch", job.pk)
    answer = kept_answer(job, answers.job_answer(job, job.mix_version).pots)
    planned = [one for one in job.batches.all() if one.state != "undone"]
    context = page_of(job, "batch", form=form, batches=planned, answer=answer)
    return form_page(request, "jobs/batch.html", context, form)


@may("plan potting")
@require_POST
def typed(request: HttpRequest, pk: int, step: str) -> HttpResponse:
    """Keep what is being typed into a step, as it is."""
    return HttpResponse(status=204 if _keep_typed(request, _job(pk), step) else REFUSED)


@may("plan potting")
def clone(request: HttpRequest, pk: int) -> HttpResponse:
    """Start a new job with the pots, mix and amounts of this one."""
    job = _job(pk)
    form = StartForm(
        request, request.POST if request.method == "POST" else None, initial={"title": job.title}
    )
    if form.is_valid():
        said = {name: form.cleaned_data[name] for name in ("title", "due_on")}
        made = form.act(actions.clone_job, job, by=form.by, **said)
        if made is not None:
            messages.success(request, _("The new job has the pots, mix and amounts of the old one."))
            return redirect("job-pots", made.pk)
    return form_page(request, "jobs/clone.html", {"form": form, "job": job}, form)


@may("plan potting")
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Drop a job that will not be done, with its reason."""
    job = _job(pk)
    form = DropForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(actions.drop_job, job, by=form.by, reason=form.cleaned_data["reason"]):
        messages.success(request, _("“{title}” is dropped; it stays in the records.").format(title=job.title))
        return redirect("bench")
    return form_page(request, "jobs/drop.html", {"form": form, "job": job}, form)


@may("plan potting")
def potted(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that the plants are potted."""
    job = _job(pk)
    form = PlanForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(actions.mark_potted, job, by=form.by):
        messages.success(request, _("“{title}” is potted.").format(title=job.title))
        return redirect("bench")
    return form_page(request, "jobs/potted.html", {"form": form, "job": job}, form)


def _job(pk: int):
    return get_object_or_404(jobs_with_lines().prefetch_related("drafts"), pk=pk)


def _keep_typed(request: HttpRequest, job, step: str) -> bool:
    """Keep a step as it was typed; what cannot be kept stays in the page that is sent back."""
    by = shift.initials(request)
    if not by:
        return False
    fields = {name: texts for name, texts in request.POST.lists() if name not in kept.NOT_TYPED}
    try:
        actions.keep_typed(job, step, fields, by=by)
    except FriableError:
        return False
    return True
