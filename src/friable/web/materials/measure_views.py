"""What is measured here of a material; each measurement narrows every mix made from it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _

from friable.records import plain
from friable.records.actions import measurements as actions
from friable.records.actions.materials import add_pack
from friable.records.models import Measurement
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.materials.forms import DensityForm, MixVolumeForm, PackForm, WithdrawForm, YieldForm
from friable.web.materials.known import known_material
from friable.web.mixes.known import known_names


@may("measure")
def density(request: HttpRequest, key: str) -> HttpResponse:
    """Measure the dry bulk density: a pot of known volume, an oven or time, a scale."""
    known = known_material(key)
    form = DensityForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        lambda: actions.measure_dry_bulk_density(known.stored(form.by), by=form.by, **form.values())
    ):
        return _kept(request, known)
    return _page(request, known, form, _("Measure the dry bulk density"))


@may("measure")
def mix_volume(request: HttpRequest, key: str) -> HttpResponse:
    """Measure what two materials give together: what their grains lose by fitting into one another."""
    known = known_material(key)
    form = MixVolumeForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        lambda: actions.measure_mix_volume(
            known.stored(form.by), form.stored_other(form.by), by=form.by, **form.values()
        )
    ):
        return _kept(request, known)
    return _page(request, known, form, _("Measure the volume of two materials mixed"))


@may("measure")
def pack_yield(request: HttpRequest, key: str) -> HttpResponse:
    """Measure how much loose material one pack gives."""
    known = known_material(key)
    if known.row is None or not known.row.packs.filter(in_use=True).exists():
        return redirect("material-pack", known.key)
    form = YieldForm(request, known.row, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        actions.measure_pack_yield, form.cleaned_data["pack"], by=form.by, **form.values()
    ):
        return _kept(request, known)
    return _page(request, known, form, _("Measure what one pack gives"))


@may("change materials")
def pack(request: HttpRequest, key: str) -> HttpResponse:
    """Add a pack in which the material comes."""
    known = known_material(key)
    form = PackForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        lambda: add_pack(
            known.stored(form.by),
            form.cleaned_data["name"],
            declared_l=form.cleaned_data["declared"].value,
            by=form.by,
        )
    ):
        messages.success(request, _("The pack is kept; measure one to know what it gives."))
        return redirect("material-detail", known.key)
    return _page(request, known, form, _("Add a pack it comes in"))


@may("measure")
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Withdraw a wrong measurement in the open."""
    measurement = get_object_or_404(Measurement, pk=pk)
    form = WithdrawForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        actions.withdraw_measurement, measurement, by=form.by, reason=form.cleaned_data["reason"]
    ):
        messages.success(request, _("The measurement is withdrawn; it stays in the records."))
        return _where_it_stands(measurement)
    return form_page(request, "materials/withdraw.html", {"form": form, "measurement": measurement}, form)


def _where_it_stands(measurement: Measurement) -> HttpResponse:
    row = measurement.material or (measurement.pack.material if measurement.pack_id else None)
    if row is not None:
        return redirect("material-detail", plain.material_key(row))
    return redirect("container-detail", measurement.container_id)


def _kept(request: HttpRequest, known) -> HttpResponse:
    messages.success(request, _("The measurement is kept; mixes with it are forecast with it from now on."))
    return redirect("material-detail", known.key)


def _page(request: HttpRequest, known, form, title: str) -> HttpResponse:
    context = {"known": known, "form": form, "title": title, **known_names()}
    return form_page(request, "materials/one_form.html", context, form)
