"""Potting jobs: these plants, out of these containers, into those."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from friable.records.bounds import DEPTH_CM, LITRES, MOISTURE, OVERAGE, POTS, SHARE_LOST, amount, kept_within
from friable.records.models.containers import Container
from friable.records.models.equipment import Bucket, Mixer, Scale
from friable.records.models.materials import Material
from friable.records.models.mixes import MixVersion
from friable.records.models.names import filled, initials_column, name_column, note_column
from friable.records.signature import signed_history

MEANINGS = {"wet-mass": _("the wet mass"), "water-to-dry": _("the dry mass")}
STEPS = ("pots", "mix", "amounts", "batch")
STATES = {
    "draft": _("being prepared"),
    "planned": _("batch planned"),
    "mixed": _("mixed"),
    "potted": _("potted"),
    "dropped": _("dropped"),
}
ROOTS = {
    "root ball": _("root ball of the old pot"),
    "bare root": _("bare root"),
    "none": _("no roots yet"),
}


class PottingJob(models.Model):
    """One potting job. `litres_l` stands in place of pots where only a volume is asked for."""

    title = name_column(_("title"))
    state = models.CharField(_("state"), max_length=10, choices=list(STATES.items()), default="draft")
    step = models.CharField(
        _("step"), max_length=10, choices=[(step, step) for step in STEPS], default="pots"
    )
    mix_version = models.ForeignKey(
        MixVersion, models.PROTECT, null=True, blank=True, related_name="jobs", verbose_name=_("mix")
    )
    litres_l = amount(_("litres asked for [L]"), LITRES, null=True, blank=True)
    overage = amount(_("overage"), OVERAGE, default=0.05)
    settling = amount(_("settling"), SHARE_LOST, default=0.0)
    shrinkage = amount(_("shrinkage"), SHARE_LOST, null=True, blank=True)
    moisture_now = amount(_("moisture now"), MOISTURE, null=True, blank=True)
    moisture_wanted = amount(_("moisture wanted"), MOISTURE, null=True, blank=True)
    moisture_meaning = models.CharField(
        _("moisture is per cent of"), max_length=12, choices=list(MEANINGS.items()), default="wet-mass"
    )
    bucket = models.ForeignKey(
        Bucket, models.PROTECT, null=True, blank=True, related_name="jobs", verbose_name=_("bucket")
    )
    mixer = models.ForeignKey(
        Mixer, models.PROTECT, null=True, blank=True, related_name="jobs", verbose_name=_("mixer")
    )
    scale = models.ForeignKey(
        Scale, models.PROTECT, null=True, blank=True, related_name="jobs", verbose_name=_("scale")
    )
    due_on = models.DateField(_("due on"), null=True, blank=True)
    note = note_column()
    cloned_from = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="clones")
    created_by = initials_column(_("started by"))
    created_at = models.DateTimeField(_("started at"), default=timezone.now)
    changed_at = models.DateTimeField(_("changed at"), default=timezone.now)
    dropped_reason = name_column(_("why it was dropped"), blank=True, default="", max_length=400)
    history = signed_history()

    class Meta:
        ordering = ["-changed_at", "-pk"]
        indexes = [models.Index(fields=["state", "due_on"], name="job_state_due")]
        constraints = [
            filled("job", "title"),
            filled("job", "created_by"),
            models.CheckConstraint(condition=Q(state__in=list(STATES)), name="job_state_known"),
            models.CheckConstraint(condition=Q(step__in=STEPS), name="job_step_known"),
            models.CheckConstraint(
                condition=Q(state__in=["draft", "dropped"]) | Q(mix_version__isnull=False),
                name="job_planned_has_mix",
                violation_error_message=_("Choose a mix before the batch is planned."),
            ),
            models.CheckConstraint(
                condition=(Q(state="dropped") & ~Q(dropped_reason=""))
                | (~Q(state="dropped") & Q(dropped_reason="")),
                name="job_dropped_says_why",
                violation_error_message=_("Say why the job is dropped."),
            ),
            models.CheckConstraint(
                condition=Q(cloned_from__isnull=True) | ~Q(cloned_from=F("id")), name="job_not_its_own_clone"
            ),
            models.CheckConstraint(
                condition=Q(moisture_now__isnull=True, moisture_wanted__isnull=True)
                | Q(moisture_now__isnull=False, moisture_wanted__isnull=False),
                name="job_moistures_together",
                violation_error_message=_("Give the moisture now and the moisture wanted, or neither."),
            ),
            models.CheckConstraint(
                condition=Q(moisture_meaning__in=list(MEANINGS)), name="job_moisture_meaning_known"
            ),
            *kept_within(
                "job",
                litres_l=LITRES,
                overage=OVERAGE,
                settling=SHARE_LOST,
                shrinkage=SHARE_LOST,
                moisture_now=MOISTURE,
                moisture_wanted=MOISTURE,
            ),
        ]

    def __str__(self):
        return self.title

    @property
    def is_open(self):
        """True while pots, mix and amounts may still change."""
        return self.state in ("draft", "planned")


class JobLine(models.Model):
    """So many of one container, and what the plants stand in before."""

    job = models.ForeignKey(PottingJob, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(_("position"))
    container = models.ForeignKey(Container, models.PROTECT, related_name="job_lines", verbose_name=_("into"))
    count = models.PositiveIntegerField(_("how many"), validators=[POTS])
    headspace_cm = amount(_("headspace [cm]"), DEPTH_CM, default=0.0)
    potted_from = models.ForeignKey(
        Container, models.PROTECT, null=True, blank=True, related_name="+", verbose_name=_("out of")
    )
    potted_from_headspace_cm = amount(_("headspace of the old pot [cm]"), DEPTH_CM, default=0.0)
    root = models.CharField(_("roots"), max_length=10, choices=list(ROOTS.items()), default="none")
    drainage_layer_cm = amount(_("drainage layer [cm]"), DEPTH_CM, default=0.0)
    layer_material = models.ForeignKey(
        Material, models.PROTECT, null=True, blank=True, related_name="+", verbose_name=_("layer of")
    )
    history = signed_history()

    class Meta:
        ordering = ["job", "position"]
        constraints = [
            models.UniqueConstraint(fields=["job", "position"], name="jobline_position_once"),
            models.CheckConstraint(condition=Q(root__in=list(ROOTS)), name="jobline_root_known"),
            models.CheckConstraint(
                condition=~Q(root="root ball") | Q(potted_from__isnull=False),
                name="jobline_root_ball_has_pot",
                violation_error_message=_("Say which pot the root balls come from, or choose bare root."),
            ),
            models.CheckConstraint(
                condition=Q(layer_material__isnull=True) | Q(drainage_layer_cm__gt=0),
                name="jobline_layer_has_depth",
                violation_error_message=_(
                    "Give the drainage layer a depth above 0 cm, or leave its material out."
                ),
            ),
            *kept_within(
                "jobline",
                count=POTS,
                headspace_cm=DEPTH_CM,
                potted_from_headspace_cm=DEPTH_CM,
                drainage_layer_cm=DEPTH_CM,
            ),
        ]

    def __str__(self):
        return f"{self.count} × {self.container}"


class JobDraft(models.Model):
    """What was typed into one step, as it was typed, so that nothing is lost before it is valid."""

    job = models.ForeignKey(PottingJob, models.CASCADE, related_name="drafts")
    step = models.CharField(_("step"), max_length=10, choices=[(step, step) for step in STEPS])
    typed = models.JSONField(_("as typed"), default=dict, blank=True)  # only ever shown back
    saved_at = models.DateTimeField(_("saved at"), default=timezone.now)
    history = signed_history()

    class Meta:
        ordering = ["job", "step"]
        constraints = [
            models.UniqueConstraint(fields=["job", "step"], name="jobdraft_step_once"),
            models.CheckConstraint(condition=Q(step__in=STEPS), name="jobdraft_step_known"),
        ]

    def __str__(self):
        return f"{self.job}, {self.step}"
