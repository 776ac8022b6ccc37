"""Paper: batch sheet, bin labels and bench card, answered as PDF."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from friable.records.queries.mixes import versions_with_lines
from friable.sheets.batch_sheet import batch_sheet_pdf
from friable.sheets.bench_card import bench_card_pdf
from friable.sheets.bin_label import bin_labels_pdf
from friable.web import shift
from friable.web.addresses import own_address
from friable.web.answers import form_page
from friable.web.batches.views import batch_or_404
from friable.web.guard import may
from friable.web.sheets import wording
from friable.web.sheets.forms import LabelForm


@may("print sheets")
@require_POST
def paper(request: HttpRequest) -> HttpResponse:
    """Keep which paper is in the printer, and go back."""
    shift.choose_paper(request, request.POST.get("paper", ""))
    return redirect(own_address(request, request.POST.get("next", "")))


@may("print sheets")
def batch(request: HttpRequest, code: str) -> HttpResponse:
    """The batch sheet."""
    found = batch_or_404(code)
    return _pdf(batch_sheet_pdf(wording.batch_sheet(found), shift.paper(request)), f"batch-{found.code}")


@may("print sheets")
def label(request: HttpRequest, code: str) -> HttpResponse:
    """Ask what the labels are printed on; then the labels."""
    found = batch_or_404(code)
    if not request.GET:
        initial = {"paper": shift.paper(request), **wording.known_of(found), **wording.warned_of(found)}
        form = LabelForm(initial=initial, holds={})
        return render(request, "sheets/label.html", {"form": form, "batch": found})
    form = LabelForm(request.GET, holds=wording.holds(found))
    if form.is_valid():
        said = form.cleaned_data
        words = wording.bin_label(
            found,
            lime=said["lime"],
            fertiliser=said["fertiliser"],
            not_for=said["not_for"],
            use_by=said["use_by"],
        )
        pdf = form.act(bin_labels_pdf, words, **form.sizes())
        if pdf is not None:
            return _pdf(pdf, f"label-{found.code}")
    return form_page(request, "sheets/label.html", {"form": form, "batch": found}, form)


@may("print sheets")
def card(request: HttpRequest, pk: int) -> HttpResponse:
    """The bench card of a mix."""
    version = get_object_or_404(versions_with_lines(), pk=pk)
    return _pdf(bench_card_pdf(wording.bench_card(version), shift.paper(request)), f"card-{version.pk}")


def _pdf(pages: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(pages, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer
