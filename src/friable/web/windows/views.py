"""Windows: the list of the plant groups, one group, setting a window."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from friable.records.actions import windows as actions
from friable.reference.plant_groups import PlantGroup, plant_groups
from friable.web.answers import form_page
from friable.web.guard import may
from friable.web.windows.forms import WindowForm, as_typed
from friable.web.windows.shown import QUANTITIES, all_shown, one_shown


@may("see windows")
def window_list(request: HttpRequest) -> HttpResponse:
    """Show every plant group with its windows, or the stages of one."""
    names = list(dict.fromkeys(group.group for group in plant_groups()))
    chosen = request.GET.get("group", "")
    chosen = chosen if chosen in names else ""
    context = {"names": names, "chosen": chosen, "shown": all_shown(chosen)}
    return render(request, "windows/list.html", context)


@may("see windows")
def detail(request: HttpRequest, group: str) -> HttpResponse:
    """Show one plant group: every quantity, what the table says, what held before."""
    return render(request, "windows/detail.html", {"one": one_shown(_group(group))})


@may("set windows")
def set_window(request: HttpRequest, group: str, quantity: str) -> HttpResponse:
    """Set the window of one quantity, say that nothing is asked, or take the keeper's window away."""
    known = _group(group)
    if quantity not in QUANTITIES:
        raise Http404
    line = next(line for line in one_shown(known).lines if line.quantity == quantity)
    nothing, drop = "nothing" in request.POST, "drop" in request.POST
    form = WindowForm(
        request,
        quantity,
        request.POST if request.method == "POST" else None,
        asks=not (nothing or drop),
        initial=as_typed(line.window),
    )
    act = actions.ask_nothing if nothing else actions.drop_window if drop else actions.set_window
    if form.is_valid() and form.act(act, known.key, quantity, by=form.by, **form.values()):
        told = (
            _("Nothing is asked of {quantity} here.")
            if nothing
            else _("Our window for {quantity} is taken away.")
            if drop
            else _("The window for {quantity} is set.")
        )
        messages.success(request, told.format(quantity=line.label))
        return redirect("window-detail", known.key)
    context = {"group": known, "line": line, "form": form}
    return form_page(request, "windows/set.html", context, form)


def _group(key: str) -> PlantGroup:
    found = next((group for group in plant_groups() if group.key == key), None)
    if found is None:
        raise Http404
    return found
