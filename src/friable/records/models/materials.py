"""Materials as this place knows them."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from friable.records.models.names import filled, name_column, note_column, unique_name
from friable.records.signature import signed_history


class Material(models.Model):
    """One thing in one size grade: a row of the reference table, or our own.

    Figures are never copied here. A material rests on the row `table_key` of the table; what was measured
    here lies over it. Our own material without a row has no figures: it can be measured out, not forecast.
    """

    name = name_column()
    table_key = models.CharField(_("row of the table"), max_length=40, blank=True, default="")
    is_own = models.BooleanField(_("our own name for it"), default=True)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("material", message=_("Another material has this name; choose another.")),
            filled("material", "name"),
            models.UniqueConstraint(
                fields=["table_key"], condition=models.Q(is_own=False), name="material_table_row_once"
            ),
            models.CheckConstraint(
                condition=models.Q(is_own=True) | ~models.Q(table_key=""), name="material_own_or_in_table"
            ),
        ]

    def __str__(self):
        return self.name


class MaterialAlias(models.Model):
    """Another word for a material: a trade name, a word of another country."""

    material = models.ForeignKey(Material, models.CASCADE, related_name="aliases")
    name = name_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("alias", message=_("Another material has this alias; choose another.")),
            filled("alias", "name"),
        ]

    def __str__(self):
        return self.name
