"""A pot weighed twice: the form, and what is kept of it."""

from datetime import datetime

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.records.actions.equipment import container_for
from friable.records.actions.weighings import weigh_twice
from friable.records.models import PotWeighing
from friable.records.queries import stores
from friable.web.climates.known import pot_climate, stored_row
from friable.web.forms import LineField, MomentField, NoteField, QuantityField, SignedForm
from friable.web.watering.answers import what_is_in
from friable.web.watering.forms import CaseForm, ChoiceForm


class WeighTwiceForm(SignedForm):
    """Two weighings of one pot, with no watering between."""

    first = QuantityField(
        units_in.kilograms,
        label=_("First weighing"),
        missing=_("The first weighing is missing; give it such as 2.31 kg."),
        help_text=_("Watered, and drained until it stops dripping: such as 2.31 kg."),
    )
    first_at = MomentField(label=_("Weighed first at"))
    second = QuantityField(
        units_in.kilograms,
        label=_("Second weighing"),
        missing=_("The second weighing is missing; give it such as 2.05 kg."),
        help_text=_("The same pot a day or two later, on the same scale: such as 2.05 kg."),
    )
    second_at = MomentField(label=_("Weighed again at"))
    scale_step = QuantityField(
        units_in.grams,
        what=_("step of the scale"),
        label=_("The scale shows steps of"),
        required=False,
        help_text=_("Such as 5 g; 1 g is taken if it is empty."),
    )
    watered_between = forms.BooleanField(
        label=_("It was watered, or rained on, between"), required=False, label_suffix=""
    )
    note = NoteField(label=_("Note"))

    def __init__(self, request, *args, choice: ChoiceForm, case: CaseForm, **kwargs) -> None:
        self.choice, self.case = choice, case
        super().__init__(request, *args, **kwargs)

    def clean(self):
        """Work the factor out."""
        said = super().clean()
        self.found = None
        if self.errors:
            return said
        from friable.planning.weighing import reference_between, use_from_weighings

        pot = self.choice.pot
        try:
            climate = pot_climate(self.case.cleaned_data["climate"])
            start, end = _winter_time(said["first_at"]), _winter_time(said["second_at"])
            lost_mm = reference_between(climate, start, end)
            self.found = use_from_weighings(
                said["first"].value,
                said["second"].value,
                (end - start).total_seconds() / 3600,
                lost_mm,
                pot.volume_factor * float(pot.area_cm2(pot.fill_height_cm)),
                scale_step_g=said["scale_step"].value if said["scale_step"] else 1.0,
                watered_between=said["watered_between"],
            )
        except FriableError as problem:
            self.refuse(problem, "second")
        return said

    def keep(self, by: str) -> PotWeighing:
        """Keep the weighings; a pot that is new here is stored first."""
        said, of = self.cleaned_data, self.choice.cleaned_data
        climate = self.case.cleaned_data["climate"]
        row = stored_row(climate)
        typed = self.choice["container"].value() or ""
        return weigh_twice(
            stores.container_named(typed) or container_for(of["container"], by=by),
            by=by,
            headspace_cm=self.choice.pot.headspace_cm,
            plant=self.case.cleaned_data["plant"],
            climate=row,
            climate_name=row.name if row else climate,
            first_kg=said["first"].value,
            first_at=said["first_at"],
            second_kg=said["second"].value,
            second_at=said["second_at"],
            reference_mm=self.found.reference_mm,
            factor=self.found.use,
            note=said["note"],
            **what_is_in(of["mix"]),
        )


class WithdrawForm(SignedForm):
    """Why a weighing counts no more."""

    reason = LineField(
        label=_("Why it is withdrawn"),
        missing=_("The reason is missing; say what was wrong, such as “watered between”."),
    )


def _winter_time(moment: datetime) -> datetime:
    """Return a moment by the clock of winter, as records of weather keep it."""
    here = timezone.localtime(moment)
    return (here - (here.dst() or here.utcoffset() * 0)).replace(tzinfo=None)
