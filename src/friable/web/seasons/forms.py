"""What is asked for a season: a collection, weather, how often it is drawn."""

from datetime import timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.records.models.seasons import LONGEST_COLLECTION
from friable.web.climates.known import stored_row, year_choices
from friable.web.forms import DayField, LineField, NoteField, NumberField, PickField, PlainForm, SignedForm
from friable.web.seasons.collections import collection_of

MOST_DOOR_DAYS = 14


class SeasonForm(SignedForm):
    """A collection as a table, uploaded or pasted, and the weather that it goes through."""

    file = forms.FileField(
        label=_("The collection, as a CSV"),
        required=False,
        allow_empty_file=True,
        help_text=_(
            "One line for so many pots alike. Columns in any order: group, mix, container, count, plant, "
            "water_use, place, watering, headspace, drainage_layer; mix, container and count are needed."
        ),
    )
    collection = forms.CharField(
        label=_("Or paste its lines"),
        required=False,
        strip=False,
        max_length=LONGEST_COLLECTION,
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false", "autocomplete": "off"}),
        help_text=_("The first line names the columns, such as group,mix,container,count,plant,watering."),
        error_messages={
            "max_length": _("This has %(show_value)s characters; it may have %(limit_value)s. Shorten it."),
            "null_characters_not_allowed": _("This is not text; save the table as CSV."),
        },
    )
    title = LineField(
        label=_("What to call it"),
        missing=_("The season has no name; give it one, such as “glasshouses, bark mix”."),
    )
    climate = PickField(label=_("Climate"))
    weathers = NumberField(
        label=_("Weathers"),
        whole=True,
        initial=3,
        help_text=_("The record itself and other years it might have been: from 1 to 50."),
    )
    draws = NumberField(
        label=_("Draws"),
        whole=True,
        initial=16,
        help_text=_("How often the ranges of mixes, plants and work are drawn: from 1 to 256."),
    )
    note = NoteField(label=_("Note"))

    def __init__(self, request, *args, file_problem: str = "", **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.file_problem = file_problem
        self.found, self.refused_lines = None, []
        self.fields["climate"].choices = year_choices()
        self.fields["collection"].widget.attrs.pop("maxlength", None)

    def clean_collection(self):
        """Read the collection; each line that cannot be read has its sentence."""
        text = self.cleaned_data["collection"]
        if self.file_problem:
            raise ValidationError(self.file_problem)
        if not text.strip():
            raise ValidationError(_("There is no collection yet; choose a file, or paste its lines."))
        try:
            self.found = collection_of(text)
        except FriableError as problem:
            self.refused_lines = list(getattr(problem, "sentences", ()))
            raise ValidationError(str(problem)) from problem
        return text

    def _within(self, name: str, most: int) -> int:
        value = self.cleaned_data[name]
        if not 1 <= value <= most:
            raise ValidationError(
                _("%(label)s: %(value)s is out of range; give from 1 to %(most)s."),
                params={"label": self.fields[name].label, "value": value, "most": most},
            )
        return value

    def clean_weathers(self) -> int:
        """Refuse more weathers than can be drawn."""
        return self._within("weathers", 50)

    def clean_draws(self) -> int:
        """Refuse more draws than can be drawn."""
        return self._within("draws", 256)

    def asked(self) -> dict[str, object]:
        """Return what is kept of it."""
        said = self.cleaned_data
        row = stored_row(said["climate"])
        return {
            "collection": said["collection"],
            "climate": row,
            "built_in_climate": "" if row else said["climate"],
            "weathers": said["weathers"],
            "draws": said["draws"],
        }


class HandForm(SignedForm):
    """Only whose hand it is."""


class DoorForm(PlainForm):
    """For which days a door sheet is made."""

    first = DayField(label=_("From"))
    last = DayField(label=_("To"))
    watered_on = DayField(
        label=_("All were looked at and watered on"),
        required=False,
        help_text=_("At most seven days before; without it only the time of year is known."),
    )

    def clean(self):
        """Refuse days in the wrong order, and more than a sheet holds."""
        said = super().clean()
        if self.errors:
            return said
        if said["last"] < said["first"]:
            self.add_error("last", _("The last day comes before the first; turn them round."))
        elif said["last"] - said["first"] >= timedelta(days=MOST_DOOR_DAYS):
            self.add_error("last", _("A door sheet holds fourteen days at most; take fewer."))
        return said


class OtherForm(PlainForm):
    """With which other season it is compared."""

    other = PickField(label=_("Compared with"), required=False)

    def __init__(self, *args, others, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["other"].choices = [("", _("none")), *((str(row.pk), row.title) for row in others)]
