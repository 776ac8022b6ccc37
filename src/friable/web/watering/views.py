"""Watering: one pot followed through a watering, choices side by side, a pot weighed twice."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.planning.units_in import figures
from friable.records.actions.weighings import withdraw_weighing
from friable.records.models import PotWeighing
from friable.records.queries.water import weighings_standing
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.mixes.as_typed import pot_as_asked
from friable.web.mixes.compare_forms import known_versions
from friable.web.mixes.known import known_names
from friable.web.watering.answers import first_answer_takes_s, moments, pot_answer, taken_weighing
from friable.web.watering.charts import dry_down_charts, table_of
from friable.web.watering.compare import choice_forms, side_by_side
from friable.web.watering.forms import CaseForm, ChoiceForm
from friable.web.watering.weigh import WeighTwiceForm, WithdrawForm

SHOWN_WEIGHINGS = 8


@may("see watering")
def watering(request: HttpRequest) -> HttpResponse:
    """Follow one pot through a watering and the days after it."""
    choice, case = _asked(request)
    found = drawn = refusal = None
    if choice.is_bound and all([choice.is_valid(), case.is_valid()]):
        try:
            found = pot_answer(choice, case)
            drawn = moments(found, choice.layer_name)
        except FriableError as problem:
            refusal = str(problem)
    context = {
        "choice": choice,
        "case": case,
        "found": found,
        "moments": drawn,
        "weighing": taken_weighing(choice, case) if found else None,
        "refusal": refusal,
        "charts": dry_down_charts([found]) if found else [],
        "table": table_of(found) if found else None,
        "first_answer_takes_s": 0 if found else first_answer_takes_s(),
        "query": request.GET.urlencode(),
        "weighings": weighings_standing()[:SHOWN_WEIGHINGS],
        **_names(),
    }
    return form_page(request, "watering/page.html", context, choice, case)


@may("see watering")
def compare(request: HttpRequest) -> HttpResponse:
    """Show up to four choices side by side: answers first, then the dry-down."""
    forms = choice_forms(request.GET)
    case = CaseForm(_case_asked(request.GET))
    found = side_by_side(forms, case)
    answers = [one.answer for one in found if one.answer]
    context = {
        "forms": forms,
        "case": case,
        "found": found,
        "charts": dry_down_charts(answers) if answers else [],
        **_names(),
    }
    return form_page(request, "watering/compare.html", context, case, *forms)


@may("measure")
def weigh(request: HttpRequest) -> HttpResponse:
    """Weigh a pot twice, which fixes its own use of water."""
    choice, case = _asked(request)
    back = f"{reverse('watering')}?{request.GET.urlencode()}"
    if not (choice.is_bound and choice.is_valid() and case.is_valid()):
        messages.error(request, _("Say first which mix in which pot it is."))
        return redirect(back)
    form = WeighTwiceForm(
        request, request.POST if request.method == "POST" else None, choice=choice, case=case
    )
    if form.is_valid():
        kept = form.act(form.keep, form.by)
        if kept is not None:
            factor = figures(round(kept.factor, 2))
            said = _("The pot's own use is {factor} times the reference.").format(factor=factor)
            messages.success(request, f"{said} {form.found.advice}")
            return redirect(back)
    context = {"form": form, "choice": choice, "case": case, "back": back}
    return form_page(request, "watering/weigh.html", context, form)


@may("measure")
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Withdraw a wrong weighing, with its reason."""
    row = get_object_or_404(PotWeighing.objects.select_related("container", "mix_version__mix"), pk=pk)
    form = WithdrawForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(withdraw_weighing, row, by=form.by, reason=form.cleaned_data["reason"]):
        messages.success(request, _("The weighing is withdrawn; it stays in the records."))
        return redirect("watering")
    return form_page(request, "watering/withdraw.html", {"form": form, "row": row}, form)


def _asked(request: HttpRequest) -> tuple[ChoiceForm, CaseForm]:
    """Return the two parts of the form; filled in with what is usual as long as no mix is asked for."""
    if request.GET.get("mix", "").strip():
        return ChoiceForm(request.GET), CaseForm(_case_asked(request.GET))
    usual = {**pot_as_asked(request.GET), **{name: text for name, text in request.GET.items() if text}}
    return ChoiceForm(initial=usual), CaseForm(initial=usual)


def _case_asked(asked: QueryDict) -> dict[str, str]:
    """Return what is asked of the case; a climate is always there."""
    fields = CaseForm.base_fields
    said = {name: asked.get(name, "") for name in fields}
    return {**said, "climate": said["climate"] or fields["climate"].initial}


def _names() -> dict[str, list[str]]:
    return {"known_versions": known_versions(), **known_names()}
