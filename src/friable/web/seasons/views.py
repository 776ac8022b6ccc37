"""Seasons: the list, asking for one, how far it is, what it says, the door sheet, two side by side."""

from datetime import timedelta
from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from friable.errors import FriableError, Refused
from friable.records.actions import seasons as actions
from friable.records.models import Season
from friable.records.queries.water import seasons_asked
from friable.web import shift
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.pages import page_of
from friable.web.seasons import work
from friable.web.seasons.forms import DoorForm, HandForm, OtherForm, SeasonForm
from friable.web.seasons.shown import whole


@may("see seasons")
def season_list(request: HttpRequest) -> HttpResponse:
    """Show the seasons, newest first."""
    page = page_of(request, seasons_asked())
    for season in page.object_list:
        work.looked_at(season)
    return render(request, "seasons/list.html", {"page": page})


@may("run seasons")
def new(request: HttpRequest) -> HttpResponse:
    """Ask for a season, and begin it."""
    form = _form(request)
    if form.is_valid():
        season = form.act(_ask_and_begin, form)
        if season is not None:
            return redirect("season-detail", season.pk)
    return form_page(request, "seasons/new.html", {"form": form}, form)


@may("see seasons")
def detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show how far a season is; once it is done, what it says."""
    season = work.looked_at(_season(pk))
    context = {**_how_far(season), "hand": HandForm(request)}
    answer = work.answer_of(season) if season.state == "done" else None
    if answer is None:
        return render(request, "seasons/detail.html", context)
    others = [row for row in seasons_asked().filter(state="done") if row.pk != season.pk]
    other = OtherForm(request.GET if "other" in request.GET else None, others=others)
    door = DoorForm(request.GET if "first" in request.GET else None, initial=_weekend())
    context |= {
        "answer": answer,
        "whole": _whole(answer, get_language()),
        "numbers": _numbers(answer, timezone.localdate(), get_language()),
        "other": other if others else None,
        "compared": None,
        "door": door,
    }
    try:
        if other.is_bound and other.is_valid() and other.cleaned_data["other"]:
            context["compared"] = _compared(answer, other.cleaned_data["other"])
        if door.is_bound and door.is_valid():
            return _door_pdf(request, season, answer, door)
    except FriableError as problem:
        if door.is_bound:
            door.refuse(problem, "first")
        else:
            other.refuse(problem, "other")
    return form_page(request, "seasons/detail.html", context, other, door)


@may("see seasons")
def progress(request: HttpRequest, pk: int) -> HttpResponse:
    """How far a season is, asked for again and again while it is worked out."""
    season = work.looked_at(_season(pk))
    told = _how_far(season)
    answer = render(request, "seasons/progress.html", told)
    if season.state != "running" and not told["ending"]:
        answer["HX-Refresh"] = "true"
    return answer


@may("run seasons")
@require_POST
def begin(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin the work, or go on with it."""
    return _by_hand(request, pk, work.begin)


@may("run seasons")
@require_POST
def stop(request: HttpRequest, pk: int) -> HttpResponse:
    """Stop the work; what is done stays."""
    return _by_hand(request, pk, work.stop)


def _by_hand(request: HttpRequest, pk: int, verb) -> HttpResponse:
    season = work.looked_at(_season(pk))
    form = HandForm(request, request.POST)
    if form.is_valid() and form.act(verb, season, by=form.by) is not None:
        return redirect("season-detail", season.pk)
    context = {**_how_far(season), "hand": form}
    return form_page(request, "seasons/detail.html", context, form)


def _how_far(season: Season) -> dict[str, object]:
    return {
        "season": season,
        "progress": work.progress_of(season),
        "ending": work.is_ending(season),
    }


def _ask_and_begin(form: SeasonForm) -> Season:
    """Plan first: what cannot be planned is refused before anything is kept."""
    asked, title = form.asked(), form.cleaned_data["title"]
    plan = work.planned(
        title,
        asked["collection"],
        asked["climate"],
        asked["built_in_climate"],
        asked["weathers"],
        asked["draws"],
    )
    season = actions.ask_season(
        title, by=form.by, pots=form.found.pots, note=form.cleaned_data["note"], **asked
    )
    return work.begin(season, by=form.by, plan=plan)


def _compared(answer, pk: str):
    from friable.planning.season import difference

    other = get_object_or_404(Season, pk=int(pk))
    before = work.answer_of(other)
    if before is None:
        raise Refused(_("The numbers of that season are gone; work it out again."))
    return {"title": other.title, "difference": difference(before, answer), "weeks": answer.weeks}


def _door_pdf(request: HttpRequest, season: Season, answer, form: DoorForm) -> HttpResponse:
    from friable.sheets.door_sheet import door_sheet_pdf
    from friable.sheets.season_door import season_door_sheet

    said = form.cleaned_data
    sheet = season_door_sheet(answer, season.title, said["first"], said["last"], said["watered_on"])
    pdf = HttpResponse(door_sheet_pdf(sheet, shift.paper(request)), content_type="application/pdf")
    pdf["Content-Disposition"] = f'inline; filename="door-sheet-{said["first"]}.pdf"'
    return pdf


def _form(request: HttpRequest) -> SeasonForm:
    """Return the form; an uploaded file takes the place of what is pasted, so that it stays."""
    if request.method != "POST":
        return SeasonForm(request, initial={"climate": request.GET.get("climate", "")})
    sent, problem = request.POST.copy(), ""
    given = request.FILES.get("file")
    if given is not None:
        try:
            sent["collection"] = given.read().decode("utf-8-sig")
        except UnicodeDecodeError:
            problem = _("The file is not text; save the table as CSV.")
    return SeasonForm(request, sent, file_problem=problem)


@lru_cache(maxsize=work.KEPT)
def _whole(answer, _language):
    return whole(answer)


@lru_cache(maxsize=work.KEPT)
def _numbers(answer, today, language):
    from friable.drawing.season_calendar import season_calendar

    shown = {
        "answer": answer,
        "whole": _whole(answer, language),
        "calendar": season_calendar(answer.days, today=today),
    }
    return render_to_string("seasons/numbers.html", shown)


def _season(pk: int) -> Season:
    return get_object_or_404(Season.objects.select_related("climate").defer("climate__text"), pk=pk)


def _weekend() -> dict[str, object]:
    """Return the coming Saturday and Sunday."""
    today = timezone.localdate()
    saturday = today + timedelta(days=(5 - today.weekday()) % 7)
    return {"first": saturday, "last": saturday + timedelta(days=1)}
