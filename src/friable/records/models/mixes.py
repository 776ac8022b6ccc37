"""Mixes, their versions and lines."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.planning.recipe import STATES, USUAL_STATE
from friable.records.bounds import DAYS, PARTS, RATE_G_PER_L, SHARE_LOST, amount, kept_within
from friable.records.models.materials import Material
from friable.records.models.names import filled, initials_column, name_column, note_column, unique_name
from friable.records.parts import written
from friable.records.signature import signed_history


class Mix(models.Model):
    """A named mix; what is in it stands in its versions."""

    name = name_column()
    plant_group = name_column(_("for which plants"), blank=True, default="")
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "mixes"
        constraints = [
            unique_name(
                "mix", message=_("Another mix has this name; choose another, or write a new version of it.")
            ),
            filled("mix", "name"),
        ]

    def __str__(self):
        return self.name


class MixVersion(models.Model):
    """A mix as it was written at one time. Once a job or a batch uses it, it stays as it is."""

    mix = models.ForeignKey(Mix, models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField(_("version"))
    shrinkage = amount(_("shrinkage measured here"), SHARE_LOST, null=True, blank=True)
    incomplete = models.BooleanField(_("incomplete"), default=False)
    top_dressing = name_column(_("top dressing"), blank=True, default="")
    not_for = name_column(_("not for"), blank=True, default="")
    use_within_days = models.PositiveIntegerField(
        _("to be used within [days]"), null=True, blank=True, validators=[DAYS]
    )
    note = note_column()
    written_by = initials_column(_("written by"))
    written_at = models.DateTimeField(_("written at"), default=timezone.now)
    history = signed_history()

    class Meta:
        ordering = ["mix__name", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["mix", "number"], name="mixversion_number_once"),
            models.CheckConstraint(condition=Q(number__gte=1), name="mixversion_number_from_1"),
            filled("mixversion", "written_by"),
            *kept_within("mixversion", shrinkage=SHARE_LOST, use_within_days=DAYS),
        ]

    def __str__(self):
        return _("{mix}, version {number}").format(mix=self.mix.name, number=self.number)

    @property
    def name(self):
        """Name of the mix."""
        return self.mix.name


class MixLine(models.Model):
    """One component: a material, or another mix in the version it had when this was written."""

    version = models.ForeignKey(MixVersion, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(_("position"))
    material = models.ForeignKey(Material, models.PROTECT, null=True, blank=True, related_name="mix_lines")
    sub_mix = models.ForeignKey(
        MixVersion, models.PROTECT, null=True, blank=True, related_name="contained_in"
    )
    parts = models.DecimalField(_("parts by volume"), max_digits=11, decimal_places=6, validators=[PARTS])
    state = models.CharField(
        _("measured"), max_length=20, choices=[(state, state) for state in STATES], default=USUAL_STATE
    )
    history = signed_history()

    class Meta:
        ordering = ["version", "position"]
        constraints = [
            models.UniqueConstraint(fields=["version", "position"], name="mixline_position_once"),
            models.UniqueConstraint(fields=["version", "material"], name="mixline_material_once"),
            models.UniqueConstraint(fields=["version", "sub_mix"], name="mixline_sub_mix_once"),
            models.CheckConstraint(
                condition=Q(material__isnull=False, sub_mix__isnull=True)
                | Q(material__isnull=True, sub_mix__isnull=False),
                name="mixline_material_or_mix",
                violation_error_message=_("A component is either a material or a mix."),
            ),
            models.CheckConstraint(
                condition=Q(sub_mix__isnull=True) | ~Q(sub_mix=F("version")), name="mixline_not_in_itself"
            ),
            models.CheckConstraint(condition=Q(state__in=STATES), name="mixline_state_known"),
            *kept_within("mixline", parts=PARTS),
        ]

    def __str__(self):
        return f"{written(self.parts)} {self.name}"

    @property
    def written_parts(self):
        """Parts as text: `5`, `3.3`, `1/3`."""
        return written(self.parts)

    @property
    def name(self):
        """Name of the component."""
        return self.material.name if self.material_id else self.sub_mix.name


class MixAmendment(models.Model):
    """A small addition, by litre of finished mix."""

    version = models.ForeignKey(MixVersion, models.CASCADE, related_name="amendments")
    position = models.PositiveSmallIntegerField(_("position"))
    name = name_column()
    rate_g_per_l = amount(_("rate [g/L]"), RATE_G_PER_L)
    low_g_per_l = amount(_("lowest rate [g/L]"), RATE_G_PER_L, null=True, blank=True)
    high_g_per_l = amount(_("highest rate [g/L]"), RATE_G_PER_L, null=True, blank=True)
    typed = name_column(_("as typed"), blank=True, default="")
    caution = name_column(_("caution"), blank=True, default="", max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["version", "position"]
        constraints = [
            models.UniqueConstraint(fields=["version", "position"], name="mixamendment_position_once"),
            unique_name(
                "mixamendment",
                "version",
                message=_("This amendment is listed twice; add the rates together."),
            ),
            filled("mixamendment", "name"),
            *kept_within(
                "mixamendment", rate_g_per_l=RATE_G_PER_L, low_g_per_l=RATE_G_PER_L, high_g_per_l=RATE_G_PER_L
            ),
            models.CheckConstraint(
                condition=Q(low_g_per_l__isnull=True, high_g_per_l__isnull=True)
                | Q(
                    low_g_per_l__isnull=False, high_g_per_l__isnull=False, low_g_per_l__lte=F("high_g_per_l")
                ),
                name="mixamendment_low_and_high",
            ),
        ]

    def __str__(self):
        return f"{self.name} {self.rate_g_per_l:g} g/L"


class MixCaution(models.Model):
    """What to beware of with a mix; part of the recipe."""

    version = models.ForeignKey(MixVersion, models.CASCADE, related_name="cautions")
    position = models.PositiveSmallIntegerField(_("position"))
    text = name_column(_("caution"), max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["version", "position"]
        constraints = [
            models.UniqueConstraint(fields=["version", "position"], name="mixcaution_position_once"),
            filled("mixcaution", "text"),
        ]

    def __str__(self):
        return self.text
