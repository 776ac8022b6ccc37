"""The fewest mixes: the question, how far it is, the answer."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from friable.demo.quillmoor import is_loaded
from friable.errors import FriableError
from friable.records.queries.at_hand import at_hand
from friable.runs import searches
from friable.web.answers import form_page
from friable.web.fewest.collections import demo_collection
from friable.web.fewest.forms import FewestForm
from friable.web.fewest.shown import FewestView
from friable.web.finding import at_work
from friable.web.finding import work as worked
from friable.web.guard import may

KIND = "fewest"
MANY = {"chosen"}  # fields with several values


@may("find mixes")
def fewest(request: HttpRequest) -> HttpResponse:
    """Ask for a collection, and begin; what was asked last on this machine is there again."""
    form = _form(request)
    if form.is_valid():
        key = form.act(_begin, form)
        if key is not None:
            request.session[KIND] = key
            return redirect("fewest-work", key)
    context = {"form": form, "has_demo": is_loaded()}
    return form_page(request, "fewest/ask.html", context, form)


@may("find mixes")
def work(request: HttpRequest, key: str) -> HttpResponse:
    """Show how far it is; once it is done, the answer."""
    folder = at_work.folder_of(key)
    if folder is None:
        return at_work.gone(request, "fewest")
    try:
        question, told = worked.question_of(folder), worked.look(folder)
        answer = worked.answer_of(folder) if told.state == searches.DONE else None
    except FriableError as problem:
        messages.error(request, str(problem))
        return redirect("fewest")
    if question.kind != KIND:
        return redirect("find-work", key)
    context = {"key": key, "question": question, "told": told}
    if answer is None:
        return render(request, "fewest/work.html", context)
    return render(request, "fewest/answer.html", {**context, "view": FewestView(answer, question)})


@may("find mixes")
def progress(request: HttpRequest, key: str) -> HttpResponse:
    """How far it is, asked for again and again while it is at work."""
    return at_work.how_far(request, key, "fewest/progress.html")


@may("find mixes")
@require_POST
def stop(request: HttpRequest, key: str) -> HttpResponse:
    """Stop it; nothing of it is kept but the question."""
    return at_work.stopped(request, key, "fewest", "fewest-work")


def _form(request: HttpRequest) -> FewestForm:
    """Return the form; an uploaded file takes the place of what is pasted, so that it stays."""
    known = at_hand()
    if request.method != "POST":
        return FewestForm(initial=_asked_before(request), at_hand=known)
    sent, problem = request.POST.copy(), ""
    given = request.FILES.get("file")
    if given is not None:
        try:
            sent["collection"] = given.read().decode("utf-8-sig")
        except UnicodeDecodeError:
            problem = _("The file is not text; save the table as CSV.")
    return FewestForm(sent, file_problem=problem, at_hand=known)


def _asked_before(request: HttpRequest) -> dict[str, object]:
    if "demo" in request.GET and is_loaded():
        return {"collection": demo_collection()}
    typed = worked.typed_before(request.GET.get("again") or request.session.get(KIND, ""))
    if not typed:
        return {}
    said = {name: texts if name in MANY else texts[-1] for name, texts in typed.items() if texts}
    return {**said, "ours_too": "ours_too" in said}


def _begin(form: FewestForm) -> str:
    typed = {name: texts for name, texts in form.data.lists() if name not in worked.NOT_TYPED}
    pots = f"{form.stands.pots:,}"
    case = form.case(worked.overlap_losses())
    return worked.begin(KIND, {"case": case}, typed, _("a collection of {pots} pots").format(pots=pots))
