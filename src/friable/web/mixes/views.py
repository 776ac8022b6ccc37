"""Mixes: the list, writing one with an instant answer, one mix with its versions."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from friable.errors import FriableError
from friable.records.actions import mixes as actions
from friable.records.models import Mix
from friable.records.queries.batches import batches_made_from
from friable.records.queries.mixes import mix_history, mixes_behind, mixes_in_use, use_of
from friable.web.answers import REFUSED, form_page
from friable.web.guard import may
from friable.web.mixes import poured
from friable.web.mixes.answers import mix_answer
from friable.web.mixes.as_typed import mix_as_typed, pot_as_asked, published_as_typed
from friable.web.mixes.forms import MixForm, PotForm, RecipeForm
from friable.web.mixes.history import told
from friable.web.mixes.known import known_names
from friable.web.mixes.published_views import start_from
from friable.web.pages import page_of

SHOWN_BATCHES = 8


@may("see mixes")
def mix_list(request: HttpRequest) -> HttpResponse:
    """Show the mixes in use, each in its newest version."""
    return render(request, "mixes/list.html", {"page": page_of(request, mixes_in_use())})


@may("write mixes")
def write(request: HttpRequest) -> HttpResponse:
    """Write a mix, seeing what it does in a pot while it is written."""
    initial, start = {"recipe": request.GET.get("recipe", ""), **pot_as_asked(request.GET)}, None
    if request.GET.get("published"):
        try:
            published, start = start_from(request.GET["published"])
        except FriableError as problem:
            messages.error(request, str(problem))
            return redirect("mix-published")
        initial = {**published_as_typed(start), "plant_group": published.plant_group}
    form = _form(request, initial=initial)
    if _may_save(request, form):
        said = {name: form.cleaned_data[name] for name in ("plant_group", "version_note")}
        version = form.act(actions.write_mix, form.cleaned_data["recipe"], by=form.by, **said)
        if version is not None:
            messages.success(request, _("{version} is kept.").format(version=version))
            return redirect("mix-detail", version.mix_id)
    return _write_page(request, form, start=start)


@may("write mixes")
def new_version(request: HttpRequest, pk: int) -> HttpResponse:
    """Write the next version of a mix; earlier ones stay as they are."""
    mix, newest = _mix(pk)
    form = _form(request, mix=mix, initial=mix_as_typed(newest))
    if _may_save(request, form):
        said = {"note": form.cleaned_data["version_note"]}
        version = form.act(actions.new_mix_version, mix, form.cleaned_data["recipe"], by=form.by, **said)
        if version is not None:
            messages.success(request, _("{version} is kept.").format(version=version))
            return redirect("mix-detail", mix.pk)
    return _write_page(request, form, mix=mix, version=newest)


@may("write mixes")
def change_version(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the newest version right while nothing has used it yet."""
    mix, newest = _mix(pk)
    form = _form(request, mix=mix, initial=mix_as_typed(newest))
    if _may_save(request, form):
        said = {"note": form.cleaned_data["version_note"]}
        version = form.act(
            actions.change_mix_version, newest, form.cleaned_data["recipe"], by=form.by, **said
        )
        if version is not None:
            messages.success(request, _("{version} is put right.").format(version=version))
            return redirect("mix-detail", mix.pk)
    return _write_page(request, form, mix=mix, version=newest, used=use_of(newest), correcting=True)


@may("see mixes")
@require_POST
def answer(request: HttpRequest) -> HttpResponse:
    """Answer for a recipe as far as it is typed; nothing is kept."""
    form = RecipeForm(request.POST)
    nothing = not request.POST.get("recipe", "").strip() and not form.has_lines
    found = None if nothing else _answer(form)
    context = {"form": form, "answer": found, "nothing": nothing, "alone": True}
    status = REFUSED if not nothing and found is None else 200
    return render(request, "mixes/answer.html", context, status=status)


@may("see mixes")
def detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a mix in one version: what is in it, what it does in a pot, what was made, what changed."""
    mix = get_object_or_404(Mix, pk=pk)
    versions = list(mix_history(mix))
    wanted = request.GET.get("version")
    version = next((one for one in versions if str(one.number) == wanted), versions[0] if versions else None)
    form = PotForm(request.GET if "container" in request.GET else pot_as_asked(request.GET))
    found, refusal = _answer_for(version, form) if version else (None, "")
    history = told(versions)
    context = {
        "mix": mix,
        "version": version,
        "is_newest": bool(versions) and version.pk == versions[0].pk,
        "used": next((one.used for one in history if one.version.pk == version.pk), ""),
        "behind": mixes_behind(version) if version and _has_mixes(version) else [],
        "history": history,
        "batches": batches_made_from(version)[:SHOWN_BATCHES] if version else [],
        "form": form,
        "answer": found,
        "refusal": refusal,
        **known_names(),
    }
    return form_page(request, "mixes/detail.html", context, form if "container" in request.GET else None)


def _has_mixes(version) -> bool:
    return any(line.sub_mix_id for line in version.lines.all())


def _mix(pk: int):
    mix = get_object_or_404(Mix, pk=pk)
    return mix, mix_history(mix).first()


def _form(request: HttpRequest, *, mix=None, initial=None) -> MixForm:
    if request.method != "POST":
        return MixForm(request, mix=mix, initial=initial)
    looking = "look" in request.POST or "more" in request.POST
    return MixForm(request, request.POST, mix=mix, looking=looking, sign=not looking)


def _may_save(request: HttpRequest, form: MixForm) -> bool:
    return request.method == "POST" and not form.looking and form.is_valid()


def _write_page(request: HttpRequest, form: MixForm, **context) -> HttpResponse:
    looked = form if form.is_bound else RecipeForm(form.initial)
    found = _answer(looked) if form.is_worth_a_look else None
    page = {
        "form": form,
        "looked": looked,
        "alone": not form.is_bound,
        "answer": found,
        "nothing": not form.is_worth_a_look,
        **known_names(),
        **context,
    }
    return form_page(request, "mixes/write.html", page, form)


def _answer(form: RecipeForm):
    """Return the answer for a form that was typed; the form keeps why there is none."""
    form.is_valid()
    if form.poured is None or form.pot is None or {"container", "headspace", "layer"} & set(form.errors):
        return None
    said = form.cleaned_data
    try:
        return mix_answer(
            form.poured,
            form.pot,
            name=said["recipe"].name,
            use=said.get("use", ""),
            layer_material=said.get("layer_material"),
        )
    except FriableError as problem:
        form.refuse(problem, "recipe")
        return None


def _answer_for(version, form: PotForm):
    if not form.is_valid():
        return None, ""
    said = form.cleaned_data
    try:
        return mix_answer(
            poured.of_version(version),
            form.pot,
            name=str(version),
            use=said["use"],
            layer_material=said["layer_material"],
        ), ""
    except FriableError as problem:
        return None, str(problem)
