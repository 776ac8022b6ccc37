"""What happened to a batch, in the order in which it was written down."""

from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _

from friable.records.models import Batch


@dataclass(frozen=True, slots=True)
class Change:
    """One change: when it was entered, by whom, what it was."""

    when: datetime
    by: str
    what: str


def history_of(batch: Batch) -> list[Change]:
    """Return the changes of a batch, oldest first."""
    words = {"planned": _("planned"), "made": _("written down as made"), "undone": _("undone")}
    return [
        Change(row.history_date, row.changed_by, words.get(row.state, row.state))
        for row in batch.history.order_by("history_date", "history_id")
    ]
