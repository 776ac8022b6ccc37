"""What lies in the store, and what it cost: counts and prices."""

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records import text
from friable.records.bounds import LITRES_OR_NONE, Within, amount, kept_within
from friable.records.models.added import Added
from friable.records.models.materials import Material
from friable.records.models.names import filled, initials_column, note_column
from friable.records.signature import signed_history

COST_PER_L = Within(0.0, 10_000.0)
LONGEST_TYPED = 80


def typed_column():
    """Return a column for an amount as it was typed, before it was converted."""
    return models.CharField(
        _("as it was typed"), max_length=LONGEST_TYPED, blank=True, default="", validators=[text.one_line]
    )


class MaterialStock(Added):
    """So much of a material lay here on a day, loose and moist. The newest count is what there is."""

    material = models.ForeignKey(Material, models.PROTECT, related_name="counts", verbose_name=_("material"))
    amount_l = amount(_("amount [L]"), LITRES_OR_NONE)
    typed = typed_column()
    counted_on = models.DateField(_("counted on"))
    counted_by = initials_column(_("counted by"))
    entered_at = models.DateTimeField(_("entered at"), default=timezone.now)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["-counted_on", "-pk"]
        indexes = [models.Index(fields=["material", "-counted_on", "-id"], name="materialstock_newest")]
        constraints = [
            filled("materialstock", "counted_by"),
            *kept_within("materialstock", amount_l=LITRES_OR_NONE),
        ]

    def __str__(self):
        return f"{self.material}: {self.amount_l:g} L"


class MaterialPrice(Added):
    """What a loose litre costs from a day on; without a price it is not known any more."""

    material = models.ForeignKey(Material, models.PROTECT, related_name="prices", verbose_name=_("material"))
    cost_per_l = amount(_("price of a litre"), COST_PER_L, null=True, blank=True)
    currency = models.CharField(
        _("currency"), max_length=8, blank=True, default="", validators=[text.one_line]
    )
    typed = typed_column()
    holds_from = models.DateField(_("holds from"))
    entered_by = initials_column(_("entered by"))
    entered_at = models.DateTimeField(_("entered at"), default=timezone.now)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["-holds_from", "-pk"]
        indexes = [models.Index(fields=["material", "-holds_from", "-id"], name="materialprice_newest")]
        constraints = [
            filled("materialprice", "entered_by"),
            *kept_within("materialprice", cost_per_l=COST_PER_L),
        ]

    def __str__(self):
        if self.cost_per_l is None:
            return _("{material}: price not known").format(material=self.material)
        return f"{self.material}: {self.currency}{self.cost_per_l:g}/L"
