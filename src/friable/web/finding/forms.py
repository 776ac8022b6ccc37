"""What is asked of a search: windows, the pot, the materials, the limits."""

from typing import TYPE_CHECKING

from django import forms
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.notation import parse_container
from friable.reference.windows import NUMBERS, SHARES, WORDS_OF, Window, label, unit
from friable.web.finding.material_choice import MaterialsForm, NamesField, PairsField, PriceField, WordsField
from friable.web.forms import NumberField, PickField, QuantityField
from friable.web.mixes.forms import PotForm

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from friable.planning.find_values import FindCase
    from friable.planning.limits import Limits
    from friable.reference.plant_groups import PlantGroup

KEEPER = "keeper"


class OwnWindowsForm(forms.Form):
    """An end or two for each quantity that a window can be set for: fields low-… and high-…."""

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        for quantity in NUMBERS:
            for end, words in (("low", _("at least")), ("high", _("at most"))):
                self.fields[f"{end}-{quantity}"] = _end_field(quantity, f"{label(quantity)}, {words}")

    @property
    def rows(self) -> "list[tuple[str, tuple[object, object]]]":
        """The quantities with their unit, and their two fields, which the page writes out itself."""
        return [(_named(q), (self[f"low-{q}"], self[f"high-{q}"])) for q in NUMBERS]

    @property
    def has_any(self) -> bool:
        """True if something is typed into one of them."""
        return any(self[name].value() for name in self.fields)


class LimitsForm(MaterialsForm):
    """What else a recipe must keep to; shared by finding and replacing."""

    litres = QuantityField(
        units_in.litres,
        label=_("How much mix"),
        required=False,
        help_text=_("Such as 60 L; needed for stock and for whole buckets."),
    )
    within_stock = forms.BooleanField(
        label=_("Only what is in stock, in the amount that is there"), required=False, label_suffix=""
    )
    most_cost_per_l = PriceField(
        label=_("Cost at most, per litre"),
        required=False,
        help_text=_("Such as 0.35; where prices are known."),
    )
    most_peat_share = QuantityField(
        units_in.fraction,
        label=_("Peat at most"),
        required=False,
        help_text=_("Such as 20 %; 0 % is peat free."),
    )
    most_wet_kg_l = PriceField(
        label=_("Wet weight at most, kg/L"), required=False, help_text=_("Such as 0.9.")
    )
    lime = WordsField(WORDS_OF["lime"], label=_("Lime in it"))
    feed = WordsField(WORDS_OF["feed"], label=_("Plant food in it"))
    dust = WordsField(WORDS_OF["dust"], label=_("Dust"))
    hygiene = WordsField(WORDS_OF["hygiene"], label=_("Hygiene"))
    least_years = PriceField(label=_("Lasts at least, years"), required=False, help_text=_("Such as 2."))
    bucket = QuantityField(
        units_in.litres,
        label=_("Whole buckets of"),
        required=False,
        help_text=_("What your bucket holds to its line, such as 12 L."),
    )
    drum = QuantityField(
        units_in.litres,
        label=_("All in one drum of"),
        required=False,
        help_text=_("Its working volume, such as 60 L."),
    )
    must = NamesField(
        label=_("Must contain"),
        required=False,
        help_text=_("Materials parted by commas, such as coir pith, perlite coarse."),
        attrs={"spellcheck": "false"},
    )
    never_with = PairsField(
        label=_("Never together"),
        required=False,
        help_text=_("Such as pine bark nursery with limestone grit; pairs parted by ;"),
        attrs={"spellcheck": "false"},
    )

    LIMITS = (
        "litres", "within_stock", "most_cost_per_l", "most_peat_share", "most_wet_kg_l", "lime", "feed",
        "dust", "hygiene", "least_years", "bucket", "drum", "must", "never_with",
    )  # fmt: skip

    @property
    def limit_fields(self):
        """The fields of the limits."""
        return [self[name] for name in self.LIMITS if name in self.fields]

    @property
    def has_limits(self) -> bool:
        """True if a limit is set, or refused."""
        return any(field.value() or field.errors for field in self.limit_fields)

    def clean(self):
        """Refuse limits that need another one."""
        said = super().clean()
        if not {"litres", "bucket", "drum"} & set(self.errors):
            if said.get("within_stock") and not said.get("litres"):
                self.add_error("litres", _("Say for how much mix the stock must last, such as 60 L."))
            if said.get("drum") and not said.get("bucket"):
                self.add_error("bucket", _("Say what the bucket holds, such as 12 L."))
            if said.get("bucket") and not said.get("drum"):
                self.add_error("drum", _("Say what the drum mixes at once, such as 60 L."))
        return said

    @property
    def limits(self) -> "Limits":
        """The limits, as planning takes them."""
        from friable.planning.limits import Limits

        said = self.cleaned_data
        return Limits(
            litres=_value(said["litres"]),
            within_stock=said["within_stock"],
            most_cost_per_l=said["most_cost_per_l"],
            most_peat_share=_value(said["most_peat_share"]),
            most_wet_kg_l=said["most_wet_kg_l"],
            lime=said["lime"],
            feed=said["feed"],
            dust=said["dust"],
            hygiene=said["hygiene"],
            least_years=said["least_years"],
            bucket_l=_value(said["bucket"]),
            drum_l=_value(said["drum"]),
            must=said["must"],
            never_with=said["never_with"],
        )


class FindForm(PotForm, LimitsForm):
    """For which plants, in which pot, from what."""

    group = PickField(label=_("For"), required=False)

    def __init__(self, *args, groups: "Sequence[PlantGroup]", **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.groups = {group.key: group for group in groups}
        del self.fields["use"]
        self.fields["group"].choices = [("", _("my own windows, below")), *map(_choice, groups)]
        pot = self.fields["container"]
        pot.required = False
        pot.help_text = _(
            "One of your containers, or inside sizes: round 17/12/13 cm. Empty: the pot for which the "
            "windows of these plants are meant."
        )
        self.own = OwnWindowsForm(self.data if self.is_bound else None, initial=self.initial)

    @property
    def has_layer(self) -> bool:
        """True if something is said of a drainage layer."""
        return any(self[n].value() or self[n].errors for n in ("layer", "layer_material"))

    @property
    def chosen_group(self) -> "PlantGroup | None":
        """The plants that are meant, if any."""
        return self.groups.get(self.cleaned_data.get("group", ""))

    def clean(self):
        """Put windows and pot together."""
        said, group = self.cleaned_data, self.chosen_group
        if group and not said.get("container") and "container" not in self.errors and group.container:
            said["container"] = parse_container(group.container)
        said = super().clean()
        self.windows = self._windows(group)
        if not said.get("container") and "container" not in self.errors:
            self.add_error(
                "container",
                _("The pot is missing; choose one of yours, or give inside sizes such as round 17/12/13 cm."),
            )
        return said

    def _windows(self, group: "PlantGroup | None") -> tuple[Window, ...]:
        if not self.own.is_valid():
            self.add_error(None, _("A window of your own cannot be read; it is marked."))
            return ()
        own = self._own_windows()
        named = {window.quantity for window in own}
        windows = (*(w for w in group.windows if w.quantity not in named), *own) if group else own
        if not windows and "group" not in self.errors:
            self.add_error(
                "group",
                _("No figure is known for these plants; set a window for them, or type your own below.")
                if group
                else _("Choose the plants, or type a window of your own below."),
            )
        return windows

    def _own_windows(self) -> tuple[Window, ...]:
        found = []
        for quantity in NUMBERS:
            low, high = (self.own.cleaned_data[f"{end}-{quantity}"] for end in ("low", "high"))
            if low is None and high is None:
                continue
            try:
                found.append(Window(quantity=quantity, low=low, high=high, how_known=KEEPER, source=KEEPER))
            except FriableError as problem:
                self.own.add_error(f"low-{quantity}", str(problem))
                self.add_error(None, _("A window of your own cannot be read; it is marked."))
        return tuple(found)

    def case(self, pair_overlap_loss: "Mapping[frozenset[str], float]") -> "FindCase":
        """Return what is searched for; measured pairs of materials come from outside the form.

        Raises
        ------
        FriableError
            If it cannot be.
        """
        from friable.planning.find_values import FindCase

        said = self.cleaned_data
        return FindCase(
            windows=self.windows,
            container=self.pot,
            at_hand=self.taken,
            parts=said["parts"],
            kinds=said["kinds"],
            limits=self.limits,
            layer_material=said["layer_material"],
            pair_overlap_loss=pair_overlap_loss,
        )

    @property
    def title(self) -> str:
        """For whom it is searched, in words."""
        group = self.chosen_group
        return group.title if group else str(_("my own windows"))


class EndField(QuantityField):
    """One end of a window; the cleaned value is a plain number, or None."""

    def clean(self, value):
        """Return the number."""
        said = super().clean(value)
        return None if said is None else float(getattr(said, "value", said))


def _end_field(quantity: str, name: str) -> EndField:
    read = units_in.fraction if quantity in SHARES else _plain_number
    return EndField(read, label=name, required=False, attrs={"aria-label": name})


def _plain_number(text: str, what: str) -> float:
    return NumberField(label=what).clean(text)


def _named(quantity: str) -> str:
    return f"{label(quantity)}, {unit(quantity)}" if unit(quantity) else label(quantity)


def _choice(group: "PlantGroup") -> tuple[str, str]:
    return group.key, group.title if group.windows else _("{plants} (no figure known)").format(
        plants=group.title
    )


def _value(quantity) -> float | None:
    return None if quantity is None else quantity.value
