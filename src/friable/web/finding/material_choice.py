"""From which materials recipes are put together: what is in stock, all, or those that are ticked."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.records import plain
from friable.records.queries.mixes import material_named
from friable.reference.materials import find_material
from friable.web.forms import LineField, NumberField, PickField, PlainForm, QuantityField
from friable.web.templatetags.friable import about

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.reference.materials import Material

STOCK, ALL, CHOSEN = "stock", "all", "chosen"
MOST_PARTS, MOST_KINDS = 10, 4
KINDS = [
    ("organic", _("Organic")),
    ("fibrous", _("Fibrous")),
    ("mineral", _("Mineral")),
    ("filler", _("Filler")),
]


class MaterialsForm(PlainForm):
    """Which materials, into how many parts, of how many kinds."""

    which = forms.ChoiceField(
        label=_("Which materials"),
        widget=forms.RadioSelect,
        choices=[
            (STOCK, _("what is in stock")),
            (ALL, _("all that are known")),
            (CHOSEN, _("those ticked below")),
        ],
        error_messages={
            "required": _("Say from which materials."),
            "invalid_choice": _("Say from which materials."),
        },
    )
    chosen = forms.MultipleChoiceField(
        label=_("Materials"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "invalid_choice": _("One of the ticked materials is not in the list any more; look again.")
        },
    )
    parts = NumberField(
        label=_("Parts at most"),
        whole=True,
        initial=MOST_PARTS,
        help_text=_("Whole parts that a bucket measures, up to 10."),
    )
    kinds = NumberField(
        label=_("Kinds at most"), whole=True, initial=MOST_KINDS, help_text=_("Different materials, up to 4.")
    )

    def __init__(self, *args, at_hand: "Sequence[AtHand]", **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.at_hand = tuple(at_hand)
        self.has_stock = any(one.stock_l for one in self.at_hand)
        self.fields["which"].initial = STOCK if self.has_stock else ALL
        self.fields["chosen"].choices = [(one.material.key, _said(one)) for one in self.at_hand]

    @property
    def chosen_by_kind(self) -> list[tuple[str, list[tuple[str, str, bool]], bool]]:
        """By the kind of material: its title, key, name and tick of each, and whether one is ticked.

        The page writes these boxes out itself: sixty of them take a widget too long.
        """
        ticked = set(self["chosen"].value() or ())
        found = []
        for kind, title in KINDS:
            boxes = [
                (one.material.key, _said(one), one.material.key in ticked)
                for one in self.at_hand
                if one.material.kind == kind
            ]
            if boxes:
                found.append((title, boxes, any(on for _key, _name, on in boxes)))
        return found

    def clean_parts(self) -> int:
        """Refuse more parts than are looked through."""
        return _within(self, "parts", MOST_PARTS)

    def clean_kinds(self) -> int:
        """Refuse more kinds than are looked through."""
        return _within(self, "kinds", MOST_KINDS)

    def clean(self):
        """Take the materials that are meant."""
        said = super().clean()
        self.taken: tuple[AtHand, ...] = ()
        if "which" not in self.errors and "chosen" not in self.errors:
            self._take(said["which"], set(said.get("chosen", ())))
        return said

    def _take(self, which: str, ticked: set[str]) -> None:
        if which == STOCK:
            self.taken = tuple(one for one in self.at_hand if one.stock_l)
            if not self.taken:
                self.add_error(
                    "which",
                    _("Nothing is counted in stock; count it on the page of a material, or take all."),
                )
        elif which == CHOSEN:
            self.taken = tuple(one for one in self.at_hand if one.material.key in ticked)
            if not self.taken:
                self.add_error("which", _("No material is ticked; tick some, or take all."))
        else:
            self.taken = self.at_hand


class NamesField(LineField):
    """Names of materials, parted by commas; the cleaned value are their keys."""

    def clean(self, value):
        """Return keys, or refuse the first name that stands for nothing or for several."""
        return tuple(material_meant(name).key for name in _names(super().clean(value), ","))


class PairsField(LineField):
    """Pairs that must not meet: “peat with lime; bark with grit”; the cleaned value are pairs of keys."""

    def clean(self, value):
        """Return pairs of keys, or refuse what is no pair."""
        pairs = []
        for text in _names(super().clean(value), ";"):
            names = _names(text.replace(" with ", ","), ",")
            if len(names) != 2:
                raise ValidationError(
                    _("“%(typed)s” is no pair; write it as pine bark nursery with limestone grit."),
                    params={"typed": text[:60]},
                )
            pairs.append(tuple(material_meant(name).key for name in names))
        return tuple(pairs)


class WordsField(PickField):
    """Which words of a flag are put up with, from the best on; the cleaned value is the tuple, or None."""

    def __init__(self, words: Sequence[str], **options) -> None:
        self.words = tuple(words)
        super().__init__(required=False, choices=self._in_words, **options)

    def _in_words(self) -> list[tuple[str, str]]:
        from friable.planning.windows import flag_word

        said = [flag_word(word) for word in self.words]
        return [("", _now("no limit")), *((str(n), " / ".join(said[:n])) for n in range(1, len(said)))]

    def clean(self, value):
        """Return the words allowed."""
        count = super().clean(value)
        return self.words[: int(count)] if count else None


class PriceField(QuantityField):
    """A price by the litre, or another plain number above 0."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(_above_nothing, label=label, **options)


def material_meant(name: str) -> "Material":
    """Return the material of a name, ours first.

    Raises
    ------
    ValidationError
        With the sentence of the refusal.
    """
    try:
        stored = material_named(name)
        return plain.material(stored) if stored else find_material(name)
    except FriableError as problem:
        raise ValidationError(str(problem)) from problem


def _above_nothing(text: str, what: str) -> float:
    number = NumberField(label=what).clean(text)
    if not number > 0:
        raise ValidationError(_("“%(typed)s” must be above 0."), params={"typed": text[:60]})
    return number


def _names(text: str, mark: str) -> list[str]:
    return [name.strip() for name in text.split(mark) if name.strip()]


def _said(one: "AtHand") -> str:
    if not one.stock_l:
        return one.material.title
    return _now("{material}: {litres} L here").format(material=one.material.title, litres=about(one.stock_l))


def _within(form: PlainForm, name: str, most: int) -> int:
    value = form.cleaned_data[name]
    if not 1 <= value <= most:
        raise ValidationError(
            _("%(label)s: %(value)s is out of range; give from 1 to %(most)s."),
            params={"label": form.fields[name].label, "value": value, "most": most},
        )
    return value
