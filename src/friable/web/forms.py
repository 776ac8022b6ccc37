"""What all forms share: plain sentences, typed text kept, initials asked for when missing."""

import re
from collections.abc import Callable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError, shown
from friable.web import shift

LONGEST_LINE = 400
OUT_OF_BOUNDS = {
    "max_length": _("This has %(show_value)s characters; it may have %(limit_value)s. Shorten it."),
    "null_characters_not_allowed": _("This has a character that cannot be kept; type it again."),
}


class PlainForm(forms.Form):
    """A form whose refusals are our sentences, beside the field; the browser does not refuse on its own."""

    use_required_attribute = False

    def refuse(self, problem: FriableError, field: str | None = None) -> None:
        """Put a refusal beside the field that it names, or above the form."""
        named = field or getattr(problem, "field", "")
        self.add_error(named if named in self.fields else None, str(problem))

    def act(self, verb: Callable[..., Any], *args, **values) -> Any:
        """Run a verb; if it refuses, put its sentence into the form and return None."""
        try:
            return verb(*args, **values)
        except FriableError as problem:
            self.refuse(problem)
            return None


class SignedForm(PlainForm):
    """A form whose act needs initials: it asks for them only while nobody is on shift.

    After `is_valid()`, `form.by` are the initials to sign with. Put `parts/sign.html` into the template.
    With `sign=False` the form only looks, and does without.
    """

    def __init__(self, request: HttpRequest, *args, sign: bool = True, **kwargs) -> None:
        self.request = request
        super().__init__(*args, **kwargs)
        if not shift.initials(request):
            self.fields["signed_by"] = InitialsField(required=sign)

    @property
    def by(self) -> str:
        """Initials of who signs."""
        return shift.initials(self.request)

    def clean_signed_by(self) -> str:
        """Begin the shift of whoever signed just now."""
        if not self.cleaned_data["signed_by"]:
            return ""
        try:
            return shift.begin(self.request, self.cleaned_data["signed_by"])
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class LineField(forms.CharField):
    """One line of text; what cannot be kept in a database (a NUL) is refused by Django's own check."""

    def __init__(self, *, label, missing=None, attrs=None, **options) -> None:
        options.setdefault("max_length", LONGEST_LINE)
        super().__init__(
            label=label,
            error_messages={
                "required": missing or _("This is missing; fill it in."),
                **OUT_OF_BOUNDS,
            },
            **options,
        )
        self.widget.attrs.pop("maxlength", None)  # a browser would cut a pasted text short in silence
        self.widget.attrs.update({"autocomplete": "off", **(attrs or {})})


class InitialsField(LineField):
    """Initials of whoever is on shift."""

    def __init__(self, **options) -> None:
        options.setdefault("label", _("Your initials"))
        options.setdefault("help_text", _("Asked once a shift, such as “MK”."))
        super().__init__(
            missing=_("Initials are missing; say whose hand this is, such as “MK”."),
            attrs={"autocapitalize": "characters", "spellcheck": "false", "class": "short"},
            **options,
        )


class QuantityField(LineField):
    """A number with its unit, as it is typed, read by one of `planning.units_in`.

    `what` names it in a refusal; the label does, if it is not given. The cleaned value is what the reader
    returned (`value`, `unit`, `typed`), or None when it is empty.
    """

    def __init__(self, read: Callable[[str, str], Any], *, label, what="", **options) -> None:
        self.read, self.what = read, what
        attrs = {"class": "short", "spellcheck": "false", **options.pop("attrs", {})}
        super().__init__(label=label, attrs=attrs, **options)

    def clean(self, value):
        """Return the quantity, or refuse with the reader's sentence."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return self.read(text, str(self.what or self.label))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class NoteField(forms.CharField):
    """Remarks on several lines."""

    def __init__(self, *, label, **options) -> None:
        options.setdefault("required", False)
        options.setdefault("max_length", 4000)
        super().__init__(
            label=label, widget=forms.Textarea(attrs={"rows": 3}), error_messages=OUT_OF_BOUNDS, **options
        )
        self.widget.attrs.pop("maxlength", None)


class DayField(forms.DateField):
    """A day, from a calendar or typed as 2026-03-14."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(
            label=label,
            input_formats=["%Y-%m-%d"],
            widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date", "class": "short"}),
            error_messages={
                "required": _("The day is missing; fill it in."),
                "invalid": _("This is not a day of the calendar; write it as 2026-03-14."),
            },
            **options,
        )


class MomentField(forms.DateTimeField):
    """A day and a time, from a calendar or typed as 2026-03-14 09:30."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(
            label=label,
            input_formats=["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M"],
            widget=forms.DateTimeInput(
                format="%Y-%m-%dT%H:%M", attrs={"type": "datetime-local", "class": "short"}
            ),
            error_messages={
                "required": _("The time is missing; fill it in."),
                "invalid": _("This is not a day and time; write it as 2026-03-14 09:30."),
            },
            **options,
        )


class PickField(forms.ChoiceField):
    """One of a list; set `choices` where the list comes from the records."""

    def __init__(self, *, label, missing=None, stranger=None, **options) -> None:
        super().__init__(
            label=label,
            error_messages={
                "required": missing or _("Nothing is chosen; choose one from the list."),
                "invalid_choice": stranger or _("This is not in the list any more; choose another."),
            },
            **options,
        )


class NumberField(LineField):
    """A plain number whose unit stands in its label."""

    def __init__(self, *, label, whole: bool = False, **options) -> None:
        self.whole = whole
        attrs = {"class": "short", "inputmode": "numeric" if whole else "decimal"}
        super().__init__(label=label, attrs=attrs, **options)

    def clean(self, value):
        """Return the number, or refuse what is none."""
        text = super().clean(value).replace(",", ".")
        plain = re.fullmatch(r"[0-9]{1,6}" if self.whole else r"[0-9]{1,6}(\.[0-9]{1,6})?", text)
        if not plain:
            raise ValidationError(
                _("“%(typed)s” is not a whole number; write it such as 12.")
                if self.whole
                else _("“%(typed)s” is not a plain number; write it such as 12.5."),
                params={"typed": shown(text)},
            )
        return int(text) if self.whole else float(text)
