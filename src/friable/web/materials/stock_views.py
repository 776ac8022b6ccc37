"""The store: counting it, one material or many at once, and what things cost."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from friable.records.actions import stock as actions
from friable.records.queries.at_hand import currency
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.materials.known import known_material
from friable.web.materials.stock_forms import CountForm, PriceForm, StoreForm
from friable.web.materials.store import kept_of, store_rows


@may("count the store")
def store(request: HttpRequest) -> HttpResponse:
    """Show what lies here, and write down many counts and prices at once."""
    rows = store_rows()
    form = StoreForm(request, rows, request.POST if request.method == "POST" else None)
    if form.is_valid():
        written = form.act(
            actions.count_store, form.lines(), by=form.by, counted_on=form.cleaned_data["counted_on"]
        )
        if written is not None:
            messages.success(
                request,
                ngettext(
                    "{number} material is written down.", "{number} materials are written down.", written
                ).format(number=written),
            )
            return redirect("material-store")
    fields = [(row, form[row.stock_field], form[row.price_field]) for row in rows]
    context = {
        "form": form,
        "parts": [part for part in _parts(fields) if part[1]],
        "counted": any(row.count for row in rows),
        "currency": currency(),
    }
    return form_page(request, "materials/store.html", context, form)


@may("count the store")
def count(request: HttpRequest, key: str) -> HttpResponse:
    """Write down how much of one material lies here."""
    known = known_material(key)
    form = CountForm(request, request.POST if request.method == "POST" else None)
    if form.is_valid() and form.act(
        lambda: actions.set_stock(known.stored(form.by), by=form.by, **form.values())
    ):
        messages.success(request, _("The count is kept."))
        return redirect("material-detail", known.key)
    context = {"known": known, "form": form, "title": _("Count what is here"), **kept_of(known)}
    return form_page(request, "materials/count.html", context, form)


@may("set prices")
def price(request: HttpRequest, key: str) -> HttpResponse:
    """Write down what one material costs, or that it is not known any more."""
    known = known_material(key)
    unknown = "unknown" in request.POST
    form = PriceForm(request, request.POST if request.method == "POST" else None, unknown=unknown)
    if form.is_valid() and form.act(
        lambda: actions.set_price(known.stored(form.by), by=form.by, **form.values())
    ):
        gone, kept = _("The price is not known any more; the old ones stay."), _("The price is kept.")
        messages.success(request, gone if unknown else kept)
        return redirect("material-detail", known.key)
    context = {"known": known, "form": form, "title": _("Set its price"), **kept_of(known)}
    return form_page(request, "materials/price.html", context, form)


def _parts(fields):
    yield _("In use here"), [one for one in fields if one[0].known.row]
    yield _("The rest of the table"), [one for one in fields if not one[0].known.row]
