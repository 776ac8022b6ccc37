"""What the keeper asks of the media of a plant group: windows over those of the table."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import Within, kept_within
from friable.records.models.added import Added
from friable.records.models.names import filled, initials_column, note_column
from friable.records.signature import signed_history

# Quantities that are shares of the whole; the others are in units of their own.
SHARES = (
    "air_space", "container_capacity", "total_porosity", "available_water", "easily_available_water",
    "mineral_share", "peat_share",
)  # fmt: skip
LEVEL = Within(0.0, 10_000.0)


class GroupWindow(Added):
    """A window that the keeper set for one quantity and one plant group of the table, from a day on.

    The newest row of a group and quantity counts. A row without ends and without allowed words says that
    nothing is asked here; a `removed` one, that the window of the table holds again, if there is one.
    """

    group = models.CharField(_("plant group"), max_length=80)
    quantity = models.CharField(_("quantity"), max_length=40)
    low = models.FloatField(_("lowest"), null=True, blank=True, validators=[LEVEL])
    high = models.FloatField(_("highest"), null=True, blank=True, validators=[LEVEL])
    allowed = models.CharField(_("allowed"), max_length=200, blank=True, default="")
    removed = models.BooleanField(_("taken away"), default=False)
    set_on = models.DateField(_("set on"))
    set_by = initials_column(_("set by"))
    entered_at = models.DateTimeField(_("entered at"), default=timezone.now)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["group", "quantity", "-set_on", "-pk"]
        indexes = [models.Index(fields=["group", "quantity", "-set_on", "-id"], name="groupwindow_newest")]
        constraints = [
            filled("groupwindow", "group"),
            filled("groupwindow", "quantity"),
            filled("groupwindow", "set_by"),
            *kept_within("groupwindow", low=LEVEL, high=LEVEL),
            models.CheckConstraint(
                condition=Q(low__isnull=True) | Q(high__isnull=True) | Q(low__lte=F("high")),
                name="groupwindow_low_below_high",
                violation_error_message=_("The lowest is above the highest; change one of them."),
            ),
            models.CheckConstraint(
                condition=~Q(quantity__in=SHARES)
                | ((Q(low__isnull=True) | Q(low__lte=1)) & (Q(high__isnull=True) | Q(high__lte=1))),
                name="groupwindow_share_at_most_1",
                violation_error_message=_("A share is at most 100 %; change what is above it."),
            ),
            models.CheckConstraint(
                condition=Q(allowed="") | Q(low__isnull=True, high__isnull=True),
                name="groupwindow_ends_or_words",
            ),
            models.CheckConstraint(
                condition=Q(removed=False) | Q(low__isnull=True, high__isnull=True, allowed=""),
                name="groupwindow_removed_is_empty",
            ),
        ]

    def __str__(self):
        return f"{self.group}, {self.quantity}"

    @property
    def asks_nothing(self):
        """True if the keeper says that nothing is asked of this quantity."""
        return not self.removed and self.low is None and self.high is None and not self.allowed

    @property
    def allowed_words(self):
        """The words that are allowed, one by one."""
        return tuple(word.strip() for word in self.allowed.split(";") if word.strip())
