"""The pot test: its form, and the tests that are kept."""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.pot_test import PotTest, read_pot_test
from friable.records import plain
from friable.records.actions.equipment import container_for
from friable.records.actions.materials import use_material
from friable.records.actions.measurements import measure_pot_test
from friable.records.models import Measurement, MixVersion
from friable.records.models.measurements import POT_TEST
from friable.records.queries import stores
from friable.records.queries.measurements import standing
from friable.records.queries.mixes import material_named, mix_history, mix_named
from friable.reference.materials import find_material
from friable.web.forms import LineField, NoteField, QuantityField, SignedForm
from friable.web.mixes.forms import PotField

SHOWN_TESTS = 10


class PotTestForm(SignedForm):
    """Water in and water out of one pot, and where else the mix is meant to stand."""

    container = PotField(label=_("The pot of the test"))
    headspace = QuantityField(
        units_in.centimetres,
        label=_("Headspace"),
        required=False,
        help_text=_("From the rim down to the mix, such as 1 cm. Empty: as usual for this pot."),
    )
    water_in = QuantityField(
        units_in.litres,
        what=_("water poured in"),
        label=_("Water poured in"),
        missing=_("The water poured in is missing; give it such as 1110 mL."),
        help_text=_("Holes closed, dry mix to the fill line, until water just shows: such as 1110 mL."),
    )
    drained = QuantityField(
        lambda text, what: units_in.litres(text, what, zero=True),
        what=_("water drained"),
        label=_("Water drained"),
        missing=_("The water drained is missing; give it such as 270 mL."),
        help_text=_("Holes opened, caught until it stops dripping: such as 270 mL."),
    )
    also_in = PotField(
        label=_("What would it be in this pot"),
        required=False,
        help_text=_("Such as tray 50x30x4 cm. Empty: only the pot of the test."),
    )
    of = LineField(
        label=_("What was in it"),
        required=False,
        attrs={"list": "known-components"},
        help_text=_("A mix or a material, if the test is to be kept for it."),
    )
    note = NoteField(label=_("Note"))

    def clean_of(self):
        """Return a mix version, a stored material, or the name of a material of the table."""
        typed = self.cleaned_data["of"]
        if not typed:
            return None
        mix = mix_named(typed)
        if mix is not None:
            return mix_history(mix).first()
        try:
            return material_named(typed) or find_material(typed).title
        except FriableError as problem:
            raise ValidationError(str(problem)) from problem

    def clean(self):
        """Fill the pot to its line and read the test."""
        said = super().clean()
        self.test = None
        pot = said.get("container")
        if self.errors or pot is None:
            return said
        try:
            if said["headspace"] is not None:
                pot = pot.with_headspace(said["headspace"].value)
        except FriableError as problem:
            self.refuse(problem, "headspace")
            return said
        try:
            self.test = read_pot_test(pot, said["water_in"].value, said["drained"].value, said["also_in"])
        except FriableError as problem:
            self.refuse(problem, "water_in")
        return said

    def keep(self, by: str) -> Measurement:
        """Keep the test; a pot or a material that is new here is stored first."""
        said, test = self.cleaned_data, self.test
        of = said["of"]
        if isinstance(of, str):
            of = use_material(of, by=by)
        is_mix = isinstance(of, MixVersion)
        stored = stores.container_named(self.data["container"]) or container_for(said["container"], by=by)
        return measure_pot_test(
            stored,
            by=by,
            headspace_cm=test.container.headspace_cm,
            water_in_l=said["water_in"].value,
            drained_l=said["drained"].value,
            mix_version=of if is_mix else None,
            material=None if is_mix else of,
            note=said["note"],
        )


@dataclass(frozen=True, slots=True)
class KeptTest:
    """A test that is kept, and what it says."""

    measurement: Measurement
    test: PotTest


def kept_tests(**of: object) -> list[KeptTest]:
    """Return the newest tests that stand, of one mix or container if that is asked for."""
    rows = standing(POT_TEST).filter(**of).select_related("container", "material", "mix_version__mix")
    kept = []
    for row in rows[:SHOWN_TESTS]:
        pot = plain.container(row.container, headspace_cm=row.headspace_cm)
        try:
            kept.append(KeptTest(row, read_pot_test(pot, row.water_in_l, row.drained_l)))
        except FriableError:  # the pot was measured again since, and holds less than went in
            continue
    return kept
