"""Is the data sound? A list of what is wrong, empty if nothing is."""

from collections.abc import Iterator
from importlib.resources import files

from django.db import DatabaseError, connection

from friable.exchange import schema, sqlite_copy
from friable.records.queries.problems import problems as problems_of_the_records
from friable.reference.load import read_table
from friable.wording import gettext as _


def problems() -> list[str]:
    """List what is wrong with the reference tables and with the database in use."""
    return [*_tables(), *_database()]


def _tables() -> Iterator[str]:
    # The loader refuses a row without a source, with an unknown unit, or of an impossible material.
    for table in sorted(entry.name for entry in files("friable.reference").joinpath("tables").iterdir()):
        if not table.endswith(".csv"):
            continue
        try:
            read_table(table.removesuffix(".csv"))
        except (LookupError, ValueError) as problem:
            yield str(problem.args[0] if problem.args else problem)


def _database() -> Iterator[str]:
    live = schema.live_file()
    if live is not None and (not live.is_file() or live.stat().st_size == 0):
        return  # nothing was ever written
    if live is not None and (faults := sqlite_copy.faults(live)):
        yield from (_("database: {fault}").format(fault=fault) for fault in faults)
        return
    try:
        applied = schema.steps_applied()
        if not applied:
            return
        for step in schema.steps_from_a_newer_friable(applied):
            yield _("database: written by a newer friable (it has {step})").format(step=step)
        for step in schema.steps_missing():
            yield _(
                "database: not brought up to this friable yet ({step} is missing); start the server once"
            ).format(step=step)
            return
        connection.check_constraints()
        yield from problems_of_the_records()
    except DatabaseError as problem:
        yield _("database: {fault}").format(fault=problem)
