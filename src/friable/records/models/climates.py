"""Weather that was recorded here, or that came as a weather file."""

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records import text
from friable.records.bounds import (
    ELEVATION_M,
    HEATED_TO_C,
    HOURS_OF_WEATHER,
    LATITUDE_DEG,
    SHARE,
    amount,
    kept_within,
)
from friable.records.models.names import filled, initials_column, name_column, note_column, unique_name
from friable.records.signature import signed_history

LOGGER = "logger"
EPW = "EPW"
KINDS = {LOGGER: _("readings of a logger"), EPW: _("weather file (EPW)")}

# A year of readings every five minutes in three columns, or two years of an EPW file.
LONGEST_TEXT = 4_000_000


class ClimateFile(models.Model):
    """A file of weather as it came, with what has to be known to read it. The text never changes.

    Under glass a logger hung in the house; a weather file is brought under the glass of a house that stands
    in it. Without a share of light, `planning.weather_file` takes the usual one.
    """

    name = name_column()
    kind = models.CharField(_("kind"), max_length=10, choices=list(KINDS.items()))
    text = models.TextField(_("text of the file"), max_length=LONGEST_TEXT, validators=[text.pasted_file])
    under_glass = models.BooleanField(_("recorded under glass"), default=False)
    light_transmission = amount(_("share of light that comes through"), SHARE, null=True, blank=True)
    latitude_deg = amount(_("latitude [°]"), LATITUDE_DEG, null=True, blank=True)
    elevation_m = amount(_("elevation [m]"), ELEVATION_M, default=0.0)
    heated_to_c = amount(_("heated to at least [°C]"), HEATED_TO_C, null=True, blank=True)
    starts_on = models.DateField(_("first day"))
    hours = models.PositiveIntegerField(_("hours it covers"), validators=[HOURS_OF_WEATHER])
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    added_by = initials_column(_("added by"))
    added_at = models.DateTimeField(_("added at"), default=timezone.now)
    history = signed_history(excluded_fields=["text"])

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("climatefile", message=_("Another climate has this name; choose another.")),
            filled("climatefile", "name"),
            filled("climatefile", "text"),
            filled("climatefile", "added_by"),
            models.CheckConstraint(condition=Q(kind__in=KINDS), name="climatefile_kind_known"),
            models.CheckConstraint(
                condition=Q(heated_to_c__isnull=True) | Q(kind=EPW, under_glass=True),
                name="climatefile_heated_house",
                violation_error_message=_("Only a house that stands in the weather of a file is heated."),
            ),
            *kept_within(
                "climatefile",
                light_transmission=SHARE,
                latitude_deg=LATITUDE_DEG,
                elevation_m=ELEVATION_M,
                heated_to_c=HEATED_TO_C,
                hours=HOURS_OF_WEATHER,
            ),
        ]

    def __str__(self):
        return self.name

    @property
    def days(self):
        """How many days it covers."""
        return self.hours // 24


class ClimateColumn(models.Model):
    """An answer that was asked once, when the file was added: which column holds what, in which unit.

    `holds` is a key of `planning.logger_columns`, such as “temperature” or “date_order”.
    """

    climate = models.ForeignKey(ClimateFile, models.CASCADE, related_name="columns")
    holds = models.CharField(_("what it holds"), max_length=40)
    answer = models.CharField(_("answer"), max_length=200, validators=[text.one_line])
    history = signed_history()

    class Meta:
        ordering = ["climate", "holds"]
        constraints = [
            models.UniqueConstraint(fields=["climate", "holds"], name="climatecolumn_holds_once"),
            filled("climatecolumn", "holds"),
            filled("climatecolumn", "answer"),
        ]

    def __str__(self):
        return f"{self.holds}: {self.answer}"
