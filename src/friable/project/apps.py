"""What is done once when Django starts."""

from django.apps import AppConfig
from django.utils.translation import gettext

from friable import wording


class ProjectConfig(AppConfig):
    """Give the layers below Django its translator."""

    name = "friable.project"
    label = "project"

    def ready(self) -> None:
        wording.install(gettext)
