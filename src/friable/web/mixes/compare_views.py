"""Mixes side by side."""

from django.http import HttpRequest, HttpResponse

from friable.records.queries.stores import containers_in_use
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.mixes.compare_forms import CompareForm, known_versions
from friable.web.mixes.known import known_names
from friable.web.mixes.side_by_side import side_by_side

FIRST_POTS = 2


@may("see mixes")
def compare(request: HttpRequest) -> HttpResponse:
    """Show up to four mixes in up to four pots side by side."""
    form = CompareForm(_asked(request))
    form.is_valid()
    found = side_by_side(form.mixes, form.pots) if form.mixes and form.pots else None
    context = {"form": form, "found": found, "known_versions": known_versions(), **known_names()}
    return form_page(request, "mixes/compare.html", context, form)


def _asked(request: HttpRequest) -> dict[str, str]:
    """Return what is asked for; pots of ours where only a mix is."""
    asked = {name: request.GET.get(name, "") for name in CompareForm({}).fields}
    asked["mix1"] = asked["mix1"] or request.GET.get("mix", "")
    if not any(asked[name].strip() for name in asked if name.startswith("pot")):
        ours = [row.name for row in containers_in_use()[:FIRST_POTS]] or ["round 17/12/13 cm"]
        asked.update({f"pot{place}": name for place, name in enumerate(ours, start=1)})
    return asked
