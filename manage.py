#!/usr/bin/env python
"""Django's commands for those who work on friable: `python manage.py makemigrations` and so on."""

import os
import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parent / "src"))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "friable.project.settings")

    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
