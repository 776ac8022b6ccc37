"""A restore proves the file first, replaces the data whole or not at all, and keeps the old."""

import hashlib
import json
import shutil
import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from .conftest import START, Bench, answer, pairs, sentence

KILLED = -9
LEFT = "the data in use was left as it is"


@pytest.fixture
def bench(backed_up_bench, tmp_path):
    """A bench that holds the pairs a-0 to a-2."""
    shutil.copytree(backed_up_bench / "data", tmp_path / "data")
    return Bench(tmp_path / "data")


@pytest.fixture
def backed_up(backed_up_bench):
    """The backup of it."""
    return backed_up_bench / "backup"


def repacked(file: Path, target: Path, *, manifest=None, database=None, database_bytes=None) -> Path:
    """Write a backup anew with something in it changed, its sums made right again."""
    with zipfile.ZipFile(file) as archive:
        said = json.loads(archive.read("manifest.json"))
        content = archive.read("friable.sqlite3")
    if database is not None:
        work = target.with_suffix(".work")
        work.write_bytes(content)
        with closing(sqlite3.connect(work)) as opened, opened:
            opened.execute("PRAGMA writable_schema=ON")
            opened.execute("PRAGMA ignore_check_constraints=ON")
            opened.executescript(database)
        content = work.read_bytes()
        work.unlink()
    content = content if database_bytes is None else database_bytes
    said |= {"database_bytes": len(content), "database_sha256": hashlib.sha256(content).hexdigest()}
    said |= manifest or {}
    with zipfile.ZipFile(target, "w", compression=zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("manifest.json", json.dumps(said))
        archive.writestr("friable.sqlite3", content)
    return target


def test_a_restore_brings_the_data_back_and_keeps_the_old_beside_it(bench, backed_up):
    bench.add_pairs("later", 2)
    before = pairs(bench.live)

    said = answer(bench.friable("restore", backed_up, "--json"))

    assert pairs(bench.live) == {"a-0", "a-1", "a-2"}
    assert pairs(Path(said["kept"])) == before
    assert Path(said["kept"]).parent == bench.folder
    assert Path(said["kept"]).stat().st_mode & 0o777 == 0o600
    assert said["restart_needed"] is False
    assert not list(bench.folder.glob("restoring-*"))


def test_a_restore_makes_a_new_bench(backed_up, other_bench):
    shutil.rmtree(other_bench.folder)

    said = answer(other_bench.friable("restore", backed_up, "--json"))

    assert said["kept"] is None
    assert pairs(other_bench.live) == {"a-0", "a-1", "a-2"}
    assert other_bench.live.stat().st_mode & 0o777 == 0o600
    assert other_bench.folder.stat().st_mode & 0o777 == 0o700


def test_nothing_written_during_a_restore_is_lost(bench, backed_up):
    """What a writer was told is saved stands in the data in use or in the kept copy."""
    writers = [bench.start_writer(f"writer{number}") for number in range(2)]
    try:
        for writer in writers:
            writer.wait_for_more()
        said = answer(bench.friable("restore", backed_up, "--json"))
        for writer in writers:
            writer.wait_for_more()
    finally:
        for writer in writers:
            writer.stop()
    told = {pair for writer in writers for pair in writer.told()}

    now, kept = pairs(bench.live), pairs(Path(said["kept"]))
    assert {"a-0", "a-1", "a-2"} <= now
    assert any(name.startswith("writer") for name in kept)
    assert told <= now | kept


BAD_FILES = {
    "missing": (None, "There is no file"),
    "empty": (lambda _, bad: bad.write_bytes(b""), "is not a backup of friable"),
    "a note": (lambda _, bad: bad.write_text("potting on Tuesday"), "is not a backup of friable"),
    "cut short": (lambda good, bad: bad.write_bytes(good.read_bytes()[:-200]), "is damaged"),
    "half": (lambda good, bad: bad.write_bytes(good.read_bytes()[: good.stat().st_size // 2]), "is damaged"),
    "one byte turned": (
        lambda good, bad: bad.write_bytes(
            (raw := good.read_bytes())[: len(raw) // 2]
            + bytes([raw[len(raw) // 2] ^ 0xFF])
            + raw[len(raw) // 2 + 1 :]
        ),
        "is damaged",
    ),
    "wrong sum": (
        lambda good, bad: repacked(good, bad, manifest={"database_sha256": "0" * 64}),
        "is damaged",
    ),
    "more than it says": (
        lambda good, bad: repacked(good, bad, manifest={"database_bytes": 10}),
        "is damaged",
    ),
    "other zip": (lambda _, bad: zipfile.ZipFile(bad, "w").close(), "is not a backup of friable"),
    "other format": (
        lambda good, bad: repacked(good, bad, manifest={"format": "other"}),
        "is not a backup of friable",
    ),
    "newer format": (
        lambda good, bad: repacked(good, bad, manifest={"format_version": 2}),
        "by a newer friable",
    ),
    "newer schema": (
        lambda good, bad: repacked(good, bad, manifest={"migrations": ["records.9999_later"]}),
        "by a newer friable",
    ),
    "newer schema inside": (
        lambda good, bad: repacked(
            good,
            bad,
            database="INSERT INTO django_migrations(app, name, applied) "
            "VALUES ('records', '9999_later', '2030-01-01')",
        ),
        "by a newer friable",
    ),
    "no database": (
        lambda good, bad: repacked(good, bad, database_bytes=b"potting on Tuesday" * 400),
        "holds a damaged database",
    ),
    "other database": (
        lambda good, bad: repacked(good, bad, database="DROP TABLE django_migrations"),
        "does not hold a database of friable",
    ),
    "a table gone": (
        lambda good, bad: repacked(good, bad, database="PRAGMA foreign_keys=OFF; DROP TABLE records_bucket"),
        "does not hold a database of friable",
    ),
    "a broken rule": (
        lambda good, bad: repacked(good, bad, database="UPDATE records_bucket SET line_l = -5"),
        "holds a damaged database",
    ),
}


TRY_ALL = (
    START
    + """
import json
from pathlib import Path
from friable.errors import FriableError
from friable.exchange.restore import restore
said = {}
for name in sys.argv[1:]:
    try:
        restore(Path(name))
    except FriableError as problem:
        said[Path(name).name] = str(problem)
print(json.dumps(said))
"""
)


def test_bad_files_are_refused_in_a_sentence_and_the_data_stays(bench, backed_up, tmp_path):
    folder = tmp_path / "bad"
    folder.mkdir()
    for kind, (make, _words) in BAD_FILES.items():
        if make:
            make(backed_up, folder / kind)

    said = answer(bench.run(TRY_ALL, *[folder / kind for kind in BAD_FILES]))

    assert {kind: words in said.get(kind, "") for kind, (_make, words) in BAD_FILES.items()} == dict.fromkeys(
        BAD_FILES, True
    ), said
    assert not any("\n" in sentence for sentence in said.values())
    assert pairs(bench.live) == {"a-0", "a-1", "a-2"}
    assert not list(bench.folder.glob("*before-restore*"))
    assert not list(bench.folder.glob("restoring-*"))


def test_the_command_refuses_in_one_sentence(bench, tmp_path):
    (tmp_path / "note").write_text("potting on Tuesday")

    said = sentence(bench.friable("restore", tmp_path / "note"))

    assert said.endswith("note is not a backup of friable; the data in use was left as it is.")


def test_a_full_disk_leaves_the_data(bench, other_bench, tmp_path):
    other_bench.add_pairs("b", 2000, note="x" * 500)
    assert other_bench.friable("backup", tmp_path / "backup").returncode == 0
    size = other_bench.live.stat().st_size

    # The largest file a process may write stands for the room left on a disk.
    for room in (100_000, size - 4096):
        done = bench.friable("restore", tmp_path / "backup", largest_file_bytes=room)
        assert "nothing was changed" in sentence(done)
        assert pairs(bench.live) == {"a-0", "a-1", "a-2"}
    assert not list(bench.folder.glob("restoring-*"))
    assert bench.friable("restore", tmp_path / "backup").returncode == 0
    assert len(pairs(bench.live)) == 2000


KILL_AT = {
    "proved": "restore._put_in_place = die",
    "old kept": "sqlite_copy.copy_database = die",
    "some pages written": """
left = []
class Connection(sqlite3.Connection):
    def backup(self, target, *, progress=None, **more):
        def after(status, remaining, total):
            left.append(remaining)
            progress(status, remaining, total)
            if remaining < total // 2: die()
        super().backup(target, progress=after, **{**more, "pages": 8})
def opened(file):
    factory = Connection if "restoring" in str(file) else sqlite3.Connection
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True, factory=factory)
sqlite_copy.open_existing = opened
""",
}


@pytest.mark.parametrize("moment", KILL_AT)
def test_a_killed_restore_leaves_the_old_data_whole(bench, other_bench, tmp_path, moment):
    other_bench.add_pairs("b", 2000)
    assert other_bench.friable("backup", tmp_path / "backup").returncode == 0

    done = bench.run(
        START
        + """
import signal, sqlite3
from pathlib import Path
from friable.exchange import restore, sqlite_copy
def die(*a): os.kill(os.getpid(), signal.SIGKILL)
"""
        + KILL_AT[moment]
        + "\nrestore.restore(Path(sys.argv[1]))",
        tmp_path / "backup",
    )

    assert done.returncode == KILLED, done.stderr
    assert pairs(bench.live) == {"a-0", "a-1", "a-2"}
    assert bench.friable("restore", tmp_path / "backup").returncode == 0
    assert len(pairs(bench.live)) == 2000


def test_a_destroyed_database_is_set_aside_and_replaced(bench, backed_up):
    bench.live.write_bytes(b"not a database any more" * 1000)

    said = answer(bench.friable("restore", backed_up, "--json"))

    assert said["restart_needed"] is True
    assert Path(said["kept"]).read_bytes().startswith(b"not a database any more")
    assert pairs(bench.live) == {"a-0", "a-1", "a-2"}
