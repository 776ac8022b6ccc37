"""Containers: the list, one with its pot section, adding one, weighing one with water."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.planning.units_in import figures
from friable.records.actions import equipment as actions
from friable.records.actions.measurements import measure_pot_volume
from friable.records.models import Container
from friable.records.queries.measurements import measurements_of_container
from friable.records.queries.stores import containers_in_use
from friable.web.answers import form_page
from friable.web.containers.forms import ContainerForm, LookForm, TradeNameForm, WeighForm
from friable.web.containers.trade_names import trade_name
from friable.web.containers.volumes import all_volumes, volumes
from friable.web.guard import may
from friable.web.mixes import poured
from friable.web.mixes.answers import mix_answer
from friable.web.mixes.compare_forms import Compared
from friable.web.mixes.pot_tests import kept_tests
from friable.web.mixes.side_by_side import air_by_height
from friable.web.pages import page_of


@may("see containers")
def container_list(request: HttpRequest) -> HttpResponse:
    """Show the containers with their real volumes; say what lists know of a trade name."""
    form = TradeNameForm(request.GET if "trade" in request.GET else None)
    typed = form.cleaned_data["trade"] if form.is_valid() else ""
    page = page_of(request, containers_in_use())
    context = {
        "page": page,
        "rows": all_volumes(page.object_list),
        "form": form,
        "typed": typed,
        "known": trade_name(typed) if typed else None,
    }
    return form_page(request, "containers/list.html", context, form)


@may("see containers")
def detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a container filled with a mix: section, volumes, air against its height."""
    row = get_object_or_404(Container, pk=pk)
    found = volumes(row)
    form = LookForm(request.GET)
    answer, chart, refusal = _filled(found.container, form) if form.is_valid() else (None, None, "")
    context = {
        "found": found,
        "form": form,
        "answer": answer,
        "chart": chart,
        "refusal": refusal,
        "measurements": measurements_of_container(row),
        "kept": kept_tests(container=row),
    }
    return form_page(request, "containers/detail.html", context, form)


@may("change containers")
def add(request: HttpRequest) -> HttpResponse:
    """Add a container by its inside measures."""
    form = ContainerForm(
        request,
        request.POST if request.method == "POST" else None,
        initial={"name": request.GET.get("name", "")},
    )
    if form.is_valid():
        said = form.cleaned_data
        row = form.act(actions.add_container, said["name"], said["measures"], by=form.by, note=said["note"])
        if row is not None:
            messages.success(request, _echo(row, said))
            return redirect("container-detail", row.pk)
    return form_page(request, "containers/form.html", {"form": form, "title": _("Add a container")}, form)


@may("change containers")
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a container's name, measures or usual headspace."""
    row = get_object_or_404(Container, pk=pk)
    found = volumes(row)
    typed = {
        "name": row.name,
        "measures": found.container.describe(),
        "headspace": f"{figures(row.headspace_cm)} cm",
        "note": row.note,
    }
    form = ContainerForm(request, request.POST if request.method == "POST" else None, initial=typed)
    if form.is_valid():
        said = form.cleaned_data
        values = {"measures": said["measures"], "name": said["name"], "note": said["note"]}
        if form.act(actions.change_container, row, by=form.by, **values):
            messages.success(request, _echo(row, said))
            return redirect("container-detail", row.pk)
    context = {"form": form, "title": _("Change {name}").format(name=row.name), "row": row}
    return form_page(request, "containers/form.html", context, form)


@may("measure")
def weigh(request: HttpRequest, pk: int) -> HttpResponse:
    """Weigh a container empty and filled with water: a kilogram is a litre."""
    row = get_object_or_404(Container, pk=pk)
    form = WeighForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(measure_pot_volume, row, by=form.by, **form.values()):
        said = _("{name} holds {litres} L to the brim.").format(name=row.name, litres=figures(form.brim_l))
        messages.success(request, said)
        return redirect("container-detail", row.pk)
    return form_page(request, "containers/weigh.html", {"form": form, "found": volumes(row)}, form)


def _echo(row: Container, said) -> str:
    """Say back what was understood, in centimetres and litres."""
    return _("{name} is kept as {measures}: {litres} L to the brim.").format(
        name=row.name,
        measures=said["measures"].describe(),
        litres=figures(round(said["measures"].brim_volume_l, 2)),
    )


def _filled(container, form: LookForm):
    version, headspace = form.version(), form.cleaned_data["headspace"]
    if version is None:
        return None, None, ""
    try:
        pot = container if headspace is None else container.with_headspace(headspace.value)
        mix = Compared(str(version), poured.of_version(version))
        return mix_answer(mix.poured, pot, name=mix.name), air_by_height([mix], pot), ""
    except FriableError as problem:
        return None, None, str(problem)
