"""Who is on shift."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.records.actions.act import read_initials
from friable.web.forms import InitialsField, PlainForm


class ShiftForm(PlainForm):
    """Initials of whoever begins a shift."""

    initials = InitialsField(label=_("Initials"), help_text=_("One to six letters or digits, such as “MK”."))

    def clean_initials(self) -> str:
        """Return the initials as they are kept."""
        try:
            return read_initials(self.cleaned_data["initials"])
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem
