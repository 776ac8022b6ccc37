"""A backup is whole or is not there, whatever happens while it is made."""

import json
import sqlite3
import zipfile
from contextlib import closing

from .conftest import START, Bench, answer, pairs, sentence

KILLED = -9


def test_a_backup_made_while_four_processes_write_restores_to_a_sound_copy(bench, other_bench, tmp_path):
    writers = [bench.start_writer(f"writer{number}") for number in range(4)]
    file = tmp_path / "backup"
    try:
        for writer in writers:
            writer.wait_for_more()
        for _ in range(2):
            done = bench.friable("backup", file, "--replace")
            assert done.returncode == 0, done.stderr
        for writer in writers:
            writer.wait_for_more()
    finally:
        for writer in writers:
            writer.stop()

    assert other_bench.friable("restore", file).returncode == 0

    restored = pairs(other_bench.live)
    assert {pair.split("-")[0] for pair in restored} == {"writer0", "writer1", "writer2", "writer3"}
    assert restored <= pairs(bench.live)
    assert other_bench.friable("check").stdout == "The data is sound.\n"


def test_a_backup_says_what_it_is_and_only_its_owner_reads_it(bench, tmp_path):
    bench.add_pairs("a", 3)
    file = tmp_path / "backup"

    said = answer(bench.friable("backup", file, "--json"))

    assert said["file"] == str(file)
    assert file.stat().st_mode & 0o777 == 0o600
    with zipfile.ZipFile(file) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        assert len(archive.read("friable.sqlite3")) == manifest["database_bytes"] == said["database_bytes"]
    assert (manifest["format"], manifest["format_version"]) == ("friable backup", 1)
    assert "records.0001_records" in manifest["migrations"]
    assert sorted(each.name for each in tmp_path.iterdir()) == ["backup", "data"]


def test_an_older_backup_is_only_replaced_when_asked(bench, tmp_path):
    file = tmp_path / "backup"
    file.write_text("older")

    assert "exists already" in sentence(bench.friable("backup", file))
    assert file.read_text() == "older"
    assert bench.friable("backup", file, "--replace").returncode == 0
    assert zipfile.is_zipfile(file)


def test_the_database_in_use_and_places_that_are_not_there_are_refused(bench, tmp_path):
    assert "is the database in use" in sentence(bench.friable("backup", bench.live, "--replace"))
    assert "There is no folder" in sentence(bench.friable("backup", tmp_path / "nowhere" / "backup"))
    assert "is a folder" in sentence(bench.friable("backup", tmp_path))
    assert pairs(bench.live) == set()


def test_without_data_there_is_nothing_to_back_up(tmp_path):
    assert "There is no data yet" in sentence(Bench(tmp_path / "none").friable("backup", tmp_path / "backup"))
    assert not (tmp_path / "backup").exists()


def test_postgresql_is_left_to_its_own_tools(bench, tmp_path):
    bench.environment["DATABASE_URL"] = "postgres://nobody@127.0.0.1:1/friable"

    assert "pg_dump" in sentence(bench.friable("backup", tmp_path / "backup"))
    assert "pg_restore" in sentence(bench.friable("restore", tmp_path / "backup"))


def test_a_full_disk_leaves_the_older_backup_and_the_data(bench, tmp_path):
    bench.add_pairs("a", 2000, note="x" * 500)
    file = tmp_path / "backup"
    file.write_text("older")

    # The largest file a process may write stands for the room left on a disk.
    for room in (20_000, 300_000):
        done = bench.friable("backup", file, "--replace", largest_file_bytes=room)
        assert "nothing was changed" in sentence(done)

    assert file.read_text() == "older"
    assert len(pairs(bench.live)) == 2000
    assert sorted(each.name for each in tmp_path.iterdir()) == ["backup", "data"]


def test_a_killed_backup_leaves_the_older_one(bench, tmp_path):
    bench.add_pairs("a", 50)
    file = tmp_path / "backup"
    file.write_text("older")

    for moment in ("archive.write_archive", "sqlite_copy.faults", "backup._give_its_name"):
        done = bench.run(
            START
            + f"""
import signal
from pathlib import Path
from friable.exchange import archive, backup, sqlite_copy
{moment} = lambda *a: os.kill(os.getpid(), signal.SIGKILL)
backup.back_up(Path(sys.argv[1]), replace=True)
""",
            file,
        )
        assert done.returncode == KILLED
        assert file.read_text() == "older"
        assert len(pairs(bench.live)) == 50


def test_a_damaged_database_is_not_backed_up_as_if_it_were_sound(bench, tmp_path):
    bench.add_pairs("a", 3)
    with closing(sqlite3.connect(bench.live)) as database, database:
        database.execute("PRAGMA ignore_check_constraints=ON")
        database.execute("UPDATE records_bucket SET line_l = -5 WHERE name = 'a-0-left'")

    assert "is damaged" in sentence(bench.friable("backup", tmp_path / "backup"))
    assert not (tmp_path / "backup").exists()
