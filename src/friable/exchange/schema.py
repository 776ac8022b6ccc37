"""Does a database fit this friable: older ones are brought up to it, newer ones refused."""

from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from friable.errors import Refused
from friable.exchange import sqlite_copy
from friable.wording import gettext as _


def known_steps() -> set[str]:
    """Return every step of the schema that this friable has, as `app.name`."""
    loader = MigrationLoader(None)
    replaced = {key for migration in loader.disk_migrations.values() for key in migration.replaces}
    return {f"{app}.{name}" for app, name in {*loader.disk_migrations, *replaced}}


def steps_from_a_newer_friable(steps: Iterable[str]) -> list[str]:
    """Return the steps that this friable does not have."""
    known = known_steps()
    return sorted(set(steps) - known)


def refuse_newer(steps: Iterable[str], what: str) -> None:
    """Refuse what a newer friable made, before anything is written."""
    if newer := steps_from_a_newer_friable(steps):
        raise Refused(
            _("{what} was written by a newer friable (it has {step}); use that one, or a newer.").format(
                what=what, step=newer[0]
            )
        )


def steps_applied(alias: str = "default") -> list[str]:
    """Return the steps applied to a database, as `app.name`; none if it is new."""
    applied = MigrationExecutor(connections[alias]).loader.applied_migrations
    return [f"{app}.{name}" for app, name in applied]


def steps_missing(alias: str = "default") -> list[str]:
    """Return the steps that a database still needs, as `app.name`."""
    executor = MigrationExecutor(connections[alias])
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return [f"{migration.app_label}.{migration.name}" for migration, _backwards in plan]


def bring_up_to_date() -> Path | None:
    """Bring the database up to this friable; return the copy kept of the old one, if it had data."""
    applied = steps_applied()
    refuse_newer(applied, _("The database"))
    if not steps_missing():
        return None
    kept = None
    if applied and (live := live_file()) is not None:
        kept = beside(live, "before-update")
        with sqlite_copy.no_room_said(kept.parent):
            sqlite_copy.copy_database(live, kept)
    call_command("migrate", verbosity=0, interactive=False)
    return kept


def live_file() -> Path | None:
    """Return the file of the database in use, or None if it is not kept in SQLite."""
    database = settings.DATABASES["default"]
    return Path(database["NAME"]) if database["ENGINE"] == "django.db.backends.sqlite3" else None


def live_sqlite_file() -> Path:
    """Return the file of the database in use; refuse for PostgreSQL, whose own tools do this better."""
    live = live_file()
    if live is None:
        raise Refused(
            _("The data stands in PostgreSQL; its own pg_dump backs it up and pg_restore brings it back.")
        )
    return live


def beside(live: Path, reason: str) -> Path:
    """Name a file beside the database for what is kept of it, with the moment in its name."""
    moment = datetime.now(UTC).strftime("%Y-%m-%dT%H%M%S.%fZ")
    return live.with_name(f"{live.stem}-{reason}-{moment}.sqlite3")
