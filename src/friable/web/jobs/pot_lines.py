"""The lines of a job as they are typed: so many of one pot, out of which, filled how high."""

from collections.abc import Iterable, Mapping

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import notation, units_in
from friable.records import plain
from friable.records.actions.equipment import container_for
from friable.records.actions.jobs import PotLine, save_job_step
from friable.records.actions.materials import use_material
from friable.records.models import PottingJob
from friable.records.models.jobs import ROOTS
from friable.records.queries import stores
from friable.records.queries.mixes import material_named
from friable.reference.materials import find_material
from friable.web.forms import LineField, PickField, PlainForm, QuantityField
from friable.web.templatetags.friable import short

MOST_LINES = 40
NAMES = (
    "count",
    "into",
    "headspace",
    "root",
    "potted_from",
    "potted_from_headspace",
    "drainage_layer",
    "layer_material",
)
_LIST_OF_POTS = {"list": "known-containers"}


class PotLineForm(PlainForm):
    """One line. Where a pot is typed by its measures it is stored when the step is kept."""

    count = QuantityField(
        units_in.count,
        label=_("How many"),
        missing=_("The number of pots is missing; give a whole number such as 60."),
        attrs={"inputmode": "numeric"},
    )
    into = LineField(
        label=_("Into"),
        missing=_("The pot is missing; choose one of yours, or give inside sizes such as round 17/12/13 cm."),
        help_text=_("One of your containers, or inside sizes: round 17/12/13 cm (top, bottom, height)."),
        attrs=_LIST_OF_POTS,
    )
    headspace = QuantityField(
        units_in.centimetres,
        label=_("Headspace"),
        required=False,
        help_text=_("From the rim down to the mix, such as 1.5 cm. Empty: as usual for this pot."),
    )
    root = PickField(
        label=_("Roots"),
        required=False,
        widget=forms.RadioSelect,
        choices=list(ROOTS.items()),
    )
    potted_from = LineField(
        label=_("Out of"),
        required=False,
        help_text=_("The pot the root ball was shaped by, such as round 9/6/8.5 cm."),
        attrs=_LIST_OF_POTS,
    )
    potted_from_headspace = QuantityField(
        units_in.centimetres,
        label=_("Headspace of the old pot"),
        required=False,
        help_text=_("How far below its rim the root ball ended, such as 1 cm."),
    )
    drainage_layer = QuantityField(
        units_in.centimetres,
        label=_("Depth of the drainage layer"),
        required=False,
        help_text=_("Such as 3 cm. Empty: no layer."),
    )
    layer_material = LineField(
        label=_("Layer of"),
        required=False,
        help_text=_("Such as gravel."),
        attrs={"list": "known-materials"},
    )

    def clean(self):
        """Check the pots with their headspace and layer, each refusal beside its own field."""
        said = super().clean()
        self._check_pot("into", "headspace", "drainage_layer")
        self._check_pot("potted_from", "potted_from_headspace")
        if not said.get("root") and "root" not in self.errors:
            self._take_roots_from_the_old_pot()
        is_lacking = not said.get("potted_from") and "potted_from" not in self.errors
        if said.get("root") == "root ball" and is_lacking:
            self.add_error("potted_from", _("Say which pot the root balls come from, or choose bare root."))
        layer = said.get("drainage_layer")
        if said.get("layer_material") and not (layer and layer.value) and "drainage_layer" not in self.errors:
            self.add_error(
                "drainage_layer", _("Give the drainage layer a depth above 0 cm, or leave its material out.")
            )
        if layer and layer.value and not said.get("layer_material") and "layer_material" not in self.errors:
            self.add_error("layer_material", _("Say what the drainage layer is made of, such as gravel."))
        return said

    def _take_roots_from_the_old_pot(self) -> None:
        """Whoever names an old pot brings a root ball along; else the roots have to be said."""
        if self["potted_from"].value():
            self.cleaned_data["root"] = "root ball"
        else:
            self.add_error(
                "root", _("Say what the plants bring along: a root ball, bare roots, or none yet.")
            )

    def clean_into(self):
        """Return a stored container, or the measures that were typed."""
        return _pot(self.cleaned_data["into"])

    def clean_potted_from(self):
        """Return a stored container, the measures that were typed, or None."""
        return _pot(self.cleaned_data["potted_from"]) if self.cleaned_data["potted_from"] else None

    def clean_layer_material(self):
        """Refuse a material that neither we nor the table know."""
        typed = self.cleaned_data["layer_material"]
        if typed and material_named(typed) is None:
            _refusable(find_material, typed)
        return typed

    def _check_pot(self, pot: str, headspace: str, layer: str = "") -> None:
        measures = self.cleaned_data.get(pot)
        if measures is None:
            return
        if not hasattr(measures, "with_headspace"):
            measures = plain.container(measures)
        for field, change in ((headspace, "with_headspace"), (layer, "with_drainage_layer")):
            given = self.cleaned_data.get(field)
            if given is None:
                continue
            try:
                measures = getattr(measures, change)(given.value)
            except FriableError as problem:
                self.add_error(field, str(problem))

    def pot_line(self, by: str) -> PotLine:
        """Return the line as the step takes it; stores pots and materials that are new here."""
        said = self.cleaned_data
        material = said["layer_material"]
        return PotLine(
            container=_stored(said["into"], by),
            count=int(said["count"].value),
            headspace_cm=_value(said["headspace"]),
            potted_from=_stored(said["potted_from"], by) if said["potted_from"] else None,
            potted_from_headspace_cm=_value(said["potted_from_headspace"]),
            root=said["root"],
            drainage_layer_cm=_value(said["drainage_layer"]) or 0.0,
            layer_material=(material_named(material) or use_material(material, by=by)) if material else None,
        )


def typed_rows(data: Mapping[str, object]) -> list[dict[str, str]]:
    """Return the lines of a form that was sent, or of a draft, as they were typed."""
    number = _first(data, "lines")
    rows = min(int(number), MOST_LINES) if number.isascii() and number.isdigit() and len(number) < 4 else 0
    return [{name: _first(data, f"line-{row}-{name}") for name in NAMES} for row in range(rows)]


def stored_rows(lines: Iterable) -> list[dict[str, str]]:
    """Return the lines of a job as one would type them."""
    return [
        {
            "count": str(line.count),
            "into": line.container.name,
            "headspace": f"{short(line.headspace_cm)} cm",
            "root": line.root,
            "potted_from": line.potted_from.name if line.potted_from else "",
            "potted_from_headspace": f"{short(line.potted_from_headspace_cm)} cm" if line.potted_from else "",
            "drainage_layer": f"{short(line.drainage_layer_cm)} cm" if line.drainage_layer_cm else "",
            "layer_material": line.layer_material.name if line.layer_material else "",
        }
        for line in lines
    ]


def line_forms(rows: list[dict[str, str]], *, check: bool) -> list[PotLineForm]:
    """Return a form a line, showing what was typed; checked only where that is asked for."""
    shown = []
    for place, row in enumerate(rows):
        prefix = f"line-{place}"
        if check:
            data = {f"{prefix}-{name}": text for name, text in row.items()}
            shown.append(PotLineForm(data, prefix=prefix))
        else:
            shown.append(PotLineForm(initial=row, prefix=prefix))
    return shown


def with_a_line_more_or_less(rows: list[dict[str, str]], take_out: str | None) -> list[dict[str, str]]:
    """Return the lines with an empty one more, or without the one of this number; never none at all."""
    if take_out is None:
        return [*rows, {}][:MOST_LINES]
    return [row for place, row in enumerate(rows) if str(place) != take_out] or [{}]


def asked_for(rows: list[dict[str, str]], litres: str) -> list[dict[str, str]]:
    """Return the lines into which something was typed; an empty one only if nothing else is asked for."""
    written = [row for row in rows if any(text.strip() for text in row.values())]
    return written if written or litres.strip() else [{}]


def save(job: PottingJob, lines: list[PotLineForm], *, by: str, **values) -> PottingJob:
    """Keep the step `pots`; pots and materials that are new here are stored first."""
    pots = [line.pot_line(by) for line in lines]
    return save_job_step(job, "pots", by=by, lines=pots, **values)


def _pot(typed: str):
    stored = stores.container_named(typed)
    return stored or _refusable(notation.parse_container, typed)


def _refusable(read, typed: str):
    try:
        return read(typed)
    except FriableError as problem:
        raise ValidationError(str(problem)) from problem


def _stored(pot, by: str):
    return container_for(pot, by=by) if hasattr(pot, "with_headspace") else pot


def _value(quantity) -> float | None:
    return quantity.value if quantity is not None else None


def _first(data: Mapping[str, object], name: str) -> str:
    value = data.get(name, "")
    if isinstance(value, list):
        value = value[0] if value else ""
    return str(value)
