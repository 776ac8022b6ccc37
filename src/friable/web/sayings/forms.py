"""What a saying is asked of; the fields follow from the saying."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.notation import parse_recipe
from friable.planning.sayings.asking import SAMPLES
from friable.planning.sayings.values import Asked, Medium, SayingCase
from friable.planning.typed_text import plain as plain_text
from friable.records import plain
from friable.records.queries.mixes import material_named
from friable.reference.materials import find_material
from friable.web.forms import LineField, PlainForm, QuantityField
from friable.web.mixes import poured
from friable.web.mixes.compare_forms import LONGEST_RECIPE, version_named
from friable.web.mixes.forms import PotField

MOST_MEDIA = 4


class MediumField(LineField):
    """One of our mixes, a recipe written out, or a material; the cleaned value is a medium."""

    def __init__(self, *, one_material: bool = False, **options) -> None:
        self.one_material = one_material
        names = "known-materials" if one_material else "known-components"
        super().__init__(
            attrs={"list": names, "spellcheck": "false"},
            max_length=LONGEST_RECIPE,
            missing=_("This is missing; name a material, one of your mixes, or write a recipe."),
            **options,
        )

    def clean(self, value):
        """Return the medium, or None when it may be empty and is."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return medium_here(text, one_material=self.one_material)
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


def medium_here(text: str, *, one_material: bool = False) -> Medium:
    """Return a medium by its name here: our mix, our material, one of the table, or a recipe.

    Raises
    ------
    FriableError
        If it is none of these.
    """
    text = " ".join(plain_text(text, str(_("material")), LONGEST_RECIPE).split())
    version = None if one_material else version_named(text)
    if version is not None:
        found = poured.of_version(version)
        return Medium(str(version), found.parts, found.losses)
    if text[0].isdigit() and not one_material:
        found = poured.of_recipe(parse_recipe(text, name=text[:120]))
        return Medium(text, found.parts, found.losses)
    stored = material_named(text)
    material = plain.material(stored) if stored else find_material(text)
    return Medium(material.title, ((material, 1.0),))


class SayingForm(PlainForm):
    """The media, containers and figures that one saying is asked of, filled in as usual."""

    def __init__(self, asked: Asked, data=None) -> None:
        super().__init__(data)
        self.asked = asked
        self.media_names = []
        self._add_media()
        if asked.container is not None:
            self._add_pot("container", asked.container, asked.container_words, asked.container_needed)
        if asked.other is not None:
            self._add_pot("other", asked.other, asked.other_words, True)
        self._add_quantity("share", units_in.fraction, asked.share, asked.share_words or _("Share"))
        self._add_quantity("layer", units_in.centimetres, asked.layer, _("Thickness of the layer"))
        self._add_quantity("need", units_in.litres, asked.need, _("Loose volume needed"))
        self._add_quantity("pack_l", units_in.litres, asked.pack_l, _("One pack"))
        self._add_quantity("pack_kg", units_in.kilograms, asked.pack_kg, _("One pack"))
        if asked.pot_name is not None:
            self.fields["pot_name"] = LineField(
                label=_("Name of the pot"),
                initial=asked.pot_name,
                help_text=_("As it is sold, such as 20 cm, 2 L or #1."),
                missing=_("The name is missing; write it as it is sold, such as 20 cm."),
            )

    def _add_media(self) -> None:
        roles = self.asked.media
        alike = self.asked.most > len(roles)
        for place in range(min(self.asked.most, max(MOST_MEDIA, len(roles)))):
            name = f"medium{place + 1}"
            role = roles[min(place, len(roles) - 1)]
            self.media_names.append(name)
            self.fields[name] = MediumField(
                label=_sentence(role.words) if not alike else f"{_sentence(role.words)} {place + 1}",
                one_material=role.one_material,
                required=place == 0 or not alike,
                initial=roles[place].usual if place < len(roles) else "",
            )

    def _add_pot(self, name: str, usual: str, words: str, needed: bool) -> None:
        self.fields[name] = PotField(
            label=_sentence(words) if words else _("Container"), initial=usual, required=needed
        )

    def _add_quantity(self, name: str, read, usual: str | None, label) -> None:
        if usual is not None:
            self.fields[name] = QuantityField(
                read,
                label=_sentence(str(label)),
                initial=usual,
                missing=_("This is missing; give a number with its unit, such as %(usual)s.")
                % {"usual": usual},
            )

    @property
    def usual(self) -> dict[str, str]:
        """What stands in the form if nobody writes anything."""
        return {name: str(field.initial or "") for name, field in self.fields.items()}

    def case(self, samples: int = SAMPLES) -> SayingCase:
        """Return what was asked; after `is_valid()`."""
        said = self.cleaned_data
        media = [said[name] for name in self.media_names]

        def number(name: str) -> float | None:
            quantity = said.get(name)
            return None if quantity is None else quantity.value

        return SayingCase(
            media=tuple(medium for medium in media if medium is not None),
            container=said.get("container"),
            other=said.get("other"),
            share=number("share"),
            drainage_layer_cm=number("layer"),
            need_l=number("need"),
            pack_l=number("pack_l"),
            pack_kg=number("pack_kg"),
            pot_name=said.get("pot_name", ""),
            samples=samples,
        )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
