"""The bench: what is to be done today; and who is on shift."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

from friable.web import shift
from friable.web.answers import form_page
from friable.web.bench.forms import ShiftForm
from friable.web.guard import may


@may("see the bench")
def bench(request: HttpRequest) -> HttpResponse:
    """Show what is to be done."""
    return render(request, "bench/bench.html", {})


@may("say who is on shift")
def initials(request: HttpRequest) -> HttpResponse:
    """Ask for initials; begin or end a shift; go back to where one was."""
    back = _safe(request, request.POST.get("next") or request.GET.get("next") or "")
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


def _safe(request: HttpRequest, address: str) -> str:
    own = url_has_allowed_host_and_scheme(address, {request.get_host()}) and address.startswith("/")
    return address if own else reverse("bench")
