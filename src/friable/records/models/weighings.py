"""A watered pot weighed twice: what it lost between is what its plant and its surface use."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import DEPTH_CM, MASS_KG, REFERENCE_MM, USE_FACTOR, amount, kept_within
from friable.records.models.climates import ClimateFile
from friable.records.models.containers import Container
from friable.records.models.mixes import MixVersion
from friable.records.models.names import filled, initials_column, name_column, note_column
from friable.records.signature import signed_history


class PotWeighing(models.Model):
    """Two weighings of one pot. A wrong one is withdrawn with its reason; it is not erased.

    The factor is multiples of the reference loss over the top of the pot. It holds for this mix or recipe in
    this container with this plant.
    """

    mix_version = models.ForeignKey(
        MixVersion, models.PROTECT, null=True, blank=True, related_name="weighings", verbose_name=_("mix")
    )
    recipe_text = models.CharField(_("recipe"), max_length=2000, blank=True, default="")
    container = models.ForeignKey(
        Container, models.PROTECT, related_name="weighings", verbose_name=_("container")
    )
    headspace_cm = amount(_("headspace [cm]"), DEPTH_CM)
    plant = name_column(_("plant"), blank=True, default="")
    climate = models.ForeignKey(
        ClimateFile,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="weighings",
        verbose_name=_("climate"),
    )
    climate_name = name_column(_("climate between the weighings"))
    first_kg = amount(_("first weighing [kg]"), MASS_KG)
    first_at = models.DateTimeField(_("first weighed at"))
    second_kg = amount(_("second weighing [kg]"), MASS_KG)
    second_at = models.DateTimeField(_("weighed again at"))
    reference_mm = amount(_("reference loss between the weighings [mm]"), REFERENCE_MM)
    factor = amount(_("factor of use"), USE_FACTOR)
    factor_low = amount(_("lowest factor of use"), USE_FACTOR)
    factor_high = amount(_("highest factor of use"), USE_FACTOR)
    done_by = initials_column(_("weighed by"))
    entered_at = models.DateTimeField(_("entered at"), default=timezone.now)
    note = note_column()
    withdrawn_by = initials_column(_("withdrawn by"), blank=True, default="")
    withdrawn_at = models.DateTimeField(_("withdrawn at"), null=True, blank=True)
    withdrawn_reason = name_column(_("why it was withdrawn"), blank=True, default="", max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["-second_at", "-pk"]
        constraints = [
            filled("potweighing", "done_by"),
            filled("potweighing", "climate_name"),
            *kept_within(
                "potweighing",
                headspace_cm=DEPTH_CM,
                first_kg=MASS_KG,
                second_kg=MASS_KG,
                reference_mm=REFERENCE_MM,
                factor=USE_FACTOR,
                factor_low=USE_FACTOR,
                factor_high=USE_FACTOR,
            ),
            models.CheckConstraint(
                condition=(Q(mix_version__isnull=False) & Q(recipe_text=""))
                | (Q(mix_version__isnull=True) & ~Q(recipe_text="")),
                name="potweighing_mix_or_recipe",
                violation_error_message=_("A weighing is of a mix or of a typed recipe, not of both."),
            ),
            models.CheckConstraint(
                condition=Q(second_kg__lt=F("first_kg")),
                name="potweighing_lost_water",
                violation_error_message=_("The second weighing must be lighter than the first."),
            ),
            models.CheckConstraint(
                condition=Q(second_at__gt=F("first_at")),
                name="potweighing_second_later",
                violation_error_message=_("The second weighing must be later than the first."),
            ),
            models.CheckConstraint(
                condition=Q(factor_low__lte=F("factor"), factor_high__gte=F("factor")),
                name="potweighing_low_and_high",
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_at__isnull=True, withdrawn_by="", withdrawn_reason="")
                | (Q(withdrawn_at__isnull=False) & ~Q(withdrawn_by="") & ~Q(withdrawn_reason="")),
                name="potweighing_withdrawn_in_full",
                violation_error_message=_("Say who withdraws the weighing, and why."),
            ),
        ]

    def __str__(self):
        return _("{mix} in {container}, weighed twice").format(mix=self.filled_with, container=self.container)

    @property
    def filled_with(self):
        """What is in the pot."""
        return str(self.mix_version) if self.mix_version_id else self.recipe_text
