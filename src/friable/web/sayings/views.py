"""Sayings: the list, and one asked of the user's own materials and pots."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from friable.errors import FriableError
from friable.planning.sayings.registry import asked_of
from friable.reference.sayings import Saying, all_sayings
from friable.web.answers import REFUSED
from friable.web.guard import may
from friable.web.mixes.known import known_names
from friable.web.sayings.forms import SayingForm
from friable.web.sayings.shown import sayings_by_topic, shown_saying, sides


@may("see sayings")
def saying_list(request: HttpRequest) -> HttpResponse:
    """List all sayings, each with its verdict."""
    return render(request, "sayings/list.html", {"topics": sayings_by_topic()})


@may("see sayings")
def detail(request: HttpRequest, key: str) -> HttpResponse:
    """Answer one saying; with nothing asked, for what is usual."""
    saying = _saying(key)
    context = {"saying": saying, "sides": sides(saying)}
    if not saying.is_computed:
        return render(request, "sayings/detail.html", context)
    form = SayingForm(asked_of(saying))
    asked = {name: request.GET[name] for name in form.fields if name in request.GET}
    form = SayingForm(asked_of(saying), {**form.usual, **asked})
    found = refusal = None
    if form.is_valid():
        try:
            found = shown_saying(saying, form.case())
        except FriableError as problem:
            refusal = str(problem)
    context |= {"form": form, "found": found, "refusal": refusal, **known_names()}
    return render(request, "sayings/detail.html", context, status=200 if found else REFUSED)


def _saying(key: str) -> Saying:
    for saying in all_sayings():
        if saying.key == key:
            return saying
    raise Http404(key)
