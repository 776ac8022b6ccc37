"""The rows of a recipe as they are typed: components line by line, amendments with their rates."""

from collections.abc import Mapping, Sequence

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.recipe import STATES, USUAL_STATE, Amendment
from friable.planning.recipe_text import check_parts, component_name, part_number
from friable.web.forms import LineField, PickField, PlainForm, QuantityField

MOST_ROWS = 60
FEWEST_LINES, FEWEST_AMENDMENTS = 4, 2
STATE_WORDS = {
    "loose moist": _("loose, moist (usual)"),
    "loose dry": _("loose, dry"),
    "loose soaked": _("loose, soaked"),
    "tapped moist": _("tapped down, moist"),
    "tapped dry": _("tapped down, dry"),
    "tapped soaked": _("tapped down, soaked"),
}


class RowForm(PlainForm):
    """One row; an empty one counts as not there."""

    decides: tuple[str, ...] = ()

    @property
    def is_written(self) -> bool:
        """True if something is typed into it."""
        return any((self[name].value() or "").strip() for name in self.decides)


class LineForm(RowForm):
    """One component: parts, name, and how it is measured."""

    decides = ("parts", "material")
    parts = LineField(
        label=_("Parts"),
        missing=_("The parts are missing; write a number such as 5 or 1/2."),
        attrs={"class": "short", "inputmode": "decimal"},
    )
    material = LineField(
        label=_("Material or mix"),
        missing=_("The material is missing; write what it is."),
        attrs={"list": "known-components", "spellcheck": "false"},
    )
    state = PickField(label=_("Measured"), required=False, choices=[(s, STATE_WORDS[s]) for s in STATES])

    def clean_parts(self):
        """Return the parts as an exact fraction."""
        return _refusable(part_number, self.cleaned_data["parts"], str(_("parts")))

    def clean_material(self):
        """Return the name on single spaces."""
        return _refusable(component_name, self.cleaned_data["material"], str(_("material")))

    def clean_state(self):
        """Return how it is measured; loose and moist unless another is chosen."""
        return self.cleaned_data["state"] or USUAL_STATE

    def clean(self):
        """Refuse parts that cannot be measured out."""
        said = super().clean()
        if "parts" in said and "material" in said:
            try:
                check_parts(said["parts"], said["material"])
            except FriableError as problem:
                self.refuse(problem, "parts")
        return said


class AmendmentForm(RowForm):
    """One amendment: name, rate, and what to beware of."""

    decides = ("name", "rate", "caution")
    name = LineField(label=_("Amendment"), missing=_("The name is missing; write what is added."))
    rate = QuantityField(
        units_in.rate_g_per_l,
        label=_("Rate"),
        missing=_("The rate is missing; write it such as 3 g/L or 3 kg/m3."),
    )
    caution = LineField(label=_("Caution"), required=False)

    def amendment(self) -> Amendment:
        """Return what was typed."""
        rate = self.cleaned_data["rate"]
        return Amendment(
            name=self.cleaned_data["name"],
            rate_g_per_l=rate.value,
            typed=rate.typed,
            caution=self.cleaned_data["caution"],
        )


NAMES = {"line": tuple(LineForm.base_fields), "amendment": tuple(AmendmentForm.base_fields)}


def typed_rows(data: Mapping[str, object], kind: str) -> list[dict[str, str]]:
    """Return the rows of a form that was sent, as they were typed."""
    number = str(data.get(f"{kind}s", ""))
    rows = min(int(number), MOST_ROWS) if number.isascii() and number.isdigit() and len(number) < 4 else 0
    return [{name: str(data.get(f"{kind}-{row}-{name}", "")) for name in NAMES[kind]} for row in range(rows)]


def line_forms(rows: Sequence[Mapping[str, str]], *, check: bool) -> list[LineForm]:
    """Return a form for each component, with some empty ones below."""
    return _forms(LineForm, "line", rows, FEWEST_LINES, check)


def amendment_forms(rows: Sequence[Mapping[str, str]], *, check: bool) -> list[AmendmentForm]:
    """Return a form for each amendment, with some empty ones below."""
    return _forms(AmendmentForm, "amendment", rows, FEWEST_AMENDMENTS, check)


def _forms(form, kind, rows, fewest, check):
    written = [row for row in rows if any(text for name, text in row.items() if name in form.decides)]
    padded = list(rows)
    while len(padded) < min(MOST_ROWS, max(fewest, len(written) + 1)):
        padded.append({})
    made = []
    for place, row in enumerate(padded):
        prefix = f"{kind}-{place}"
        if check and any(row.get(name, "").strip() for name in form.decides):
            made.append(form({f"{prefix}-{name}": text for name, text in row.items()}, prefix=prefix))
        else:
            made.append(form(initial=row, prefix=prefix))
    return made


def _refusable(read, *typed):
    try:
        return read(*typed)
    except FriableError as problem:
        raise ValidationError(str(problem)) from problem
