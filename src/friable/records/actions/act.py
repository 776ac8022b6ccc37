"""What every act has in common: initials, one transaction, one sentence when it is refused."""

import math
import re
from collections.abc import Iterable
from contextlib import contextmanager
from datetime import timedelta
from functools import wraps
from inspect import signature

from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction
from django.utils import timezone
from simple_history.utils import bulk_create_with_history

from friable.errors import BadQuantity, BadText, FriableError, Refused, shown
from friable.records import text
from friable.records.signature import signed
from friable.wording import gettext as _


def act(verb):
    """Run a verb in one transaction, signed with the keyword `by`, which every act needs.

    A verb that writes the initials down itself names `by` among its own arguments. A clash in the database
    is a refusal.
    """
    writes_initials = "by" in signature(verb).parameters

    @wraps(verb)
    def signed_verb(*args, by, **values):
        by = read_initials(by)
        with refused_as_sentence(), signed(by), transaction.atomic():
            return verb(*args, **values, **({"by": by} if writes_initials else {}))

    return signed_verb


def read_initials(written) -> str:
    """Return initials in capitals, or refuse.

    Raises
    ------
    BadText, Refused
        If there are none, or more than letters and digits.
    """
    by = text.tidy(str(written or "")).upper()
    if not by:
        raise Refused(_("Initials are missing; say whose hand this is, such as “MK”."))
    try:
        text.initials(by)
    except ValidationError as problem:
        raise BadText(_("The initials"), by, problem.messages[0].rstrip(".")) from problem
    return by


@contextmanager
def refused_as_sentence():
    """Turn a rule that the database held up into a refusal, in the words of the rule if it has any."""
    try:
        yield
    except IntegrityError as problem:
        raise Refused(_broken_rule(str(problem))) from problem


def keep(row: models.Model, **changes) -> models.Model:
    """Set the changes, check each column, save the row; rules over several columns are the database's.

    Raises
    ------
    FriableError
        The first thing that is wrong, as one sentence; its `field` names the column.
    """
    for column, value in changes.items():
        setattr(row, column, value)
    check_columns(row)
    row.save()
    return row


def check_columns(row: models.Model) -> None:
    """Tidy the texts of a row and refuse the first column that holds something unfit."""
    _tidy_texts(row)
    columns = row._meta.concrete_fields
    for field in columns:
        if field.is_relation and not field.null and getattr(row, field.attname) is None:
            raise _missing(field)
    try:
        # Whether the row on the other end is there, the database asks anyway.
        row.clean_fields(exclude=[field.name for field in columns if field.is_relation])
    except ValidationError as problem:
        raise sentence(row, problem) from problem


def keep_lines(rows: Iterable[models.Model]) -> list[models.Model]:
    """Check the columns of new rows of one model and save them together, with history."""
    rows = list(rows)
    for row in rows:
        check_columns(row)
    return bulk_create_with_history(rows, type(rows[0])) if rows else []


def refresh(row: models.Model) -> None:
    """Read a row again and hold it until the act is over, so that two hands cannot both change it."""
    row.refresh_from_db(from_queryset=type(row)._default_manager.select_for_update())


def drop(rows: models.QuerySet) -> None:
    """Delete rows one by one, so that each deletion enters the history."""
    for row in rows:
        row.delete()


def refuse_unknown(changes: Iterable[str], allowed: set[str]) -> None:
    """Refuse to change columns that an act does not change."""
    unknown = sorted(set(changes) - allowed)
    if unknown:
        raise Refused(_("{columns} cannot be changed here.").format(columns=", ".join(map(shown, unknown))))


def sentence(row: models.Model, problem: ValidationError) -> FriableError:
    """Return the first column that holds something unfit as a refusal."""
    name, errors = next(iter(problem.error_dict.items()))
    refusal = _of_field(row, row._meta.get_field(name), errors[0])
    refusal.field = name
    return refusal


def _of_field(row, field, error) -> FriableError:
    label = str(field.verbose_name).split(" [")[0]
    value = getattr(row, field.attname)
    if error.code in ("blank", "null"):
        return _missing(field)
    if error.code == "out_of_bounds":
        number = float(value)
        unit = "" if math.isnan(number) else error.params["unit"]
        return BadQuantity(label, number, unit, str(error.params["must_be"]))
    if error.code == "max_length":
        return BadText(
            _capital(label),
            value,
            _("has {length} characters; it may have {most}").format(
                length=len(value), most=error.params["limit_value"]
            ),
        )
    problem = " ".join(error.messages).rstrip(".")
    if error.code == "written":
        return BadText(_capital(label), value, problem)
    return Refused(f"{_capital(label)}: {problem}.")


def _broken_rule(said: str) -> str:
    """Return what a rule of the database wants: by its name, or by its columns where only they are named."""
    for model in apps.get_app_config("records").get_models():
        for rule in model._meta.constraints:
            columns = [
                f"{model._meta.db_table}.{model._meta.get_field(name).column}"
                for name in getattr(rule, "fields", ())
            ]
            if re.search(rf"\b{rule.name}\b", said) or (columns and said.endswith(": " + ", ".join(columns))):
                own_words = rule.violation_error_message != rule.default_violation_error_message
                return rule.get_violation_error_message() if own_words else _disagree(rule.name)
    return _disagree(shown(said.splitlines()[0]))


def _disagree(rule: str) -> str:
    return _("The records would not agree any more ({rule}); look at the page again and repeat.").format(
        rule=rule
    )


def _missing(field) -> FriableError:
    label = _capital(str(field.verbose_name).split(" [")[0])
    refusal = Refused(_("{label} is missing; fill it in.").format(label=label))
    refusal.field = field.name
    return refusal


def _capital(label: str) -> str:
    return label[:1].upper() + label[1:]


def _tidy_texts(row) -> None:
    for field in row._meta.concrete_fields:
        value = getattr(row, field.attname)
        if isinstance(field, models.CharField) and isinstance(value, str):
            setattr(row, field.attname, text.tidy(value))


def in_the_past(moment, what: str):
    """Return a moment (now, if none is given); refuse one that is still to come."""
    now = timezone.now()
    if moment is None:
        return now
    if timezone.is_naive(moment):
        moment = timezone.make_aware(moment)
    if moment > now + timedelta(minutes=5):
        raise Refused(
            _("{what} is {when}, which is still to come; give the time when it was done.").format(
                what=what, when=timezone.localtime(moment).strftime("%Y-%m-%d %H:%M")
            )
        )
    return moment
