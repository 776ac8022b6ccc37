"""Batches: the list, one of them, what was made, undoing in the open."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.records.actions import batches as actions
from friable.records.models import Batch
from friable.records.queries.batches import batch_coded, batches_by_state
from friable.web.answers import form_page
from friable.web.batches.forms import FindForm, RecordForm, UndoForm
from friable.web.batches.history import history_of
from friable.web.guard import may
from friable.web.pages import page_of

STATES = ("planned", "made", "undone")


@may("see the bench")
def list_all(request: HttpRequest) -> HttpResponse:
    """List batches, by state; find one by the code on its label."""
    form = FindForm(request.GET if "code" in request.GET else None)
    if form.is_valid():
        return redirect("batch-detail", form.cleaned_data["code"].code)
    state = request.GET.get("state")
    wanted = (state,) if state in STATES else ("planned", "made")
    context = {
        "form": form,
        "state": state if state in STATES else "",
        "page": page_of(request, batches_by_state(*wanted)),
    }
    return form_page(request, "batches/list.html", context, form)


@may("see the bench")
def detail(request: HttpRequest, code: str) -> HttpResponse:
    """Show what was planned, what was really put in, by whom and when."""
    batch = batch_or_404(code)
    return render(request, "batches/detail.html", {"batch": batch, "changes": history_of(batch)})


@may("record batches")
def record(request: HttpRequest, code: str) -> HttpResponse:
    """Write down what was really made."""
    batch = batch_or_404(code)
    form = RecordForm(request, batch, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(actions.record_batch_made, batch, by=form.by, **form.values()):
        messages.success(request, _("Batch {code} is written down as made.").format(code=batch.code))
        return redirect("batch-detail", batch.code)
    return form_page(request, "batches/record.html", {"form": form, "batch": batch}, form)


@may("undo batches")
def undo(request: HttpRequest, code: str) -> HttpResponse:
    """Undo a batch with its reason; or undo it and plan the one that stands in its place."""
    batch = batch_or_404(code)
    form = UndoForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid():
        correct = "correct" in request.POST
        verb = actions.correct_batch if correct else actions.undo_batch
        done = form.act(verb, batch, by=form.by, reason=form.cleaned_data["reason"])
        if done is not None:
            messages.success(
                request, _("Batch {code} is undone; it stays in the records.").format(code=batch.code)
            )
            return redirect("batch-record" if correct else "batch-detail", done.code)
    return form_page(request, "batches/undo.html", {"form": form, "batch": batch}, form)


def batch_or_404(code: str) -> Batch:
    """Return the batch of a code, however it was written."""
    try:
        batch = batch_coded(code)
    except FriableError as problem:
        raise Http404 from problem
    if batch is None:
        raise Http404
    return batch
