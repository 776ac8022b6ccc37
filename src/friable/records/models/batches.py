"""Batches: a mix made once, as it was really made."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records.batch_codes import batch_code
from friable.records.bounds import (
    DAYS,
    GRAMS_OR_NONE,
    LITRES,
    LITRES_OR_NONE,
    MOISTURE,
    PARTS,
    RATE_G_PER_L,
    SHARE_LOST,
    Within,
    amount,
    kept_within,
)
from friable.records.models.jobs import MEANINGS, PottingJob
from friable.records.models.materials import Material
from friable.records.models.mixes import MixVersion
from friable.records.models.names import filled, initials_column, name_column, note_column
from friable.records.parts import written
from friable.records.signature import signed_history

STATES = {"planned": _("planned"), "made": _("made"), "undone": _("undone")}
TREATED = {"yes": _("treated"), "no": _("not treated"), "unknown": _("not known")}
_YEARS = Within(2000, 2099)
_NUMBERS = Within(1, 19**4)


class Batch(models.Model):
    """One batch. Its lines are a snapshot: names and parts as they were, whatever becomes of the recipe.

    `made_at` is when it was mixed, `entered_at` when that was written down. A wrong batch is undone with
    its reason and stays; the batch that stands in its place says which one it `corrects`.
    """

    year = models.PositiveSmallIntegerField(_("year"), validators=[_YEARS])
    number = models.PositiveIntegerField(_("number in the year"), validators=[_NUMBERS])
    code = models.CharField(_("code"), max_length=12, unique=True)
    job = models.ForeignKey(PottingJob, models.PROTECT, null=True, blank=True, related_name="batches")
    mix_version = models.ForeignKey(MixVersion, models.PROTECT, related_name="batches", verbose_name=_("mix"))
    mix_name = name_column(_("mix as named then"))
    top_dressing = name_column(_("top dressing"), blank=True, default="")
    not_for = name_column(_("not for"), blank=True, default="", max_length=400)
    use_within_days = models.PositiveIntegerField(
        _("to be used within [days]"), null=True, blank=True, validators=[DAYS]
    )
    state = models.CharField(_("state"), max_length=10, choices=list(STATES.items()), default="planned")
    planned_l = amount(_("finished volume planned [L]"), LITRES)
    poured_l = amount(_("sum of parts planned [L]"), LITRES)
    shrinkage = amount(_("shrinkage reckoned with"), SHARE_LOST, null=True, blank=True)
    moisture_now = amount(_("moisture now"), MOISTURE, null=True, blank=True)
    moisture_wanted = amount(_("moisture wanted"), MOISTURE, null=True, blank=True)
    moisture_meaning = models.CharField(
        _("moisture is per cent of"), max_length=12, choices=list(MEANINGS.items()), default="wet-mass"
    )
    water_l = amount(_("water to add [L]"), LITRES_OR_NONE, null=True, blank=True)
    water_low_l = amount(_("water to add, at least [L]"), LITRES_OR_NONE, null=True, blank=True)
    water_high_l = amount(_("water to add, at most [L]"), LITRES_OR_NONE, null=True, blank=True)
    planned_by = initials_column(_("planned by"))
    planned_at = models.DateTimeField(_("planned at"), default=timezone.now)
    made_l = amount(_("finished volume made [L]"), LITRES, null=True, blank=True)
    made_by = initials_column(_("made by"), blank=True, default="")
    made_at = models.DateTimeField(_("made at"), null=True, blank=True)
    entered_at = models.DateTimeField(_("entered at"), null=True, blank=True)
    treated = models.CharField(_("treated"), max_length=10, choices=list(TREATED.items()), default="unknown")
    undone_by = initials_column(_("undone by"), blank=True, default="")
    undone_at = models.DateTimeField(_("undone at"), null=True, blank=True)
    undo_reason = name_column(_("why it was undone"), blank=True, default="", max_length=400)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by", verbose_name=_("corrects")
    )
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["-year", "-number"]
        verbose_name_plural = "batches"
        indexes = [models.Index(fields=["state", "made_at"], name="batch_state_made")]
        constraints = [
            models.UniqueConstraint(fields=["year", "number"], name="batch_number_once"),
            filled("batch", "code"),
            filled("batch", "mix_name"),
            filled("batch", "planned_by"),
            models.CheckConstraint(condition=Q(state__in=list(STATES)), name="batch_state_known"),
            models.CheckConstraint(condition=Q(treated__in=list(TREATED)), name="batch_treated_known"),
            models.CheckConstraint(
                condition=Q(made_at__isnull=True, entered_at__isnull=True, made_l__isnull=True, made_by="")
                | (Q(made_at__isnull=False, entered_at__isnull=False, made_l__isnull=False) & ~Q(made_by="")),
                name="batch_made_in_full",
                violation_error_message=_(
                    "A made batch needs its litres, its initials and when it was made."
                ),
            ),
            models.CheckConstraint(
                condition=~Q(state="made") | Q(made_at__isnull=False), name="batch_made_has_time"
            ),
            models.CheckConstraint(
                condition=~Q(state="planned") | Q(made_at__isnull=True), name="batch_planned_not_made"
            ),
            models.CheckConstraint(
                condition=(Q(state="undone", undone_at__isnull=False) & ~Q(undone_by="") & ~Q(undo_reason=""))
                | (~Q(state="undone") & Q(undone_at__isnull=True, undone_by="", undo_reason="")),
                name="batch_undone_in_full",
                violation_error_message=_("Say who undoes the batch, and why."),
            ),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(corrects=F("id")), name="batch_not_its_own_correction"
            ),
            models.CheckConstraint(
                condition=Q(
                    water_l__isnull=True,
                    water_low_l__isnull=True,
                    water_high_l__isnull=True,
                    moisture_now__isnull=True,
                    moisture_wanted__isnull=True,
                )
                | Q(
                    water_l__isnull=False,
                    water_low_l__isnull=False,
                    water_high_l__isnull=False,
                    moisture_now__isnull=False,
                    moisture_wanted__isnull=False,
                ),
                name="batch_water_in_full",
            ),
            models.CheckConstraint(
                condition=Q(moisture_meaning__in=list(MEANINGS)), name="batch_moisture_meaning_known"
            ),
            *kept_within(
                "batch",
                year=_YEARS,
                number=_NUMBERS,
                planned_l=LITRES,
                poured_l=LITRES,
                made_l=LITRES,
                shrinkage=SHARE_LOST,
                use_within_days=DAYS,
                moisture_now=MOISTURE,
                moisture_wanted=MOISTURE,
                water_l=LITRES_OR_NONE,
                water_low_l=LITRES_OR_NONE,
                water_high_l=LITRES_OR_NONE,
            ),
        ]

    def __str__(self):
        return self.code

    def save(self, *args, **kwargs):
        """Save the batch; its code follows from year and number."""
        self.code = batch_code(self.year, self.number)
        super().save(*args, **kwargs)


class BatchLine(models.Model):
    """One component as it goes into one stage: planned, and what was really put in."""

    batch = models.ForeignKey(Batch, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(_("position"))
    stage = name_column(_("stage"))
    name = name_column()
    material = models.ForeignKey(
        Material,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="batch_lines",
        verbose_name=_("material"),
    )
    is_mix = models.BooleanField(_("is itself a mix"), default=False)
    parts = models.DecimalField(_("parts by volume"), max_digits=11, decimal_places=6, validators=[PARTS])
    state = models.CharField(_("measured"), max_length=20)
    planned_l = amount(_("planned [L]"), LITRES)
    put_in_l = amount(_("put in [L]"), LITRES_OR_NONE, null=True, blank=True)
    history = signed_history()

    class Meta:
        ordering = ["batch", "position"]
        constraints = [
            models.UniqueConstraint(fields=["batch", "position"], name="batchline_position_once"),
            filled("batchline", "stage"),
            filled("batchline", "name"),
            models.CheckConstraint(
                condition=Q(is_mix=False) | Q(material__isnull=True), name="batchline_mix_is_no_material"
            ),
            *kept_within("batchline", parts=PARTS, planned_l=LITRES, put_in_l=LITRES_OR_NONE),
        ]

    def __str__(self):
        return f"{self.name} {self.planned_l:g} L"

    @property
    def written_parts(self):
        """Parts as text: `5`, `3.3`, `1/3`."""
        return written(self.parts)


class BatchAmendment(models.Model):
    """A small addition as it goes into one stage: planned, and what was really put in."""

    batch = models.ForeignKey(Batch, models.CASCADE, related_name="amendments")
    position = models.PositiveSmallIntegerField(_("position"))
    stage = name_column(_("stage"))
    name = name_column()
    rate_g_per_l = amount(_("rate [g/L]"), RATE_G_PER_L)
    caution = name_column(_("caution"), blank=True, default="", max_length=400)
    planned_g = amount(_("planned [g]"), GRAMS_OR_NONE)
    put_in_g = amount(_("put in [g]"), GRAMS_OR_NONE, null=True, blank=True)
    history = signed_history()

    class Meta:
        ordering = ["batch", "position"]
        constraints = [
            models.UniqueConstraint(fields=["batch", "position"], name="batchamendment_position_once"),
            filled("batchamendment", "name"),
            *kept_within(
                "batchamendment", rate_g_per_l=RATE_G_PER_L, planned_g=GRAMS_OR_NONE, put_in_g=GRAMS_OR_NONE
            ),
        ]

    def __str__(self):
        return f"{self.name} {self.planned_g:g} g"


class BatchCaution(models.Model):
    """A caution of the recipe as it stood when the batch was planned."""

    batch = models.ForeignKey(Batch, models.CASCADE, related_name="cautions")
    position = models.PositiveSmallIntegerField(_("position"))
    text = name_column(_("caution"), max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["batch", "position"]
        constraints = [
            models.UniqueConstraint(fields=["batch", "position"], name="batchcaution_position_once"),
            filled("batchcaution", "text"),
        ]

    def __str__(self):
        return self.text
