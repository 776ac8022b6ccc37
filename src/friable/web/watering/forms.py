"""What is asked of a pot that is watered: mix, pot, climate, plant, what it stands in, how much is poured."""

import re

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError, shown
from friable.planning import units_in
from friable.planning.watering_text import FLOOD, MAT, OPEN, SAUCER, STANDING, rate_l_h, read_base
from friable.web.climates.known import USUAL, climate_choices, stored_row
from friable.web.forms import DayField, LineField, PickField, PlainForm, QuantityField
from friable.web.mixes.compare_forms import LONGEST_RECIPE, MixOrRecipeField
from friable.web.mixes.forms import PotForm

LEAST_USE, MOST_USE = 0.05, 10.0
BASES = [
    (OPEN, _("open holes")),
    (SAUCER, _("a saucer")),
    (STANDING, _("standing water")),
    (MAT, _("a mat or sand bed")),
    (FLOOD, _("a bench that is flooded")),
]


class FactorField(LineField):
    """A multiple of the reference: 0.8."""

    def clean(self, value):
        """Return the factor, None when nothing is typed, or refuse."""
        text = super().clean(value).replace(",", ".")
        if not text:
            return None
        number = float(text) if re.fullmatch(r"[0-9]{1,4}(\.[0-9]{1,6})?", text) else -1.0
        if not LEAST_USE <= number <= MOST_USE:
            raise ValidationError(
                _("“%(typed)s” is no use of water; it must be from 0.05 to 10 times the reference."),
                params={"typed": shown(text)},
            )
        return number


class RateField(LineField):
    """How fast it is poured: 6 L/min."""

    def clean(self, value):
        """Return litres an hour, None when nothing is typed, or refuse."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return rate_l_h(text, str(self.label))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class ChoiceForm(PotForm):
    """A mix in a pot that stands in something."""

    mix = MixOrRecipeField(
        label=_("Mix"),
        max_length=LONGEST_RECIPE,
        attrs={"list": "known-versions", "spellcheck": "false"},
        missing=_(
            "The mix is missing; name one of yours, or write a recipe such as 3 coir pith + 1 perlite coarse."
        ),
        help_text=_("One of yours by name, or a recipe such as 3 coir pith + 1 perlite coarse."),
    )
    base = PickField(label=_("It stands on"), required=False, choices=BASES)
    base_amount = LineField(
        label=_("How much, how deep"),
        required=False,
        attrs={"class": "short", "spellcheck": "false"},
        help_text=_("Saucer 1 L; water 2 cm; mat 5 cm below the pot; flood 4 cm 15 min."),
    )

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["use"]
        self.order_fields(["mix", "container", "headspace"])

    def clean(self):
        """Put together what it stands in."""
        said = super().clean()
        kind, amount = said.get("base") or OPEN, said.get("base_amount", "")
        self.stands_in = None
        if {"base", "base_amount"} & set(self.errors):
            return said
        if kind == OPEN and amount:
            self.add_error("base_amount", _("Open holes have no depth; leave it empty, or choose another."))
            return said
        try:
            self.stands_in = read_base(f"{kind} {amount}".strip(), str(_("what it stands in")))
        except FriableError as problem:
            self.refuse(problem, "base_amount")
        return said

    @property
    def has_more(self) -> bool:
        """True if something stands in what is folded."""
        names = ("headspace", "layer", "layer_material", "base_amount")
        return any(self[name].value() or self[name].errors for name in names) or bool(self["base"].errors)

    @property
    def stands_on(self) -> str:
        """What it stands on, as it was chosen: “standing water 2 cm”."""
        said = self.cleaned_data
        chosen = dict(BASES)[said.get("base") or OPEN]
        return f"{chosen} {said['base_amount']}".strip()

    @property
    def layer_name(self) -> str:
        """Title of what the drainage layer is made of; empty without one."""
        layer = self.cleaned_data["layer_material"]
        return layer.title if layer else ""


class CaseForm(PlainForm):
    """The weather, the plant, and how it is watered; shared by all choices that are compared."""

    climate = PickField(label=_("Climate"), initial=USUAL)
    first_day = DayField(
        label=_("Watered on"), required=False, help_text=_("A day of a record; a built-in season has none.")
    )
    plant = PickField(label=_("Plant"), required=False)
    factor = FactorField(
        label=_("Own use of this pot"),
        required=False,
        attrs={"class": "short", "inputmode": "decimal"},
        help_text=_("Times the reference, such as 0.8. Empty: as its plant, or as it was weighed."),
    )
    dose = QuantityField(
        units_in.litres,
        what=_("what is poured"),
        label=_("Poured at a watering"),
        required=False,
        help_text=_("Such as 400 mL. Empty: what is missing, with a little over."),
    )
    rate = RateField(
        label=_("How fast"), required=False, attrs={"class": "short"}, help_text=_("Such as 6 L/min.")
    )
    used = QuantityField(
        lambda text, what: units_in.fraction(text, what, below_one=True),
        what=_("share that may be used"),
        label=_("Water again when used up"),
        required=False,
        help_text=_("Share of the available water, such as 50 %, which is taken if it is empty."),
    )

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["climate"].choices = climate_choices()
        self.fields["plant"].choices = plant_choices()

    def clean_used(self):
        """Refuse a share of nothing."""
        used = self.cleaned_data["used"]
        if used is not None and not used.value:
            raise ValidationError(_("Give a share above 0 %, such as 50 %."))
        return used

    @property
    def climate_name(self) -> str:
        """Name of the climate that was chosen."""
        row = stored_row(self.cleaned_data["climate"])
        return row.name if row else self.cleaned_data["climate"]

    @property
    def used_share(self) -> float:
        """Share of the available water that is used before it is watered again."""
        used = self.cleaned_data["used"]
        return used.value if used else 0.5


def plant_choices() -> list[tuple[str, str]]:
    """Return the groups of plants, and that nothing is known of it."""
    from friable.reference.plant_water import all_plants

    return [("", str(_("not known: weigh it twice"))), *((plant.key, plant.name) for plant in all_plants())]
