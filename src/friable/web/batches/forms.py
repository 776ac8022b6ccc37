"""Forms of a batch: what was really made, and why one is undone."""

from fractions import Fraction

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.records.actions.act import in_the_past, read_initials
from friable.records.models import Batch
from friable.records.models.batches import TREATED
from friable.records.queries.batches import batch_coded
from friable.web import shift
from friable.web.forms import (
    InitialsField,
    LineField,
    MomentField,
    NoteField,
    PickField,
    PlainForm,
    QuantityField,
    SignedForm,
)


class RecordForm(SignedForm):
    """What really went in, how much came out, who mixed it and when."""

    made_l = QuantityField(
        units_in.litres,
        label=_("Finished volume made"),
        missing=_("The finished volume is missing; measure it with a bucket and write it, such as 95 L."),
        help_text=_("Measured after mixing, such as 95 L."),
    )
    made_at = MomentField(label=_("When it was mixed"))
    made_by = InitialsField(label=_("Mixed by"), help_text="")
    as_planned = forms.BooleanField(
        label=_("What I leave empty above went in as planned"),
        required=False,
        help_text=_("Without this, an empty line stays “not written down”."),
    )
    treated = PickField(
        label=_("Treated against weeds and moulds"), choices=list(TREATED.items()), initial="unknown"
    )
    note = NoteField(label=_("Note"))

    def __init__(self, request, batch: Batch, *args, **kwargs) -> None:
        kwargs.setdefault(
            "initial",
            {"made_at": timezone.localtime().replace(second=0), "made_by": shift.initials(request)},
        )
        super().__init__(request, *args, **kwargs)
        self.batch = batch
        bucket_l = batch.job.bucket.line_l if batch.job and batch.job.bucket else None
        for line in batch.lines.all():
            self.fields[f"line-{line.pk}"] = QuantityField(
                lambda text, what: units_in.litres(text, what, bucket_l=bucket_l, zero=True),
                label=line.name,
                required=False,
            )
        for amendment in batch.amendments.all():
            self.fields[f"amendment-{amendment.pk}"] = QuantityField(
                _grams_or_none_at_all, label=amendment.name, required=False
            )

    def clean_made_at(self):
        """Return when it was mixed; refuse what is still to come."""
        try:
            return in_the_past(self.cleaned_data["made_at"], str(_("The time it was made")))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem

    def clean_made_by(self) -> str:
        """Return the initials as they are kept."""
        try:
            return read_initials(self.cleaned_data["made_by"])
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem

    def values(self) -> dict[str, object]:
        """Return what `record_batch_made` takes."""
        said = self.cleaned_data
        return {
            "made_l": said["made_l"].value,
            "made_by": said["made_by"],
            "made_at": said["made_at"],
            "treated": said["treated"],
            "note": said["note"],
            "put_in": self._put_in("line", "planned_l", self.batch.lines.all()),
            "amendments": self._put_in("amendment", "planned_g", self.batch.amendments.all()),
        }

    def _put_in(self, kind: str, planned: str, rows) -> dict[int, float | None]:
        said, as_planned = self.cleaned_data, self.cleaned_data["as_planned"]
        written = {row.pk: said[f"{kind}-{row.pk}"] for row in rows}
        return {
            row.pk: written[row.pk].value
            if written[row.pk]
            else getattr(row, planned)
            if as_planned
            else None
            for row in rows
        }

    def lines(self):
        """Return each component with its field."""
        return [(line, self[f"line-{line.pk}"]) for line in self.batch.lines.all()]

    def amendments(self):
        """Return each amendment with its field."""
        return [(row, self[f"amendment-{row.pk}"]) for row in self.batch.amendments.all()]


class UndoForm(SignedForm):
    """Why a batch is undone."""

    reason = LineField(
        label=_("Why it is undone"),
        missing=_("The reason is missing; say what was wrong, such as “fine perlite went in”."),
    )


class FindForm(PlainForm):
    """The code on a label."""

    code = LineField(
        label=_("Code on the label"),
        missing=_("The code is missing; type it from the label, such as 26-334J."),
        attrs={"class": "short", "autocapitalize": "characters", "spellcheck": "false"},
    )

    def clean_code(self) -> Batch:
        """Return the batch of the code."""
        try:
            batch = batch_coded(self.cleaned_data["code"])
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem
        if batch is None:
            raise ValidationError(_("No batch has this code; read the label again."))
        return batch


def _grams_or_none_at_all(text: str, what: str) -> units_in.Quantity:
    """Read grams; nothing at all is an answer, too."""
    if text.strip().casefold() in {"0", "0 g", "0g"}:
        return units_in.Quantity(Fraction(0), "g", text)
    return units_in.grams(text, what)
