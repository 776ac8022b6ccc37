"""A pytest plugin, loaded before Django reads its settings: tests have a data folder of their own.

It is named in pyproject.toml (`-p tests.kept_apart`), since a conftest.py is read too late for that.
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

FOLDER = Path(tempfile.mkdtemp(prefix="friable-tests-"))
atexit.register(shutil.rmtree, FOLDER, ignore_errors=True)
(FOLDER / "static").mkdir()

os.environ["FRIABLE_DATA"] = str(FOLDER)
os.environ["FRIABLE_STATIC_FROM_SOURCE"] = "1"
for _name in ("FRIABLE_DEBUG", "FRIABLE_TIME_ZONE", "FRIABLE_BIND", "HOST", "GUNICORN_CMD_ARGS"):
    os.environ.pop(_name, None)
