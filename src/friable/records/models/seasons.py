"""Seasons: a whole collection through a year of weather, worked out in the background."""

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records import text
from friable.records.bounds import DRAWS, WEATHERS, kept_within
from friable.records.models.climates import ClimateFile
from friable.records.models.names import filled, initials_column, name_column, note_column
from friable.records.signature import signed_history

STATES = {
    "waiting": _("waiting"),
    "running": _("running"),
    "stopped": _("stopped"),
    "done": _("done"),
    "failed": _("failed"),
}
LONGEST_COLLECTION = 1_000_000


class Season(models.Model):
    """What was asked for, and how far it is; the numbers stand in its folder."""

    title = name_column(_("title"))
    collection = models.TextField(
        _("collection"), max_length=LONGEST_COLLECTION, validators=[text.pasted_file]
    )
    climate = models.ForeignKey(
        ClimateFile, models.PROTECT, null=True, blank=True, related_name="seasons", verbose_name=_("climate")
    )
    built_in_climate = name_column(_("built-in climate"), blank=True, default="")
    weathers = models.PositiveSmallIntegerField(_("weathers"), validators=[WEATHERS])
    draws = models.PositiveSmallIntegerField(_("draws"), validators=[DRAWS])
    pots = models.PositiveIntegerField(_("pots"))
    folder = models.CharField(_("folder"), max_length=80)
    state = models.CharField(_("state"), max_length=10, choices=list(STATES.items()), default="waiting")
    problem = models.CharField(_("what went wrong"), max_length=400, blank=True, default="")
    asked_by = initials_column(_("asked by"))
    asked_at = models.DateTimeField(_("asked at"), default=timezone.now)
    ended_at = models.DateTimeField(_("ended at"), null=True, blank=True)
    note = note_column()
    history = signed_history(excluded_fields=["collection"])

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            filled("season", "title"),
            filled("season", "collection"),
            filled("season", "asked_by"),
            filled("season", "folder"),
            models.UniqueConstraint(fields=["folder"], name="season_folder_once"),
            models.CheckConstraint(condition=Q(state__in=STATES), name="season_state_known"),
            models.CheckConstraint(
                condition=(Q(climate__isnull=False) & Q(built_in_climate=""))
                | (Q(climate__isnull=True) & ~Q(built_in_climate="")),
                name="season_one_climate",
                violation_error_message=_("A season has one climate: a stored one or a built-in one."),
            ),
            models.CheckConstraint(
                condition=(Q(state="failed") & ~Q(problem="")) | (~Q(state="failed") & Q(problem="")),
                name="season_failed_says_why",
                violation_error_message=_("A season that failed says why; any other has nothing to say."),
            ),
            models.CheckConstraint(
                condition=Q(state="done", ended_at__isnull=False) | ~Q(state="done"),
                name="season_done_says_when",
            ),
            *kept_within("season", weathers=WEATHERS, draws=DRAWS),
        ]

    def __str__(self):
        return self.title

    @property
    def climate_name(self):
        """Name of its climate."""
        return self.climate.name if self.climate_id else self.built_in_climate
