"""Who did it: the initials under which a change enters the history.

There are no accounts. An act is signed with initials; every row of history that is written while the
act runs carries them in its column `changed_by` (read it as `row.changed_by`).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from django.db import models
from simple_history.models import HistoricalRecords

from friable.records.text import LONGEST_INITIALS

_signed_by: ContextVar[str] = ContextVar("signed_by", default="")


@contextmanager
def signed(initials: str) -> Iterator[None]:
    """Sign every change of the enclosed block with these initials."""
    token = _signed_by.set(initials)
    try:
        yield
    finally:
        _signed_by.reset(token)


class Signed(models.Model):
    """A row of history that says whose initials it carries."""

    class Meta:
        abstract = True

    @property
    def changed_by(self) -> str:
        """Initials of who changed the row; empty where no act was signed."""
        return self.history_user_id


def signed_history(**options) -> HistoricalRecords:
    """Return the history of a model, signed with initials instead of an account."""
    return HistoricalRecords(
        **options,
        bases=[Signed],
        history_user_id_field=models.CharField(
            max_length=LONGEST_INITIALS, blank=True, db_column="changed_by"
        ),
        history_user_getter=lambda row: row.history_user_id,
        history_user_setter=_set_signature,
        get_user=_signature,
        history_change_reason_field=models.TextField(null=True),
    )


def _signature(**_anything) -> str:
    return _signed_by.get()


def _set_signature(row, initials) -> None:
    row.history_user_id = initials or ""
