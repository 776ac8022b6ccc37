"""Climates: the list, adding one, one with its picture, changing what is said of it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.planning.units_in import figures
from friable.records.actions import climates as actions
from friable.records.models import ClimateFile
from friable.records.queries.water import climates_in_use
from friable.web.answers import form_page
from friable.web.climates import shown
from friable.web.climates.forms import GLASS, OUTDOORS, ClimateForm, SaidOfClimateForm
from friable.web.climates.known import climate_of
from friable.web.guard import may
from friable.web.pages import page_of


@may("see climates")
def climate_list(request: HttpRequest) -> HttpResponse:
    """Show the climates kept here, and the seasons that are built in."""
    context = {"page": page_of(request, climates_in_use()), "built_in": shown.built_in()}
    return render(request, "climates/list.html", context)


@may("keep climates")
def add(request: HttpRequest) -> HttpResponse:
    """Keep a logger's file or a weather file; ask about its columns once."""
    form = _form(request)
    if form.is_valid():
        row = form.act(
            actions.add_climate,
            form.cleaned_data["name"],
            by=form.by,
            kind=form.kind,
            text=form.cleaned_data["text"],
            columns=form.answers,
            starts_on=form.climate.starts_on,
            hours=form.climate.hours,
            **form.said(),
        )
        if row is not None:
            messages.success(
                request, _("{name} is kept: {days} whole days.").format(name=row.name, days=row.days)
            )
            return redirect("climate-detail", row.pk)
    return form_page(request, "climates/add.html", {"form": form}, form)


@may("see climates")
def detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a climate: what it is, its picture, its months."""
    row = get_object_or_404(ClimateFile, pk=pk)
    context = {"row": row}
    try:
        climate = climate_of(row)
        context |= {
            "climate": climate,
            "whole": shown.whole(climate),
            "months": shown.months(climate),
            "picture": shown.picture(climate),
        }
    except FriableError as problem:
        context["refusal"] = str(problem)
    return render(request, "climates/detail.html", context)


@may("keep climates")
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change what is said of a climate; its file stays as it came."""
    row = get_object_or_404(ClimateFile, pk=pk)
    form = SaidOfClimateForm(request, request.POST if request.method == "POST" else None, initial=_typed(row))
    if form.is_valid():
        retired = "retire" in request.POST
        said = {"name": form.cleaned_data["name"], **form.said(), "in_use": not retired}
        if form.act(actions.change_climate, row, by=form.by, **said):
            told = _("{name} is out of use.") if retired else _("{name} is changed.")
            messages.success(request, told.format(name=row.name))
            return redirect("climate-list") if retired else redirect("climate-detail", row.pk)
    return form_page(request, "climates/change.html", {"form": form, "row": row}, form)


def _form(request: HttpRequest) -> ClimateForm:
    """Return the form; the text of an uploaded file takes the place of what is pasted, so that it stays."""
    if request.method != "POST":
        return ClimateForm(request)
    from friable.planning.weather_file import weather_text

    sent, problem = request.POST.copy(), ""
    given = request.FILES.get("file")
    if given is not None:
        try:
            sent["text"] = weather_text(given.read())
        except FriableError as refusal:
            problem = str(refusal)
    return ClimateForm(request, sent, file_problem=problem)


def _typed(row: ClimateFile) -> dict[str, object]:
    share = row.light_transmission
    return {
        "name": row.name,
        "place": GLASS if row.under_glass else OUTDOORS,
        "light": "" if share is None else f"{figures(100 * share)} %",
        "latitude": "" if row.latitude_deg is None else figures(row.latitude_deg),
        "elevation": figures(row.elevation_m) if row.elevation_m else "",
        "heated": "" if row.heated_to_c is None else figures(row.heated_to_c),
        "note": row.note,
    }
