"""Forms of the climates: a file with what has to be known to read it, columns asked once."""

import re

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError, shown
from friable.planning import units_in
from friable.records.models.climates import EPW, LOGGER, LONGEST_TEXT
from friable.web.forms import LineField, NoteField, PickField, PlainForm, QuantityField, SignedForm

GLASS, OUTDOORS = "glass", "outdoors"
PLACES = [(GLASS, _("under glass")), (OUTDOORS, _("outdoors"))]
ASKED = "column-"
QUESTIONS = {
    "time": _("Date and time"),
    "date": _("Date alone"),
    "clock": _("Time of day alone"),
    "temperature": _("Temperature of the air"),
    "humidity": _("Relative humidity"),
    "light": _("Light, if there is any"),
    "date_order": _("Its dates read"),
    "temperature_unit": _("Temperature in"),
    "humidity_unit": _("Humidity in"),
    "light_unit": _("Light in"),
}
CHOICES = {
    "date_order": [("dmy", _("day before month")), ("mdy", _("month before day"))],
    "temperature_unit": [("C", "°C"), ("F", "°F")],
    "humidity_unit": [("%", _("per cent")), ("share", _("a share of 1"))],
    "light_unit": [("W/m2", "W/m²"), ("lux", _("lux")), ("umol", "µmol/m²/s")],
}
WHEN = ("time", "date", "clock")


class SignedNumberField(LineField):
    """A number that may be below 0; its unit may be typed after it."""

    def __init__(self, *, label, unit: str, such_as: str, **options) -> None:
        self.unit, self.such_as = unit, such_as
        super().__init__(
            label=label, required=False, attrs={"class": "short", "inputmode": "decimal"}, **options
        )

    def clean(self, value):
        """Return the number, None when nothing is typed, or refuse what is no number."""
        text = super().clean(value).replace("−", "-").replace(",", ".")
        if not text:
            return None
        found = re.fullmatch(rf"(-?[0-9]{{1,5}}(?:\.[0-9]{{1,6}})?)\s*(?:{re.escape(self.unit)})?", text)
        if not found:
            raise ValidationError(
                _("“%(typed)s” is not a plain number; write it such as %(such_as)s."),
                params={"typed": shown(text), "such_as": self.such_as},
            )
        return float(found.group(1))


class ColumnsForm(PlainForm):
    """What only the keeper of a file can answer: which column holds what."""

    def __init__(self, wanted, given: dict[str, str]) -> None:
        super().__init__(initial={**wanted.guess, **given} if wanted else given, prefix="column")
        keys = set(given) | (set(wanted.guess) | set(wanted.asked) if wanted else set())
        if keys & set(WHEN) and wanted and set(wanted.asked) & set(WHEN):
            keys |= set(WHEN)
        for key in (key for key in QUESTIONS if key in keys):
            headers = wanted.headers if wanted else [given[key]]
            blank = [("", _("none of them"))] if key in (*WHEN, "light") else []
            choices = CHOICES.get(key) or [*blank, *((header, header) for header in headers)]
            self.fields[key] = PickField(label=QUESTIONS[key], required=False, choices=choices)


class SaidOfClimateForm(SignedForm):
    """What has to be said of a climate besides its file."""

    name = LineField(
        label=_("Your name for it"),
        missing=_("The climate has no name; write what you call it, such as “house 2, last year”."),
    )
    place = PickField(
        label=_("Where the pots stand"),
        widget=forms.RadioSelect,
        choices=PLACES,
        missing=_("Say where the pots stand: under glass or outdoors."),
        help_text=_(
            "A logger is taken to hang with the pots. A weather file tells the weather outdoors; for pots "
            "under glass it is carried into a vented house."
        ),
    )
    light = QuantityField(
        lambda text, what: units_in.fraction(text, what),
        what=_("light that comes through"),
        label=_("Light that reaches the pots"),
        required=False,
        help_text=_("As a share of the light outside, such as 55 %. Empty: the usual share for the place."),
    )
    latitude = SignedNumberField(
        label=_("Latitude"),
        unit="°",
        such_as="52.5",
        help_text=_("In degrees, south below 0, such as 52.5. A weather file says its own."),
    )
    elevation = SignedNumberField(
        label=_("Height above the sea"), unit="m", such_as="90", help_text=_("In metres, such as 90.")
    )
    heated = SignedNumberField(
        label=_("Heated to at least"),
        unit="°C",
        such_as="12",
        help_text=_("In °C; only for a house that stands in the weather of a file."),
    )
    note = NoteField(label=_("Note"))

    def said(self) -> dict[str, object]:
        """Return what is kept of it."""
        said = self.cleaned_data
        return {
            "under_glass": said["place"] == GLASS,
            "light_transmission": said["light"].value if said["light"] else None,
            "latitude_deg": said["latitude"],
            "elevation_m": said["elevation"] or 0.0,
            "heated_to_c": said["heated"],
            "note": said["note"],
        }


class ClimateForm(SaidOfClimateForm):
    """A file of weather, uploaded or pasted, and what has to be said of it."""

    file = forms.FileField(
        label=_("The file"),
        required=False,
        allow_empty_file=True,
        help_text=_("A logger's CSV with any column names, or a weather file (.epw); up to 4 MB."),
    )
    text = forms.CharField(
        label=_("Or paste its text"),
        required=False,
        strip=False,
        max_length=LONGEST_TEXT,
        widget=forms.Textarea(attrs={"rows": 6, "spellcheck": "false", "autocomplete": "off"}),
        error_messages={
            "max_length": _(
                "This has %(show_value)s characters; it may have %(limit_value)s. Give one year."
            ),
            "null_characters_not_allowed": _("This is not text; give a logger's CSV or a weather file."),
        },
    )
    field_order = ["file", "text", "name", "place", "light", "latitude", "elevation", "heated", "note"]

    def __init__(self, request, *args, file_problem: str = "", **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.fields["text"].widget.attrs.pop("maxlength", None)
        self.file_problem = file_problem
        self.wanted = self.climate = None

    @property
    def answers(self) -> dict[str, str]:
        """The columns as they were chosen."""
        sent = self.data if self.is_bound else {}
        return {
            key.removeprefix(ASKED): str(sent[key])
            for key in sent
            if key.startswith(ASKED) and key.removeprefix(ASKED) in QUESTIONS and str(sent[key]).strip()
        }

    @property
    def columns(self) -> ColumnsForm | None:
        """The questions about columns, if there are any."""
        return ColumnsForm(self.wanted, self.answers) if self.wanted or self.answers else None

    @property
    def kind(self) -> str:
        """What the file is."""
        from friable.planning.epw_file import looks_like_epw

        return EPW if looks_like_epw(self.cleaned_data["text"]) else LOGGER

    def clean(self):
        """Read the file with what is said of it."""
        said = super().clean()
        if self.file_problem:
            self.add_error("file", self.file_problem)
        elif "text" not in self.errors and not said.get("text", "").strip():
            self.add_error("text", _("There is no weather yet; choose a file, or paste its text."))
        if not {"text", "file", "place", "light", "latitude", "elevation"} & set(self.errors):
            self._read(said)
        return said

    def _read(self, said) -> None:
        from friable.planning.weather_file import ColumnsWanted, read_weather

        try:
            self.climate = read_weather(
                said["text"],
                self.answers or None,
                name=said.get("name", ""),
                under_glass=said["place"] == GLASS,
                light_transmission=said["light"].value if said["light"] else None,
                latitude_deg=said["latitude"],
                elevation_m=said["elevation"] or 0.0,
            )
        except ColumnsWanted as wanted:
            self.wanted = wanted
            self.add_error(None, str(wanted))
        except FriableError as problem:
            self.refuse(problem, "text")
