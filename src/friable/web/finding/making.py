"""Keeping a recipe that was found, and planning a batch of it."""

from collections.abc import Mapping
from dataclasses import replace

from django import forms
from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from friable.planning import units_in
from friable.planning.recipe import Recipe
from friable.records import plain
from friable.records.actions import batches, jobs, mixes
from friable.records.models import Batch, MixVersion
from friable.records.queries.mixes import mix_named
from friable.records.queries.stores import buckets_in_use
from friable.runs.searches import Question
from friable.web.forms import LineField, PickField, QuantityField, SignedForm
from friable.web.mixes.compare_forms import version_named
from friable.web.mixes.forms import RecipeField

OVERAGE = "5 %"
MOST_OF_ONE_NAME = 100


class MakeForm(SignedForm):
    """What the mix is called, and how much of it is made."""

    recipe = RecipeField(label=_("What is in it"))
    stands_in_for = LineField(required=False, label=_("Stands in for"), widget=forms.HiddenInput)
    name = LineField(
        label=_("Name of the mix"), missing=_("The mix has no name; give it one, such as “fern basket”.")
    )
    litres = QuantityField(
        units_in.litres,
        label=_("Finished mix wanted"),
        missing=_("Say how much is made, such as 60 L."),
        help_text=_("Such as 60 L."),
    )
    overage = QuantityField(units_in.fraction, label=_("Overage"), required=False)
    shrinkage = QuantityField(
        lambda text, what: units_in.fraction(text, what, below_one=True),
        label=_("Shrinkage on mixing"),
        required=False,
        help_text=_("As it was computed; put in what you measured."),
    )
    bucket = PickField(label=_("Bucket"), required=False)

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.buckets = {str(bucket.pk): bucket for bucket in buckets_in_use()}
        self.fields["bucket"].choices = [
            ("", _("none")), *((pk, bucket.name) for pk, bucket in self.buckets.items())
        ]  # fmt: skip

    def clean(self):
        """Refuse an empty recipe."""
        said = super().clean()
        if said.get("recipe") is None and "recipe" not in self.errors:
            self.add_error("recipe", _("The recipe is empty; choose one of those that were found."))
        return said

    @property
    def stood_in_for(self) -> MixVersion | None:
        """The mix of ours that this one stands in for."""
        return version_named(self["stands_in_for"].value() or "")


def suggested(question: Question, asked: Mapping[str, str]) -> dict[str, object]:
    """Return what the form holds at first for a recipe that was chosen."""
    litres = [text for text in question.typed.get("litres", ()) if text]
    buckets = list(buckets_in_use()[:2])
    return {
        "recipe": asked.get("recipe", ""),
        "stands_in_for": asked.get("stands_in_for", ""),
        "name": _free_name(question.title if question.kind != "can-make" else asked.get("stands_in_for", "")),
        "litres": litres[0] if litres else "",
        "overage": OVERAGE,
        "shrinkage": asked.get("shrinkage", ""),
        "bucket": buckets[0].pk if len(buckets) == 1 else "",
    }


def keep_and_plan(form: MakeForm, question: Question) -> Batch:
    """Keep the mix and plan its batch, both or neither.

    Raises
    ------
    FriableError
        If the name is taken, or the amounts are impossible.
    """
    said, by = form.cleaned_data, form.by
    today = date_format(timezone.localdate(), "j F Y")
    with transaction.atomic():
        version = mixes.write_mix(
            _recipe(said["recipe"], said["name"], form.stood_in_for),
            by=by,
            plant_group=question.title if question.kind == "find" else _plants(form.stood_in_for),
            version_note=_now("Found on {day}: {question}").format(day=today, question=question.title),
        )
        job = jobs.start_job(said["name"], by=by)
        jobs.save_job_step(job, "pots", by=by, litres_l=said["litres"].value)
        jobs.save_job_step(job, "mix", by=by, mix_version=version)
        jobs.save_job_step(
            job,
            "amounts",
            by=by,
            overage=said["overage"].value if said["overage"] else 0.0,
            shrinkage=said["shrinkage"].value if said["shrinkage"] else None,
            bucket=form.buckets.get(said["bucket"]),
        )
        return batches.plan_batch(job, by=by)


def _recipe(found: Recipe, name: str, stood_in_for: MixVersion | None) -> Recipe:
    """Return what is kept: with what is added to a mix that it stands in for, and with its cautions."""
    if stood_in_for is None:
        return replace(found, name=name)
    return replace(plain.recipe(stood_in_for), name=name, components=found.components, shrinkage=None)


def _plants(stood_in_for: MixVersion | None) -> str:
    return stood_in_for.mix.plant_group if stood_in_for else ""


def _free_name(wanted: str) -> str:
    """Return a name that no mix has yet."""
    name, number = wanted, 2
    while name and mix_named(name) is not None and number < MOST_OF_ONE_NAME:
        name, number = f"{wanted} {number}", number + 1
    return name
