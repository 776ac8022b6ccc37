"""The form of a window: its ends, or the words that are allowed."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning.units_in import figures
from friable.planning.window_typed import example, window_end
from friable.planning.windows import flag_word
from friable.reference.windows import FLAGS, SHARES, WORDS_OF, Window, unit
from friable.web.forms import DayField, LineField, NoteField, SignedForm


class EndField(LineField):
    """One end of a window; empty means that there is none."""

    def __init__(self, quantity: str, *, label, **options) -> None:
        self.quantity = quantity
        super().__init__(
            label=label, required=False, attrs={"class": "short", "spellcheck": "false"}, **options
        )

    def clean(self, value):
        """Return the end in the unit in which it is kept, or None."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return window_end(self.quantity, text, str(self.label))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class WindowForm(SignedForm):
    """What is asked of one quantity, from a day on. With `asks=False` only day and note are said."""

    def __init__(self, request, quantity: str, *args, asks: bool = True, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.quantity, self.asks = quantity, asks
        such_as = _now("Such as {example}. Empty: no such end.").format(example=example(quantity))
        if quantity in FLAGS:
            self.fields["allowed"] = forms.MultipleChoiceField(
                label=_("What is allowed"),
                required=asks,
                widget=forms.CheckboxSelectMultiple,
                choices=[(word, flag_word(word)) for word in WORDS_OF[quantity]],
                error_messages={
                    "required": _("Nothing is allowed yet; choose at least one of these."),
                    "invalid_choice": _("This is not in the list any more; choose another."),
                },
            )
        else:
            self.fields["low"] = EndField(quantity, label=_("Lowest"), help_text=such_as)
            self.fields["high"] = EndField(quantity, label=_("Highest"), help_text=such_as)
        self.fields["set_on"] = DayField(
            label=_("Holds from"), required=False, help_text=_("Empty: today. What held before stays.")
        )
        self.fields["note"] = NoteField(
            label=_("Note"), help_text=_("Why: what was seen, on which bench, in whose book.")
        )

    def clean(self):
        """Refuse a window without an end."""
        said = super().clean()
        ends = {"low", "high"} & set(self.fields)
        if self.asks and ends and not self.errors and said["low"] is None and said["high"] is None:
            self.add_error("low", _("There is no end yet; give the lowest, the highest, or both."))
        return said

    def values(self) -> dict[str, object]:
        """Return what the act takes besides group and quantity."""
        said = self.cleaned_data
        kept = {"set_on": said["set_on"], "note": said["note"]}
        if not self.asks:
            return kept
        names = ("allowed",) if self.quantity in FLAGS else ("low", "high")
        return {**kept, **{name: said[name] for name in names}}


def as_typed(window: Window | None) -> dict[str, object]:
    """Return a window as one would type it."""
    if window is None:
        return {}
    if window.is_flag:
        return {"allowed": list(window.allowed)}
    return {
        name: end_typed(window.quantity, end)
        for name, end in (("low", window.low), ("high", window.high))
        if end is not None
    }


def end_typed(quantity: str, end: float) -> str:
    """Return one end as one would type it."""
    if quantity in SHARES:
        return f"{figures(100 * end)} %"
    return f"{figures(end)} {unit(quantity)}"
