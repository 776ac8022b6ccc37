"""Bags, bales and blocks in which a material is sold."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import LITRES, YIELD, amount, kept_within
from friable.records.models.materials import Material
from friable.records.models.names import filled, name_column, note_column, unique_name
from friable.records.signature import signed_history


class Pack(models.Model):
    """A pack of a material: what it declares, and what it is thought to give until one is measured.

    The yield is loose litres out of one declared litre; for a block sold by mass the declared litres are
    those printed on it.
    """

    material = models.ForeignKey(Material, models.PROTECT, related_name="packs")
    name = name_column()
    declared_l = amount(_("declared volume [L]"), LITRES)
    yield_low = amount(_("lowest yield [L/L]"), YIELD, null=True, blank=True)
    yield_high = amount(_("highest yield [L/L]"), YIELD, null=True, blank=True)
    yield_source = name_column(_("where the yield comes from"), blank=True, default="", max_length=300)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["material", "name"]
        constraints = [
            unique_name("pack", "material", message=_("This material has a pack of that name.")),
            filled("pack", "name"),
            *kept_within("pack", declared_l=LITRES, yield_low=YIELD, yield_high=YIELD),
            models.CheckConstraint(
                condition=Q(yield_low__isnull=True, yield_high__isnull=True)
                | Q(yield_low__isnull=False, yield_high__isnull=False, yield_low__lte=F("yield_high")),
                name="pack_yield_low_and_high",
                violation_error_message=_(
                    "The lowest yield must not be above the highest; give both or neither."
                ),
            ),
        ]

    def __str__(self):
        return f"{self.material}, {self.name}"
