"""Materials: the list and its search, one material, our own materials and aliases, the bibliography."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from friable.records.actions import materials as actions
from friable.records.queries.at_hand import anything_counted
from friable.reference.cautions import cautions_for
from friable.reference.sources import all_sources
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.materials.forms import AliasForm, ChangeForm, OwnMaterialForm, SearchForm
from friable.web.materials.known import (
    Answered,
    all_known,
    as_typed,
    figures,
    found,
    known_material,
    measured,
)
from friable.web.materials.store import kept_of, with_counts
from friable.web.mixes.known import known_names


@may("see materials")
def material_list(request: HttpRequest) -> HttpResponse:
    """Show every material, or those that a name leads to; an ambiguous name asks back."""
    form = SearchForm(request.GET if request.GET.get("q") else None)
    if form.is_valid():
        rows, answered = found(form.cleaned_data["q"])
    else:
        rows, answered = all_known(), Answered()
    context = {
        "form": form,
        "rows": with_counts(rows),
        "counted": anything_counted(),
        "answered": answered,
        "asked": form.is_bound,
    }
    return form_page(request, "materials/list.html", context, form if form.is_bound else None)


@may("see materials")
def detail(request: HttpRequest, key: str) -> HttpResponse:
    """Show what is known of a material, and where each figure comes from."""
    known = known_material(key)
    measurements, packs = measured(known)
    context = {
        "known": known,
        "figures": figures(known),
        "cautions": cautions_for(known.value.hazards) if known.value else (),
        "measurements": measurements,
        "packs": packs,
        **kept_of(known),
    }
    return render(request, "materials/detail.html", context)


@may("change materials")
def add(request: HttpRequest) -> HttpResponse:
    """Add a material of our own, resting on the nearest one of the table."""
    form = OwnMaterialForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid():
        row = form.act(actions.add_material, form.cleaned_data["name"], by=form.by, **form.values())
        if row is not None:
            messages.success(request, _("{name} is kept.").format(name=row.name))
            return redirect("material-detail", f"OWN_{row.pk}")
    return form_page(request, "materials/add.html", {"form": form, **known_names()}, form)


@may("change materials")
def change(request: HttpRequest, key: str) -> HttpResponse:
    """Change a material of our own; a material of the table stays as it is."""
    known = known_material(key)
    if not known.is_own:
        raise Http404
    form = ChangeForm(request, request.POST if request.method == "POST" else None, initial=as_typed(known))
    if form.is_valid() and form.act(actions.change_material, known.row, by=form.by, **form.values()):
        messages.success(request, _("{name} is changed.").format(name=known.row.name))
        return redirect("material-detail", known.key)
    page = {**_page(known, form, _("Change {name}").format(name=known.name)), **known_names()}
    return form_page(request, "materials/one_form.html", page, form)


@may("change materials")
def alias(request: HttpRequest, key: str) -> HttpResponse:
    """Add another word for a material."""
    known = known_material(key)
    form = AliasForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        lambda: actions.add_alias(known.stored(form.by), form.cleaned_data["name"], by=form.by)
    ):
        messages.success(request, _("{name} is known by that word too.").format(name=known.name))
        return redirect("material-detail", known.key)
    return form_page(request, "materials/one_form.html", _page(known, form, _("Another word for it")), form)


@may("see materials")
def sources(request: HttpRequest) -> HttpResponse:
    """Show the bibliography, and what is known without a source."""
    return render(request, "materials/sources.html", {"sources": all_sources()})


def _page(known, form, title) -> dict[str, object]:
    return {"known": known, "form": form, "title": title}
