"""The records: what is kept of materials, mixes, containers, jobs and batches."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class RecordsConfig(AppConfig):
    """The app that owns the database."""

    name = "friable.records"
    label = "records"
    verbose_name = _("records")
    default_auto_field = "django.db.models.BigAutoField"
