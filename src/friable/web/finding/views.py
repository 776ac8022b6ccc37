"""Find: the question, how far the search is, what it found."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from friable.errors import FriableError
from friable.records.queries.at_hand import at_hand
from friable.records.queries.windows import groups
from friable.reference.plant_groups import find_plant_group
from friable.runs import searches
from friable.web.answers import form_page
from friable.web.finding import at_work
from friable.web.finding import work as worked
from friable.web.finding.can_make_views import StandInsView
from friable.web.finding.forms import FindForm
from friable.web.finding.replaced import ReplacedView
from friable.web.finding.shown import FoundView
from friable.web.guard import may
from friable.web.mixes.known import known_names

TEMPLATES = {
    "find": "finding/found.html",
    "replace": "finding/replaced.html",
    "can-make": "finding/stand_ins.html",
}
VIEWS = {"find": FoundView, "replace": ReplacedView, "can-make": StandInsView}


@may("find mixes")
def find(request: HttpRequest) -> HttpResponse:
    """Ask for whom, in which pot, from what; begin the search."""
    known = {"groups": groups(), "at_hand": at_hand()}
    if request.method == "POST":
        form = FindForm(request.POST, **known)
        if form.is_valid():
            key = form.act(_begin, form, request)
            if key is not None:
                return redirect("find-work", key)
    else:
        form = FindForm(initial=_asked(request), **known)
    return form_page(request, "finding/find.html", {"form": form, **known_names()}, form)


@may("find mixes")
def work(request: HttpRequest, key: str) -> HttpResponse:
    """Show how far a search is; once it is done, what it found."""
    folder = at_work.folder_of(key)
    if folder is None:
        return at_work.gone(request, "find")
    try:
        question, told = worked.question_of(folder), worked.look(folder)
        answer = worked.answer_of(folder) if told.state == searches.DONE else None
    except FriableError as problem:
        messages.error(request, str(problem))
        return redirect("find")
    context = {"key": key, "question": question, "told": told}
    if answer is None:
        return render(request, "finding/work.html", context)
    context["view"] = VIEWS[question.kind](answer, question, key, request.GET)
    return render(request, TEMPLATES[question.kind], context)


@may("find mixes")
def progress(request: HttpRequest, key: str) -> HttpResponse:
    """How far a search is, asked for again and again while it is at work."""
    return at_work.how_far(request, key, "finding/progress.html")


@may("find mixes")
@require_POST
def stop(request: HttpRequest, key: str) -> HttpResponse:
    """Stop a search; nothing of it is kept but the question."""
    return at_work.stopped(request, key, "find", "find-work")


def _begin(form: FindForm, request: HttpRequest) -> str:
    group, typed = form.chosen_group, worked.typed_in(request)
    if group is not None:
        typed["watered"] = [group.watered]
    return worked.begin("find", {"case": form.case(worked.overlap_losses())}, typed, form.title)


def _asked(request: HttpRequest) -> dict[str, object]:
    """Return what an address asks for: an earlier question, or plants, a pot and materials by name."""
    if request.GET.get("again"):
        return as_initial(worked.typed_before(request.GET["again"]))
    initial: dict[str, object] = {name: request.GET.get(name, "") for name in ("container", "group")}
    if request.GET.get("for"):
        try:
            initial["group"] = find_plant_group(request.GET["for"]).key
        except FriableError as problem:
            messages.error(request, str(problem))
    return initial


def as_initial(typed: dict[str, list[str]]) -> dict[str, object]:
    """Return what was typed as a form shows it again."""
    return {name: texts if name == "chosen" else texts[-1] for name, texts in typed.items() if texts}
