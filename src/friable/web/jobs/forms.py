"""Forms of the potting job: its start, the mix, the amounts, dropping and cloning."""

from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.batch_water import check_moistures
from friable.planning.moisture import MOST_WATER_TO_DRY, WET_MASS
from friable.records.models import PottingJob
from friable.records.queries import stores
from friable.records.queries.mixes import mixes_in_use
from friable.web.forms import DayField, LineField, NoteField, PickField, QuantityField, SignedForm


class StartForm(SignedForm):
    """What is potted, and by when."""

    title = LineField(
        label=_("What is potted"),
        missing=_("The job has no name; say what is potted, such as “saplings, bench 4”."),
        help_text=_("As you would call it across the bench: “saplings, bench 4”."),
    )
    due_on = DayField(label=_("Wanted on"), required=False)
    note = NoteField(label=_("Note"))


class PotsForm(StartForm):
    """What belongs to the whole job on the page of its pots; the lines have forms of their own."""

    litres = QuantityField(
        units_in.litres,
        label=_("Only so much mix"),
        required=False,
        help_text=_("In place of pots, such as 240 L. Leave it empty if pots are listed."),
    )

    def values(self) -> dict[str, object]:
        """Return what the step `pots` takes besides its lines."""
        said = self.cleaned_data
        return {
            "title": said["title"],
            "due_on": said["due_on"],
            "note": said["note"],
            "litres_l": said["litres"].value if said["litres"] else None,
        }


class MixForm(SignedForm):
    """Which mix, in its newest version or the one the job has already."""

    version = PickField(
        label=_("Mix"),
        missing=_("No mix is chosen; choose one from the list."),
        stranger=_("This mix is not in the list any more; choose another."),
    )

    def __init__(self, request, job: PottingJob, *args, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.versions = {version.pk: version for version in _versions(job)}
        names = [(pk, str(version)) for pk, version in self.versions.items()]
        self.fields["version"].choices = [("", _("Choose a mix")), *names]

    def look_at(self, wanted: str | None):
        """Return the version to look at: the one asked for if it is in the list, else the job's own."""
        asked = next((version for pk, version in self.versions.items() if str(pk) == wanted), None)
        version = asked or self.versions.get(self.initial.get("version"))
        self.initial["version"] = version.pk if version else None
        return version

    def clean_version(self):
        """Return the version itself."""
        return self.versions[int(self.cleaned_data["version"])]


class AmountsForm(SignedForm):
    """How much more than the pots need, what is lost, and with what it is measured and mixed."""

    overage = QuantityField(
        units_in.fraction,
        label=_("Overage"),
        help_text=_("To spare for spills and the last pot, such as 5 %."),
        missing=_("The overage is missing; write 0 % if nothing is to spare."),
    )
    shrinkage = QuantityField(
        lambda text, what: units_in.fraction(text, what, below_one=True),
        label=_("Shrinkage on mixing"),
        required=False,
    )
    settling = QuantityField(
        lambda text, what: units_in.fraction(text, what, below_one=True),
        label=_("Settling in the pot"),
        help_text=_("Lost later, by filling and watering; 0 % if pots are filled up again."),
        missing=_("The settling is missing; write 0 % if pots are filled up again."),
    )
    moisture_now = QuantityField(
        lambda text, what: units_in.fraction(text, what, most=MOST_WATER_TO_DRY),
        label=_("Moisture now"),
        required=False,
        help_text=_("Of the mix as poured, such as 30 %. Empty: water by the squeeze."),
    )
    moisture_wanted = QuantityField(
        lambda text, what: units_in.fraction(text, what, most=MOST_WATER_TO_DRY),
        label=_("Moisture wanted"),
        required=False,
    )
    moisture_meaning = PickField(
        label=_("Both are per cent of"),
        required=False,
        choices=[
            ("wet-mass", _("the wet mass")),
            ("water-to-dry", _("the dry mass (water to dry)")),
        ],
    )
    bucket = PickField(label=_("Bucket"), required=False)
    mixer = PickField(label=_("Mixed in"), required=False)

    def __init__(self, request, *args, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.rows = {
            "bucket": {row.pk: row for row in stores.buckets_in_use()},
            "mixer": {row.pk: row for row in stores.mixers_in_use()},
        }
        nothing = {"bucket": _("No bucket: litres only"), "mixer": _("All at once")}
        for name, rows in self.rows.items():
            self.fields[name].choices = [("", nothing[name]), *[(pk, row) for pk, row in rows.items()]]

    def clean_moisture_meaning(self):
        """Return the meaning; of the wet mass unless the other is chosen."""
        return self.cleaned_data["moisture_meaning"] or WET_MASS

    def clean(self):
        """Refuse moistures between which no water can be added."""
        said = super().clean()
        if said.get("moisture_now") is None or "moisture_wanted" in self.errors:
            return said
        if said.get("moisture_wanted") is None:
            self.add_error(
                "moisture_wanted", _("Say which moisture is wanted too, or leave the moisture now empty.")
            )
        elif "moisture_meaning" in said:
            try:
                check_moistures(
                    said["moisture_now"].value, said["moisture_wanted"].value, said["moisture_meaning"]
                )
            except FriableError as problem:
                self.refuse(problem, "moisture_now")
        return said

    def _row(self, name):
        pk = self.cleaned_data.get(name)
        return self.rows[name][int(pk)] if pk else None

    def clean_bucket(self):
        """Return the bucket itself."""
        return self._row("bucket")

    def clean_mixer(self):
        """Return the mixer itself."""
        return self._row("mixer")

    def values(self) -> dict[str, object]:
        """Return what the step `amounts` takes."""
        said = self.cleaned_data
        watered = said.get("moisture_now") is not None
        return {
            "moisture_now": said["moisture_now"].value if watered else None,
            "moisture_wanted": said["moisture_wanted"].value if watered else None,
            "moisture_meaning": said["moisture_meaning"],
            "overage": said["overage"].value,
            "settling": said["settling"].value,
            "shrinkage": said["shrinkage"].value if said.get("shrinkage") else None,
            "bucket": said["bucket"],
            "mixer": said["mixer"],
        }


class PlanForm(SignedForm):
    """Nothing but who plans it."""


class DropForm(SignedForm):
    """Why a job will not be done."""

    reason = LineField(label=_("Why it is dropped"), missing=_("Say why the job is dropped."))


def _versions(job: PottingJob):
    newest = [mix.newest[0] for mix in mixes_in_use() if mix.newest]
    kept = job.mix_version
    if kept is not None and kept.pk not in {version.pk for version in newest}:
        newest.append(kept)
    return newest
