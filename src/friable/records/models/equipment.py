"""What stands at the bench: buckets, scales, mixers."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import GRAMS, LITRES, amount, kept_within
from friable.records.models.names import filled, name_column, note_column, unique_name
from friable.records.signature import signed_history


class Bucket(models.Model):
    """A bucket with the line to which it is filled when it measures."""

    name = name_column()
    line_l = amount(_("volume to the line [L]"), LITRES)
    brim_l = amount(_("volume to the brim [L]"), LITRES, null=True, blank=True)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("bucket"),
            filled("bucket", "name"),
            *kept_within("bucket", line_l=LITRES, brim_l=LITRES),
            models.CheckConstraint(
                condition=Q(brim_l__isnull=True) | Q(brim_l__gte=F("line_l")),
                name="bucket_line_below_brim",
                violation_error_message=_("The line must not lie above the brim."),
            ),
        ]

    def __str__(self):
        return self.name


class Scale(models.Model):
    """A scale, with the least it weighs rightly and the most it carries."""

    name = name_column()
    smallest_g = amount(_("least it weighs [g]"), GRAMS)
    largest_g = amount(_("most it carries [g]"), GRAMS, null=True, blank=True)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("scale"),
            filled("scale", "name"),
            *kept_within("scale", smallest_g=GRAMS, largest_g=GRAMS),
            models.CheckConstraint(
                condition=Q(largest_g__isnull=True) | Q(largest_g__gt=F("smallest_g")),
                name="scale_smallest_below_largest",
                violation_error_message=_("The most it carries must be above the least it weighs."),
            ),
        ]

    def __str__(self):
        return self.name


class Mixer(models.Model):
    """A drum, a tarp, a bin: how much it mixes at once."""

    name = name_column()
    working_l = amount(_("working volume [L]"), LITRES)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [unique_name("mixer"), filled("mixer", "name"), *kept_within("mixer", working_l=LITRES)]

    def __str__(self):
        return self.name
