"""What was measured here, with a bucket, a jug and a scale."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import DENSITY_G_CM3, DEPTH_CM, LITRES, LITRES_OR_NONE, amount, kept_within
from friable.records.models.containers import Container
from friable.records.models.materials import Material
from friable.records.models.mixes import MixVersion
from friable.records.models.names import filled, initials_column, name_column, note_column
from friable.records.models.packs import Pack
from friable.records.signature import signed_history

PACK_YIELD = "pack yield"
MIX_VOLUME = "mix volume"
POT_VOLUME = "pot volume"
DRY_BULK_DENSITY = "dry bulk density"
POT_TEST = "pot test"
KINDS = {
    PACK_YIELD: _("loose litres out of one pack"),
    MIX_VOLUME: _("volume of two materials mixed"),
    POT_VOLUME: _("volume of a container to the brim"),
    DRY_BULK_DENSITY: _("dry bulk density of a material"),
    POT_TEST: _("pot test"),
}

# Kind -> columns it must fill, columns it may fill. Every other one of ALL stays empty.
MUST = {
    PACK_YIELD: ("pack", "loose_l"),
    MIX_VOLUME: ("material", "other_material", "material_l", "other_material_l", "mixed_l"),
    POT_VOLUME: ("container", "brim_l"),
    DRY_BULK_DENSITY: ("material", "dry_bulk_density_g_cm3"),
    POT_TEST: ("container", "headspace_cm", "water_in_l", "drained_l"),
}
MAY = {
    PACK_YIELD: (),
    MIX_VOLUME: (),
    POT_VOLUME: (),
    DRY_BULK_DENSITY: ("dry_bulk_density_low_g_cm3", "dry_bulk_density_high_g_cm3"),
    POT_TEST: ("material", "mix_version"),
}
ALL = tuple(sorted({column for columns in (*MUST.values(), *MAY.values()) for column in columns}))


def _kind_fills(kind):
    must = {f"{column}__isnull": False for column in MUST[kind]}
    empty = {f"{column}__isnull": True for column in ALL if column not in MUST[kind] + MAY[kind]}
    return Q(kind=kind, **must, **empty)


class Measurement(models.Model):
    """One measurement. A wrong one is withdrawn with its reason; it is not erased."""

    kind = models.CharField(_("kind"), max_length=20, choices=list(KINDS.items()))
    material = models.ForeignKey(
        Material,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="measurements",
        verbose_name=_("material"),
    )
    other_material = models.ForeignKey(
        Material, models.PROTECT, null=True, blank=True, related_name="+", verbose_name=_("other material")
    )
    pack = models.ForeignKey(
        Pack, models.PROTECT, null=True, blank=True, related_name="measurements", verbose_name=_("pack")
    )
    container = models.ForeignKey(
        Container,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="measurements",
        verbose_name=_("container"),
    )
    mix_version = models.ForeignKey(
        MixVersion, models.PROTECT, null=True, blank=True, related_name="measurements", verbose_name=_("mix")
    )
    lot = name_column(_("lot"), blank=True, default="")
    loose_l = amount(_("loose volume out of one pack [L]"), LITRES, null=True, blank=True)
    material_l = amount(_("volume of the material [L]"), LITRES, null=True, blank=True)
    other_material_l = amount(_("volume of the other material [L]"), LITRES, null=True, blank=True)
    mixed_l = amount(_("volume after mixing [L]"), LITRES, null=True, blank=True)
    brim_l = amount(_("volume to the brim [L]"), LITRES, null=True, blank=True)
    dry_bulk_density_g_cm3 = amount(_("dry bulk density [g/cm3]"), DENSITY_G_CM3, null=True, blank=True)
    dry_bulk_density_low_g_cm3 = amount(
        _("lowest dry bulk density [g/cm3]"), DENSITY_G_CM3, null=True, blank=True
    )
    dry_bulk_density_high_g_cm3 = amount(
        _("highest dry bulk density [g/cm3]"), DENSITY_G_CM3, null=True, blank=True
    )
    headspace_cm = amount(_("headspace [cm]"), DEPTH_CM, null=True, blank=True)
    water_in_l = amount(_("water to saturate [L]"), LITRES, null=True, blank=True)
    drained_l = amount(_("water drained [L]"), LITRES_OR_NONE, null=True, blank=True)
    done_by = initials_column(_("measured by"))
    done_at = models.DateTimeField(_("measured at"))
    entered_at = models.DateTimeField(_("entered at"), default=timezone.now)
    note = note_column()
    withdrawn_by = initials_column(_("withdrawn by"), blank=True, default="")
    withdrawn_at = models.DateTimeField(_("withdrawn at"), null=True, blank=True)
    withdrawn_reason = name_column(_("why it was withdrawn"), blank=True, default="", max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["-done_at", "-pk"]
        indexes = [models.Index(fields=["kind", "done_at"], name="measurement_kind_done")]
        constraints = [
            models.CheckConstraint(
                condition=Q(*[_kind_fills(kind) for kind in KINDS], _connector=Q.OR),
                name="measurement_kind_fills",
                violation_error_message=_("Fill what this kind of measurement asks for, and nothing else."),
            ),
            filled("measurement", "done_by"),
            *kept_within(
                "measurement",
                loose_l=LITRES,
                material_l=LITRES,
                other_material_l=LITRES,
                mixed_l=LITRES,
                brim_l=LITRES,
                dry_bulk_density_g_cm3=DENSITY_G_CM3,
                dry_bulk_density_low_g_cm3=DENSITY_G_CM3,
                dry_bulk_density_high_g_cm3=DENSITY_G_CM3,
                headspace_cm=DEPTH_CM,
                water_in_l=LITRES,
                drained_l=LITRES_OR_NONE,
            ),
            models.CheckConstraint(
                condition=Q(drained_l__isnull=True) | Q(drained_l__lt=F("water_in_l")),
                name="measurement_drained_below_in",
                violation_error_message=_("The water that drained must be less than the water that went in."),
            ),
            models.CheckConstraint(
                condition=Q(other_material__isnull=True) | ~Q(other_material=F("material")),
                name="measurement_two_materials",
                violation_error_message=_("A mix volume needs two different materials."),
            ),
            models.CheckConstraint(
                condition=Q(dry_bulk_density_low_g_cm3__isnull=True, dry_bulk_density_high_g_cm3__isnull=True)
                | Q(
                    dry_bulk_density_low_g_cm3__isnull=False,
                    dry_bulk_density_high_g_cm3__isnull=False,
                    dry_bulk_density_low_g_cm3__lte=F("dry_bulk_density_g_cm3"),
                    dry_bulk_density_high_g_cm3__gte=F("dry_bulk_density_g_cm3"),
                ),
                name="measurement_density_low_and_high",
                violation_error_message=_(
                    "The lowest density must not be above the measured one, nor the highest below it."
                ),
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_at__isnull=True, withdrawn_by="", withdrawn_reason="")
                | (Q(withdrawn_at__isnull=False) & ~Q(withdrawn_by="") & ~Q(withdrawn_reason="")),
                name="measurement_withdrawn_in_full",
                violation_error_message=_("Say who withdraws the measurement, and why."),
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()}: {self.subject}"

    @property
    def subject(self):
        """Name of what was measured."""
        if self.kind == MIX_VOLUME:
            return f"{self.material} + {self.other_material}"
        if self.kind == POT_TEST:
            filled_with = self.mix_version or self.material
            return f"{filled_with}, {self.container}" if filled_with else str(self.container)
        return str(self.pack or self.container or self.material)
