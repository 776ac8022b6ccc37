"""Replace: a mix that has to do without a material."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from friable.records.queries.at_hand import at_hand
from friable.web.answers import form_page
from friable.web.finding import work as worked
from friable.web.finding.replace_forms import ReplaceForm, pots_of
from friable.web.finding.views import as_initial
from friable.web.guard import may
from friable.web.mixes.compare_forms import known_versions
from friable.web.mixes.known import known_names


@may("find mixes")
def replace(request: HttpRequest) -> HttpResponse:
    """Ask for a mix without a material; begin the search. With `quick` the rest is as it usually is."""
    known = {"at_hand": at_hand()}
    if request.method == "POST":
        form = ReplaceForm(_filled_up(request, known) if "quick" in request.POST else request.POST, **known)
        if form.is_valid():
            key = form.act(_begin, form)
            if key is not None:
                return redirect("find-work", key)
    else:
        form = ReplaceForm(initial=_asked(request), **known)
    context = {"form": form, "known_versions": known_versions(), **known_names()}
    return form_page(request, "finding/replace.html", context, form)


def _begin(form: ReplaceForm) -> str:
    typed = {name: form.data.getlist(name) for name in form.data if name not in worked.NOT_TYPED}
    return worked.begin("replace", {"case": form.case()}, typed, form.title)


def _filled_up(request: HttpRequest, known):
    """Return what was sent with everything else as it stands in the form at first."""
    sent = request.POST.copy()
    empty = ReplaceForm(**known)
    usual = {name: empty.fields[name].initial for name in ("which", "parts", "kinds")}
    for name, value in {**usual, **pots_of(sent.get("mix", ""))}.items():
        sent.setdefault(name, str(value))
    return sent


def _asked(request: HttpRequest) -> dict[str, object]:
    if request.GET.get("again"):
        return as_initial(worked.typed_before(request.GET["again"]))
    mix = request.GET.get("mix", "")
    return {"mix": mix, "without": request.GET.get("without", ""), **pots_of(mix)}
