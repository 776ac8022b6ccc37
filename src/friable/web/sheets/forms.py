"""What labels are printed on."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.web.forms import DayField, LineField, NumberField, PickField, PlainForm

PAPERS = {"a4": _("A4"), "letter": _("Letter"), "single": _("one label a page, for a label printer")}
KNOWN = (("yes", _("yes")), ("no", _("no")), ("not known", _("not known")))


class LabelForm(PlainForm):
    """Size of the labels, where they stand on the sheet, how many."""

    label_width_mm = NumberField(label=_("Width, mm"), initial=90)
    label_height_mm = NumberField(label=_("Height, mm"), initial=50)
    copies = NumberField(label=_("How many"), initial=1, whole=True)
    start_at = NumberField(
        label=_("First free label"),
        initial=1,
        whole=True,
        help_text=_("On a sheet that is partly used, counted along the rows."),
    )
    paper = PickField(label=_("Paper"), choices=list(PAPERS.items()))
    columns = NumberField(label=_("Labels across"), initial=2, whole=True)
    rows = NumberField(label=_("Labels down"), initial=5, whole=True)
    margin_left_mm = NumberField(label=_("Left margin, mm"), initial=15)
    margin_top_mm = NumberField(label=_("Top margin, mm"), initial=14)
    gap_across_mm = NumberField(label=_("Gap across, mm"), initial=0)
    gap_down_mm = NumberField(label=_("Gap down, mm"), initial=0)
    cut_lines = PickField(
        label=_("Lines to cut along"),
        choices=[("yes", _("yes, for plain paper")), ("no", _("no"))],
        initial="yes",
    )
    lime = PickField(label=_("Does it contain lime?"), choices=KNOWN, initial="not known")
    fertiliser = PickField(label=_("Does it contain fertiliser?"), choices=KNOWN, initial="not known")

    not_for = LineField(
        label=_("Not for"), required=False, help_text=_("Plants it would harm, such as “heaths, bog plants”.")
    )
    use_by = DayField(label=_("Use by"), required=False)

    def __init__(self, *args, holds: dict[str, str], **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.holds = holds

    def clean_lime(self) -> str:
        """Refuse to say that there is none where there is some."""
        return self._true(
            "lime", _("This batch holds %(what)s; its label must not say that there is no lime.")
        )

    def clean_fertiliser(self) -> str:
        """Refuse to say that there is none where there is some."""
        return self._true(
            "fertiliser", _("This batch holds %(what)s; its label must not say that there is no fertiliser.")
        )

    def _true(self, field: str, sentence) -> str:
        if self.cleaned_data[field] == "no" and self.holds[field]:
            raise ValidationError(sentence, params={"what": self.holds[field]})
        return self.cleaned_data[field]

    def sizes(self) -> dict[str, object]:
        """Return what `bin_labels_pdf` takes besides the label."""
        said = dict(self.cleaned_data)
        for name in ("lime", "fertiliser", "not_for", "use_by"):
            del said[name]
        return {**said, "cut_lines": said["cut_lines"] == "yes"}
