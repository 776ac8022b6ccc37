"""Forms of the mixes: what is in one, in which pot it is looked at, and what is kept with it."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import AmbiguousName, BadRecipe, FriableError, UnknownName
from friable.planning import notation, units_in
from friable.planning.recipe import Component, Recipe
from friable.planning.target_fit import uses
from friable.records import plain
from friable.records.queries import stores
from friable.records.queries.mixes import material_named
from friable.reference.materials import find_material
from friable.web.forms import LineField, NoteField, PickField, PlainForm, QuantityField, SignedForm
from friable.web.mixes import poured
from friable.web.mixes.rows import amendment_forms, line_forms, typed_rows

POT_HELP = _("One of your containers, or inside sizes: round 17/12/13 cm (top, bottom, height).")


class RecipeField(forms.CharField):
    """A recipe in one text; kept as typed however long it is, read by `planning.notation`."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(
            label=label,
            required=False,
            strip=False,
            widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false", "autocomplete": "off"}),
            error_messages={
                "null_characters_not_allowed": _("This has a character that cannot be kept; type it again.")
            },
            **options,
        )

    def clean(self, value):
        """Return the recipe, or None when nothing is typed."""
        text = super().clean(value)
        if not text.strip():
            return None
        try:
            return notation.parse_recipe(text, name=str(_("this mix")))
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class PotField(LineField):
    """A stored container by its name, or inside sizes; the cleaned value is a plain container."""

    def __init__(self, *, label, **options) -> None:
        options.setdefault("help_text", POT_HELP)
        options.setdefault(
            "missing",
            _("The pot is missing; choose one of yours, or give inside sizes such as round 17/12/13 cm."),
        )
        super().__init__(label=label, attrs={"list": "known-containers", "spellcheck": "false"}, **options)

    def clean(self, value):
        """Return the container, or None when it may be empty and is."""
        text = super().clean(value)
        if not text:
            return None
        stored = stores.container_named(text)
        try:
            return plain.container(stored) if stored else notation.parse_container(text)
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class MaterialField(LineField):
    """A material by any of its names; the cleaned value is a plain material."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(label=label, attrs={"list": "known-materials", "spellcheck": "false"}, **options)

    def clean(self, value):
        """Return the material with what was measured here over it, or None when it may be empty and is."""
        text = super().clean(value)
        if not text:
            return None
        try:
            stored = material_named(text)
            return plain.material(stored) if stored else find_material(text)
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem


class PotForm(PlainForm):
    """In which pot a mix is looked at, and for what it is meant."""

    container = PotField(label=_("In this pot"))
    headspace = QuantityField(
        units_in.centimetres,
        label=_("Headspace"),
        required=False,
        help_text=_("From the rim down to the mix. Empty: as usual for this pot."),
    )
    layer = QuantityField(
        units_in.centimetres,
        label=_("Depth of the drainage layer"),
        required=False,
        help_text=_("Such as 3 cm. Empty: no layer."),
    )
    layer_material = MaterialField(
        label=_("Layer of"), required=False, help_text=_("Such as gravel from 6 to 12 mm.")
    )
    use = PickField(label=_("Meant for"), required=False)

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["use"].choices = [("", _("No range asked for")), *[(use, use) for use in uses()]]

    def clean(self):
        """Fill the pot to its headspace, over its layer; each refusal beside its own field."""
        said = super().clean()
        pot = said.get("container")
        for field, change in (("headspace", "with_headspace"), ("layer", "with_drainage_layer")):
            given = said.get(field)
            if pot is None or given is None:
                continue
            try:
                pot = getattr(pot, change)(given.value)
            except FriableError as problem:
                self.refuse(problem, field)
        layer = said.get("layer")
        if layer and layer.value and not said.get("layer_material") and "layer_material" not in self.errors:
            self.add_error("layer_material", _("Say what the drainage layer is made of, such as gravel."))
        if said.get("layer_material") and not (layer and layer.value) and "layer" not in self.errors:
            self.add_error("layer", _("Give the drainage layer a depth above 0 cm, or leave it out."))
        self.pot = pot
        return said


class RecipeForm(PotForm):
    """A recipe, written in one box or line by line, looked at in one pot."""

    recipe = RecipeField(
        label=_("What is in it"),
        help_text=_(
            "Parts by volume, joined by +: 5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
        ),
    )

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        rows = typed_rows(self.data, "line") if self.is_bound else self.initial.get("lines", [])
        self.lines = line_forms(rows, check=self.is_bound)

    @property
    def has_lines(self) -> bool:
        """True if something is written line by line."""
        return any(line.is_written for line in self.lines)

    def clean(self):
        """Read the recipe from the box or from the lines, and what is poured for it."""
        said = super().clean()
        self.poured = None
        if "recipe" in self.errors:
            return said
        written = [line for line in self.lines if line.is_written]
        if said.get("recipe") and written:
            self.add_error(
                "recipe", _("The recipe stands in the box and line by line; empty one of the two.")
            )
        elif written:
            said["recipe"] = self._from_lines(written)
        elif not said.get("recipe"):
            self.add_error("recipe", _("The recipe is empty; write what is in it, such as “2 coir pith”."))
        if said.get("recipe") and "recipe" not in self.errors:
            try:
                self.poured = poured.of_recipe(said["recipe"])
            except FriableError as problem:
                self.unforeseen(problem)
        return said

    def unforeseen(self, problem: FriableError) -> None:
        """Put what cannot be forecast beside the recipe."""
        self.refuse(problem, "recipe")

    def _from_lines(self, written) -> Recipe | None:
        if not all([line.is_valid() for line in written]):
            self.add_error("recipe", _("A line below cannot be read; it is marked."))
            return None
        components = tuple(
            Component(line.cleaned_data["material"], line.cleaned_data["parts"], line.cleaned_data["state"])
            for line in written
        )
        return Recipe(str(_("this mix")), components)


class MixForm(SignedForm, RecipeForm):
    """Everything that is kept of a mix; the pot is only for the answer."""

    name = LineField(
        label=_("Name of the mix"), missing=_("The mix has no name; give it one, such as “fern basket”.")
    )
    plant_group = LineField(label=_("For which plants"), required=False)
    shrinkage = QuantityField(
        lambda text, what: units_in.fraction(text, what, below_one=True),
        label=_("Shrinkage measured here"),
        required=False,
        help_text=_("Volume lost on mixing, such as 12 %. Empty: not measured."),
    )
    incomplete = forms.BooleanField(
        label=_("Incomplete: keep it as a note, not for use"), required=False, label_suffix=""
    )
    top_dressing = LineField(label=_("Top dressing"), required=False)
    not_for = LineField(
        label=_("Not for"),
        required=False,
        help_text=_("Plants it would harm, such as “heaths, bog plants”; the label says so."),
    )
    use_within_days = QuantityField(
        units_in.days,
        label=_("Use within, days"),
        required=False,
        help_text=_("After mixing, such as 14. Empty: it keeps."),
    )
    cautions = NoteField(label=_("Cautions that belong to it"), help_text=_("One a line."))
    version_note = NoteField(label=_("What is new, or why"))

    def __init__(self, request, *args, mix=None, looking=False, **kwargs) -> None:
        self.mix, self.looking = mix, looking
        super().__init__(request, *args, **kwargs)
        self.fields["container"].required = looking
        self.fields["name"].required = not looking
        if mix is None:
            self.fields["version_note"].label = _("Note")
        else:
            del self.fields["name"]
            del self.fields["plant_group"]
        rows = typed_rows(self.data, "amendment") if self.is_bound else self.initial.get("amendments", [])
        self.amendments = amendment_forms(rows, check=self.is_bound)

    @property
    def is_worth_a_look(self) -> bool:
        """True once a recipe is begun, in the box or line by line."""
        return bool((self["recipe"].value() or "").strip()) or self.has_lines

    @property
    def has_more(self) -> bool:
        """True if something stands in what is folded."""
        names = ("cautions", "shrinkage", "top_dressing", "not_for", "use_within_days", "incomplete")
        filled = any(self[name].value() or self[name].errors for name in names)
        return filled or any(row.is_written for row in self.amendments)

    def unforeseen(self, problem: FriableError) -> None:
        """Refuse what cannot be forecast only while looking: a mix is kept all the same."""
        if self.looking:
            super().unforeseen(problem)

    def refuse(self, problem: FriableError, field: str | None = None) -> None:
        """Put what is wrong with a name or a part beside the recipe."""
        of_recipe = isinstance(problem, BadRecipe | UnknownName | AmbiguousName)
        super().refuse(problem, field or ("recipe" if of_recipe else None))

    def clean(self):
        """Read the amendments, then put the whole recipe together."""
        said = super().clean()
        written = [row for row in self.amendments if row.is_written]
        if not all([row.is_valid() for row in written]):
            self.add_error(None, _("An amendment below cannot be read; it is marked."))
        elif said.get("recipe") and not self.errors:
            try:
                said["recipe"] = Recipe(
                    name=self.mix.name if self.mix else said["name"],
                    components=said["recipe"].components,
                    amendments=tuple(row.amendment() for row in written),
                    cautions=tuple(line.strip() for line in said["cautions"].splitlines() if line.strip()),
                    shrinkage=said["shrinkage"].value if said.get("shrinkage") else None,
                    incomplete=said["incomplete"],
                    top_dressing=said["top_dressing"],
                    not_for=said["not_for"],
                    use_within_days=int(said["use_within_days"].value)
                    if said.get("use_within_days")
                    else None,
                )
            except FriableError as problem:
                self.refuse(problem)
        return said
