"""Forms of the materials: search, our own materials and aliases, what is measured."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.bench_measures import dry_bulk_density
from friable.records.actions.materials import use_material
from friable.records.models import Material
from friable.records.queries.mixes import material_named
from friable.records.queries.stores import packs_of
from friable.reference.materials import find_material
from friable.web.forms import (
    LineField,
    MomentField,
    NoteField,
    PickField,
    PlainForm,
    QuantityField,
    SignedForm,
)

LIST_OF_MATERIALS = {"list": "known-materials", "spellcheck": "false"}


class SearchForm(PlainForm):
    """A name or part of one."""

    q = LineField(label=_("Find a material by any of its names"), required=False)


class OwnMaterialForm(SignedForm):
    """A material under a name of our own."""

    name = LineField(
        label=_("Your name for it"), missing=_("The material has no name; write what you call it here.")
    )
    rests_on = LineField(
        label=_("The material of the table nearest to it"),
        required=False,
        attrs=LIST_OF_MATERIALS,
        help_text=_("Its figures are taken until you measure. Empty: it can be measured out, not forecast."),
    )
    aliases = LineField(
        label=_("Other words for it"), required=False, help_text=_("Parted by commas, such as trade names.")
    )
    note = NoteField(label=_("Note"))

    def clean_rests_on(self):
        """Return the key of the table's row."""
        typed = self.cleaned_data["rests_on"]
        if not typed:
            return ""
        stored = material_named(typed)
        if stored is not None and stored.table_key:
            return stored.table_key
        return _refusable(find_material, typed).key

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the name."""
        said = self.cleaned_data
        words = [word.strip() for word in said["aliases"].split(",") if word.strip()]
        return {"table_key": said["rests_on"], "note": said["note"], "aliases": words}


class ChangeForm(OwnMaterialForm):
    """What can be changed of a material of our own."""

    aliases = None
    in_use = forms.BooleanField(
        label=_("In use here"), required=False, help_text=_("Unmarked, it is left out of every list.")
    )

    def values(self) -> dict[str, object]:
        """Return the changes."""
        said = self.cleaned_data
        names = {"name": said["name"], "note": said["note"], "in_use": said["in_use"]}
        return {**names, "table_key": said["rests_on"]}


class AliasForm(SignedForm):
    """Another word."""

    name = LineField(
        label=_("Another word for it"), missing=_("The word is missing; write what else it is called.")
    )


class MeasuredForm(SignedForm):
    """When it was measured, of which lot."""

    lot = LineField(label=_("Lot"), required=False, help_text=_("As it stands on the bag, if it does."))
    done_at = MomentField(label=_("Measured at"), required=False, help_text=_("Empty: just now."))
    note = NoteField(label=_("Note"))

    def measured(self) -> dict[str, object]:
        """Return lot, time and note."""
        return {name: self.cleaned_data[name] for name in ("lot", "done_at", "note")}


class DensityForm(MeasuredForm):
    """Fills of one volume, dried and weighed."""

    volume = QuantityField(
        units_in.litres,
        what=_("loose volume"),
        label=_("Loose volume of each fill"),
        missing=_("The volume is missing; give it such as 1 L."),
        help_text=_("Poured loosely into a measured pot, struck off level: such as 1 L."),
    )
    mass1 = QuantityField(
        units_in.kilograms,
        label=_("Dry mass of the first fill"),
        missing=_("The mass is missing; give it such as 182 g."),
        help_text=_("Without the pot, dried until it loses no more: such as 182 g."),
    )
    mass2 = QuantityField(units_in.kilograms, what=_("dry mass"), label=_("Of the second"), required=False)
    mass3 = QuantityField(units_in.kilograms, what=_("dry mass"), label=_("Of the third"), required=False)
    field_order = ["volume", "mass1", "mass2", "mass3"]

    def clean(self):
        """Work the density out."""
        said = super().clean()
        if not self.errors:
            masses = [said[name].value for name in ("mass1", "mass2", "mass3") if said[name] is not None]
            try:
                self.weighed = dry_bulk_density(said["volume"].value, masses)
            except FriableError as problem:
                self.refuse(problem, "mass1")
        return said

    def values(self) -> dict[str, object]:
        """Return what the act takes; a range only where several fills were weighed."""
        weighed = self.weighed
        several = self.cleaned_data["mass2"] is not None or self.cleaned_data["mass3"] is not None
        spread = {
            "dry_bulk_density_low_g_cm3": weighed.dry_bulk_density_low_g_cm3,
            "dry_bulk_density_high_g_cm3": weighed.dry_bulk_density_high_g_cm3,
        }
        return {
            "dry_bulk_density_g_cm3": weighed.dry_bulk_density_g_cm3,
            **(spread if several else {}),
            **self.measured(),
        }


class MixVolumeForm(MeasuredForm):
    """Two materials, how much of each, and what they gave together."""

    this = QuantityField(
        units_in.litres,
        what=_("volume of this material"),
        label=_("Of this material"),
        missing=_("The volume is missing; give it such as 10 L."),
    )
    other = LineField(
        label=_("The other material"),
        attrs=LIST_OF_MATERIALS,
        missing=_("The other material is missing; name it."),
    )
    that = QuantityField(
        units_in.litres,
        what=_("volume of the other material"),
        label=_("Of the other"),
        missing=_("The volume is missing; give it such as 10 L."),
    )
    mixed = QuantityField(
        units_in.litres,
        what=_("mixed volume"),
        label=_("Both together, mixed"),
        missing=_("The mixed volume is missing; give it such as 17.5 L."),
    )
    field_order = ["this", "other", "that", "mixed"]

    def clean_other(self):
        """Return a stored material or the title of one of the table."""
        typed = self.cleaned_data["other"]
        return material_named(typed) or _refusable(find_material, typed).title

    def stored_other(self, by: str) -> Material:
        """Return the other material, stored at its first use."""
        other = self.cleaned_data["other"]
        return other if isinstance(other, Material) else use_material(other, by=by)

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the two materials."""
        said = self.cleaned_data
        return {
            "material_l": said["this"].value,
            "other_material_l": said["that"].value,
            "mixed_l": said["mixed"].value,
            **self.measured(),
        }


class PackForm(SignedForm):
    """A bag, bale or block in which a material comes."""

    name = LineField(
        label=_("Pack"),
        missing=_("The pack has no name; write it such as “bale 3.8 cu ft”."),
        help_text=_("Such as bale 3.8 cu ft, bag 60 L."),
    )
    declared = QuantityField(
        units_in.litres,
        label=_("Volume printed on it"),
        missing=_("The printed volume is missing; give it such as 3.8 cu ft or 60 L."),
    )


class YieldForm(MeasuredForm):
    """How much loose material one pack gave."""

    pack = PickField(label=_("Pack"), missing=_("No pack is chosen; choose one from the list."))
    loose = QuantityField(
        units_in.litres,
        what=_("loose volume"),
        label=_("Loose volume it gave"),
        missing=_("The loose volume is missing; give it such as 198 L."),
        help_text=_("Broken up, moistened as you use it, counted in buckets: such as 198 L."),
    )
    field_order = ["pack", "loose"]

    def __init__(self, request, row: Material | None, *args, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.packs = {pack.pk: pack for pack in packs_of(row)} if row else {}
        self.fields["pack"].choices = [(pk, pack.name) for pk, pack in self.packs.items()]

    def clean_pack(self):
        """Return the pack itself."""
        return self.packs[int(self.cleaned_data["pack"])]

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the pack."""
        return {"loose_l": self.cleaned_data["loose"].value, **self.measured()}


class WithdrawForm(SignedForm):
    """Why a measurement counts no more."""

    reason = LineField(label=_("What is wrong with it"), missing=_("Say why the measurement is withdrawn."))


def _refusable(read, *typed):
    try:
        return read(*typed)
    except FriableError as problem:
        raise ValidationError(str(problem)) from problem
