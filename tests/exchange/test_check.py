"""`friable check` says what is wrong, and leaves with 1 if anything is."""

import json
import sqlite3
from contextlib import closing

from .conftest import START, Bench


def spoil(bench: Bench, statements: str) -> None:
    with closing(sqlite3.connect(bench.live)) as database, database:
        database.execute("PRAGMA ignore_check_constraints=ON")
        database.executescript(statements)


def test_a_new_database_and_no_database_are_sound(bench, tmp_path):
    for each in (bench, Bench(tmp_path / "none")):
        done = each.friable("check")
        assert (done.returncode, done.stdout) == (0, "The data is sound.\n"), done
        assert json.loads(each.friable("check", "--json").stdout) == {"sound": True, "problems": []}
    assert not (tmp_path / "none" / "friable.sqlite3").exists()


def test_a_broken_rule_is_named(bench):
    bench.add_pairs("a", 1)
    spoil(bench, "UPDATE records_bucket SET line_l = -5")

    done = bench.friable("check")

    assert done.returncode == 1
    assert "records_bucket" in done.stdout


def test_a_reference_to_nothing_is_named(bench):
    made = bench.run(
        START
        + """
from friable.records.models import Mix, MixVersion
MixVersion.objects.create(mix=Mix.objects.create(name="fern basket"), number=1, written_by="MK")
"""
    )
    assert made.returncode == 0, made.stderr
    spoil(bench, "DELETE FROM records_mix")

    done = bench.friable("check")

    assert done.returncode == 1
    assert "of records_mixversion points to a row of records_mix that is not there" in done.stdout


def test_a_database_of_a_newer_friable_is_named(bench):
    spoil(
        bench,
        "INSERT INTO django_migrations(app, name, applied) VALUES ('records', '9999_later', '2030-01-01')",
    )

    done = bench.friable("check")

    assert done.returncode == 1
    assert "written by a newer friable (it has records.9999_later)" in done.stdout


def test_torn_pages_are_named(bench):
    bench.add_pairs("a", 500)
    with closing(sqlite3.connect(bench.live)) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    raw = bytearray(bench.live.read_bytes())
    raw[4096 * 3 : -4096] = b"\xa5" * (len(raw) - 4096 * 4)
    bench.live.write_bytes(raw)

    done = bench.friable("check", "--json")

    assert done.returncode == 1
    assert json.loads(done.stdout)["problems"]
