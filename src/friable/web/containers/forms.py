"""Forms of the containers: inside measures, weighing with water, which mix is looked at."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import notation, units_in
from friable.planning.bench_measures import litres_of_water
from friable.records.models import MixVersion
from friable.web.containers.trade_names import trade_name
from friable.web.forms import (
    LineField,
    MomentField,
    NoteField,
    PickField,
    PlainForm,
    QuantityField,
    SignedForm,
)


class TradeNameForm(PlainForm):
    """A pot of which only the trade name is known."""

    trade = LineField(
        label=_("Only a trade name?"),
        required=False,
        help_text=_("Such as 2 L, P9, #1: what published lists say of it shows here."),
    )


class ContainerForm(SignedForm):
    """A name, inside measures, the usual headspace."""

    name = LineField(
        label=_("Your name for it"), missing=_("The container has no name; write what you call it here.")
    )
    measures = LineField(
        label=_("Inside measures"),
        missing=_("The measures are missing; give them such as round 17/12/13 cm."),
        help_text=_(
            "round TOP/BOTTOM/HEIGHT, square TOP/BOTTOM/HEIGHT, tray LENGTHxWIDTHxDEPTH, cell, basket; "
            "in cm, mm or inches: round 17/12/13 cm."
        ),
    )
    headspace = QuantityField(
        units_in.centimetres,
        label=_("Usual headspace"),
        required=False,
        help_text=_("From the rim down to the mix, such as 1.5 cm. Empty: filled to the brim."),
    )
    note = NoteField(label=_("Note"))

    known = None

    def clean_measures(self):
        """Return the measures; a name that lists know by its volume only asks to be measured."""
        typed = self.cleaned_data["measures"]
        self.known = trade_name(typed)
        try:
            return notation.parse_container(typed)
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem

    def clean(self):
        """Fill the container to its usual headspace."""
        said = super().clean()
        if said.get("measures") and said.get("headspace"):
            try:
                said["measures"] = said["measures"].with_headspace(said["headspace"].value)
            except FriableError as problem:
                self.refuse(problem, "headspace")
        return said


class WeighForm(SignedForm):
    """The container empty, and filled with water to the brim."""

    full = QuantityField(
        units_in.kilograms,
        label=_("Filled with water to the brim"),
        missing=_("The mass with water is missing; give it such as 2.35 kg."),
        help_text=_("Holes taped over, filled until it almost runs over: such as 2.35 kg."),
    )
    empty = QuantityField(
        units_in.kilograms,
        label=_("Empty"),
        missing=_("The mass of the empty container is missing; give it such as 85 g."),
        help_text=_("The same container, tape and all, on the same scale: such as 85 g."),
    )
    done_at = MomentField(label=_("Measured at"), required=False, help_text=_("Empty: just now."))
    note = NoteField(label=_("Note"))

    def clean(self):
        """Work the litres out."""
        said = super().clean()
        if not self.errors:
            try:
                self.brim_l = litres_of_water(said["full"].value, said["empty"].value)
            except FriableError as problem:
                self.refuse(problem, "full")
        return said

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the container."""
        said = self.cleaned_data
        return {"brim_l": self.brim_l, "done_at": said["done_at"], "note": said["note"]}


class LookForm(PlainForm):
    """Which mix is looked at in a container, and how high it is filled."""

    mix = PickField(label=_("Filled with"), required=False)
    headspace = QuantityField(units_in.centimetres, label=_("Headspace"), required=False)

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        newest = MixVersion.objects.filter(mix__in_use=True).select_related("mix")
        self.versions = {}
        for version in newest:  # newest first
            self.versions.setdefault(version.mix_id, version)
        self.fields["mix"].choices = [(pk, str(version)) for pk, version in self.versions.items()]

    def version(self):
        """Return the version that was chosen; the first there is if none was."""
        chosen = self.cleaned_data.get("mix")
        if chosen:
            return self.versions[int(chosen)]
        return next(iter(self.versions.values()), None)
