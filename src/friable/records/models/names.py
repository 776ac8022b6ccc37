"""Columns that several models share: names, notes, initials."""

from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from friable.records import text


def name_column(label=None, **options):
    """Return a column for a name: one line, up to 120 characters."""
    options.setdefault("max_length", text.LONGEST_NAME)
    return models.CharField(label or _("name"), validators=[text.one_line], **options)


def note_column(label=None):
    """Return a column for remarks on several lines; empty means none."""
    return models.TextField(
        label or _("note"),
        blank=True,
        default="",
        max_length=text.LONGEST_NOTE,
        validators=[text.several_lines],
    )


def initials_column(label, **options):
    """Return a column for initials."""
    return models.CharField(label, max_length=text.LONGEST_INITIALS, validators=[text.initials], **options)


def unique_name(model, *others, column="name", message=None):
    """Return the constraint that a name is used once, whatever its capitals."""
    return models.UniqueConstraint(
        Lower(column),
        *others,
        name=f"{model}_{column}_once",
        violation_error_message=message or _("This name is taken; choose another, or use what is there."),
    )


def filled(model, column):
    """Return the constraint that a column is not an empty text."""
    return models.CheckConstraint(condition=~models.Q(**{column: ""}), name=f"{model}_{column}_filled")
