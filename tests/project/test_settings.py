"""The settings keep the data safe and to its owner, and take what may differ from the environment."""

import json
import os
import subprocess
import sys

ASK = """
import json, os
os.environ["DJANGO_SETTINGS_MODULE"] = "friable.project.settings"
import django
django.setup()
from django.conf import settings
from django.db import connection
said = {"zone": settings.TIME_ZONE, "debug": settings.DEBUG, "vendor": connection.vendor}
said |= {"key": settings.SECRET_KEY, "apps": settings.INSTALLED_APPS}
if connection.vendor == "sqlite":
    with connection.cursor() as cursor:
        for pragma in ("journal_mode", "synchronous", "foreign_keys"):
            said[pragma] = cursor.execute(f"PRAGMA {pragma}").fetchone()[0]
        cursor.execute("CREATE TABLE IF NOT EXISTS t (x)")
    said["mode"] = connection.settings_dict["OPTIONS"]["transaction_mode"]
print(json.dumps(said))
"""


def ask(folder, **environment):
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        env={**os.environ, "FRIABLE_DATA": str(folder), **environment},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_a_saved_batch_outlives_a_power_cut_and_broken_references_are_refused(tmp_path):
    said = ask(tmp_path / "data")

    FULL = 2  # SQLite's number for it
    assert (said["journal_mode"], said["synchronous"], said["foreign_keys"]) == ("wal", FULL, 1)
    assert said["mode"] == "IMMEDIATE"


def test_only_the_owner_reads_the_data(tmp_path):
    folder = tmp_path / "data"
    before = os.umask(0o000)
    try:
        ask(folder)
    finally:
        os.umask(before)

    assert folder.stat().st_mode & 0o777 == 0o700
    assert {file.name: oct(file.stat().st_mode & 0o777) for file in folder.iterdir()} == {
        "friable.sqlite3": "0o600",
        "secret-key": "0o600",
    }


def test_the_key_is_made_once_for_each_data_folder(tmp_path):
    first, again, other = ask(tmp_path / "a"), ask(tmp_path / "a"), ask(tmp_path / "b")

    assert first["key"] == again["key"] != other["key"]
    assert len(first["key"]) >= 50


def test_zone_and_database_come_from_the_environment(tmp_path):
    assert ask(tmp_path)["zone"] == "Europe/London"
    said = ask(
        tmp_path, FRIABLE_TIME_ZONE="Europe/Berlin", DATABASE_URL="postgres://someone@127.0.0.1:1/friable"
    )
    assert (said["zone"], said["vendor"], said["debug"]) == ("Europe/Berlin", "postgresql", False)


def test_there_is_no_admin_site(tmp_path):
    assert "django.contrib.admin" not in ask(tmp_path)["apps"]


def test_words_of_refusals_pass_through_djangos_translator():
    from django.utils.translation import gettext

    from friable import wording

    assert wording._translator is gettext
