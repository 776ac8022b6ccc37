"""What is done once when Django starts."""

from pathlib import Path
from typing import Any

from django.apps import AppConfig
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.utils.translation import gettext

from friable import wording
from friable.project.data_folder import keep_private


class ProjectConfig(AppConfig):
    """Give the layers below Django its translator; keep the database file to its owner."""

    name = "friable.project"
    label = "project"

    def ready(self) -> None:
        wording.install(gettext)
        connection_created.connect(_database_opened)


def _database_opened(connection: BaseDatabaseWrapper, **_: Any) -> None:
    name = str(connection.settings_dict["NAME"])
    if connection.vendor == "sqlite" and "memory" not in name:
        keep_private(Path(name))
