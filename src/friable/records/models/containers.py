"""Pots, pans, cells, baskets and trays of this place."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import DEPTH_CM, LITRES, SIDE_CM, amount, kept_within
from friable.records.models.names import filled, name_column, note_column, unique_name
from friable.records.signature import signed_history
from friable.science.containers import ROUND_SHAPES, SHAPES


class Container(models.Model):
    """Inside measures of a container, and the headspace it is usually filled to.

    A round container gives its diameter as length and as width. `measured_volume_l` is what the latest
    pot volume measured here says; it is set by the measurement, never typed.
    """

    name = name_column()
    shape = models.CharField(_("shape"), max_length=10, choices=[(shape, shape) for shape in SHAPES])
    top_length_cm = amount(_("top length or diameter inside [cm]"), SIDE_CM)
    top_width_cm = amount(_("top width inside [cm]"), SIDE_CM)
    bottom_length_cm = amount(_("bottom length or diameter inside [cm]"), SIDE_CM)
    bottom_width_cm = amount(_("bottom width inside [cm]"), SIDE_CM)
    height_cm = amount(_("height inside [cm]"), SIDE_CM)
    headspace_cm = amount(_("usual headspace [cm]"), DEPTH_CM, default=0.0)
    measured_volume_l = amount(_("volume to the brim measured here [L]"), LITRES, null=True, blank=True)
    in_use = models.BooleanField(_("in use here"), default=True)
    note = note_column()
    history = signed_history()

    class Meta:
        ordering = ["name"]
        constraints = [
            unique_name("container", message=_("Another container has this name; choose another.")),
            filled("container", "name"),
            models.CheckConstraint(condition=Q(shape__in=SHAPES), name="container_shape_known"),
            *kept_within(
                "container",
                top_length_cm=SIDE_CM,
                top_width_cm=SIDE_CM,
                bottom_length_cm=SIDE_CM,
                bottom_width_cm=SIDE_CM,
                height_cm=SIDE_CM,
                headspace_cm=DEPTH_CM,
                measured_volume_l=LITRES,
            ),
            models.CheckConstraint(
                condition=Q(headspace_cm__lt=F("height_cm")),
                name="container_headspace_below_height",
                violation_error_message=_("The headspace must be less than the height."),
            ),
            models.CheckConstraint(
                condition=~Q(shape__in=ROUND_SHAPES)
                | Q(top_length_cm=F("top_width_cm"), bottom_length_cm=F("bottom_width_cm")),
                name="container_round_is_round",
                violation_error_message=_("A round container has one diameter at each end."),
            ),
        ]

    def __str__(self):
        return self.name
