"""The pot test: water in, water out, and what that says of another depth."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.mixes.known import known_names
from friable.web.mixes.pot_tests import PotTestForm, kept_tests


@may("measure")
def pot_test(request: HttpRequest) -> HttpResponse:
    """Read a pot test; keep it if that is wanted."""
    keeping = "keep" in request.POST
    form = PotTestForm(request, request.POST if request.method == "POST" else None, sign=keeping)
    if keeping and form.is_valid() and form.act(form.keep, form.by) is not None:
        messages.success(request, _("The pot test is kept."))
        return redirect("pot-test")
    if form.is_bound:
        form.is_valid()
    context = {"form": form, "kept": kept_tests(), **known_names()}
    return form_page(request, "mixes/pot_test.html", context, form)
