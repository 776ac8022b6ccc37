"""Rows that are only ever added: a correction is a new row, the newest one counts."""

from django.db import models

from friable.errors import Refused
from friable.wording import gettext as _


class Added(models.Model):
    """A row that stays as it was written."""

    class Meta:
        abstract = True

    def save(self, *args, **options):
        """Write the row down once."""
        if not self._state.adding:
            raise Refused(_("What was written down stays as it is; write a new one down instead."))
        super().save(*args, **options)

    def delete(self, *_args, **_options):
        """Refuse: what was written down stays."""
        raise Refused(_("What was written down stays; write a new one down instead."))
