"""What is asked for the fewest mixes: a collection, what recipes may be made of, the least chance."""

from typing import TYPE_CHECKING

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.web.fewest.collections import our_mixes, stands_of
from friable.web.finding.material_choice import MaterialsForm
from friable.web.forms import QuantityField

if TYPE_CHECKING:
    from collections.abc import Mapping

    from friable.planning.fewest_values import FewestCase

LONGEST_COLLECTION = 400_000
USUAL_KINDS = 3
LONGEST_S = 20.0


class FewestForm(MaterialsForm):
    """A collection as a table, uploaded or pasted, and from what its mixes may be chosen."""

    file = forms.FileField(
        label=_("The collection, as a CSV"),
        required=False,
        allow_empty_file=True,
        help_text=_(
            "One line for so many pots alike. Columns in any order: group, stage, container, count, mix, "
            "headspace; group and count are needed. Mix is what they stand in now."
        ),
    )
    collection = forms.CharField(
        label=_("Or paste its lines"),
        required=False,
        strip=False,
        max_length=LONGEST_COLLECTION,
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false", "autocomplete": "off"}),
        help_text=_("The first line names the columns: group,stage,container,count,mix."),
        error_messages={
            "max_length": _("This has %(show_value)s characters; it may have %(limit_value)s. Shorten it."),
            "null_characters_not_allowed": _("This is not text; save the table as CSV."),
        },
    )
    least_chance = QuantityField(
        units_in.fraction,
        label=_("Chance at least"),
        initial="50 %",
        missing=_("The least chance is missing; give it such as 50 %."),
        help_text=_("A mix keeps a group if all its windows hold with this chance."),
    )
    ours_too = forms.BooleanField(
        label=_("Choose among all our mixes in use as well"), required=False, label_suffix="", initial=True
    )

    def __init__(self, *args, file_problem: str = "", **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.file_problem = file_problem
        self.stands, self.refused_lines = None, []
        self.fields["collection"].widget.attrs.pop("maxlength", None)
        self.fields["kinds"].initial = USUAL_KINDS

    def clean_collection(self):
        """Read the collection; each line that cannot be read has its sentence."""
        text = self.cleaned_data["collection"]
        if self.file_problem:
            raise ValidationError(self.file_problem)
        if not text.strip():
            raise ValidationError(_("There is no collection yet; choose a file, or paste its lines."))
        try:
            self.stands = stands_of(text)
        except FriableError as problem:
            self.refused_lines = list(getattr(problem, "sentences", ()))
            raise ValidationError(str(problem)) from problem
        return text

    def clean_least_chance(self) -> float:
        """Refuse a chance of nothing."""
        least = self.cleaned_data["least_chance"]
        if not least.value > 0:
            raise ValidationError(_("Give a chance above 0 %, such as 50 %."))
        return least.value

    def case(self, losses: "Mapping[frozenset[str], float]") -> "FewestCase":
        """Return what is asked, with what is known of pairs of materials.

        Raises
        ------
        FriableError
            If one of our mixes cannot be computed.
        """
        from friable.planning.fewest_values import FewestCase

        said = self.cleaned_data
        return FewestCase(
            stands=self.stands,
            at_hand=self.taken,
            given=our_mixes() if said["ours_too"] else (),
            least_chance=said["least_chance"],
            parts=said["parts"],
            kinds=said["kinds"],
            pair_overlap_loss=losses,
            longest_s=LONGEST_S,
        )
