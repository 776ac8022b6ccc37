"""What can be made now: litres of each kept mix, and stand-ins for those that are short."""

import math
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.records.queries.at_hand import at_hand
from friable.web.answers import form_page
from friable.web.finding import work as worked
from friable.web.finding.can_make import CanMakeForm, kept_mixes, made_now
from friable.web.finding.shown import Roads, roads
from friable.web.guard import may
from friable.web.mixes.as_typed import pot_as_asked
from friable.web.mixes.known import known_names

WHOLE_FROM_L = 10.0


@may("find mixes")
def can_make(request: HttpRequest) -> HttpResponse:
    """Show litres of each kept mix; begin a search for stand-ins."""
    here, kept = at_hand(), kept_mixes()
    form = CanMakeForm(request.POST) if request.method == "POST" else _asked(request)
    made, wanted_l = (), None
    if not form.is_bound or form.is_valid():
        wanted_l = form.wanted_l if form.is_bound else None
        try:
            made = made_now(kept, here, wanted_l)
        except FriableError as problem:
            form.refuse(problem, "litres")
    if "stand_ins" in request.POST and form.is_valid():
        if not wanted_l:
            form.add_error("litres", _("Say how much is wanted of each, such as 60 L."))
        else:
            key = form.act(_begin, form, request, kept, here)
            if key is not None:
                return redirect("find-work", key)
    context = {
        "form": form,
        "rows": [(one, kept.pks.get(one.name), _surely(one.litres)) for one in made],
        "unknown": kept.unknown,
        "any_short": any(one.is_short for one in made),
        "nothing_counted": not any(one.stock_l is not None for one in here),
        **known_names(),
    }
    return form_page(request, "finding/can_make.html", context, form)


class StandInsView:
    """What can be made of each mix, with the stand-ins that were found."""

    def __init__(self, answer, question, key: str, _asked: object) -> None:
        self.answer, self._key = answer, key
        self.pot = "".join(question.typed.get("container", ()))

    @property
    def rows(self) -> list[tuple[Any, Roads | None]]:
        """Each mix, and where its stand-in leads."""
        return [
            (one, self._roads(one.stand_in.text, one.name) if one.stand_in else None)
            for one in self.answer
            if one.is_short
        ]

    @property
    def enough(self) -> list[str]:
        """Mixes of which what is here gives as much as is wanted."""
        return [one.name for one in self.answer if not one.is_short]

    def _roads(self, recipe: str, name: str) -> Roads:
        return roads(recipe, self.pot, self._key, stands_in_for=name)


def _begin(form: CanMakeForm, request: HttpRequest, kept, here) -> str:
    arguments = {
        "mixes": kept.mixes,
        "at_hand": here,
        "wanted_l": form.wanted_l,
        "containers": (form.cleaned_data["container"],),
    }
    return worked.begin("can-make", arguments, worked.typed_in(request), _("stand-ins for what is short"))


def _surely(litres: float | None) -> float | None:
    """Return litres rounded down: what is surely there."""
    if litres is None:
        return None
    return float(math.floor(litres)) if litres >= WHOLE_FROM_L else math.floor(10 * litres) / 10


def _asked(request: HttpRequest) -> CanMakeForm:
    if request.GET.get("again"):
        typed = worked.typed_before(request.GET["again"])
        return CanMakeForm(initial={name: texts[-1] for name, texts in typed.items() if texts})
    initial = {"container": pot_as_asked(request.GET)["container"]}
    return CanMakeForm(request.GET if "litres" in request.GET else None, initial=initial)
