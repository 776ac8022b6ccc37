"""What all forms share: plain sentences, typed text kept, initials asked for when missing."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.web import shift

LONGEST_LINE = 400


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

    After `is_valid()`, `form.by` are the initials to sign with.
    """

    def __init__(self, request: HttpRequest, *args, **kwargs) -> None:
        self.request = request
        super().__init__(*args, **kwargs)
        if not shift.initials(request):
            self.fields["by"] = InitialsField()

    @property
    def by(self) -> str:
        """Initials of who signs."""
        return shift.initials(self.request)

    def clean_by(self) -> str:
        """Begin the shift of whoever signed just now."""
        try:
            return shift.begin(self.request, self.cleaned_data["by"])
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
                "max_length": _(
                    "This has %(show_value)s characters; it may have %(limit_value)s. Shorten it."
                ),
                "null_characters_not_allowed": _("This has a character that cannot be kept; type it again."),
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

    The cleaned value is what the reader returned (`value`, `unit`, `typed`), or None when it is empty.
    """

    def __init__(self, read: Callable[[str], Any], *, label, **options) -> None:
        self.read = read
        attrs = {"class": "short", "spellcheck": "false", **options.pop("attrs", {})}
        super().__init__(label=label, attrs=attrs, **options)

    def clean(self, value):
        """Return the quantity, or refuse with the reader's sentence."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return self.read(text)
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class NoteField(forms.CharField):
    """Remarks on several lines."""

    def __init__(self, *, label, **options) -> None:
        options.setdefault("required", False)
        options.setdefault("max_length", 4000)
        super().__init__(label=label, widget=forms.Textarea(attrs={"rows": 3}), **options)
        self.widget.attrs.pop("maxlength", None)
