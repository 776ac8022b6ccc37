"""Seasons worked out in processes: the same numbers, whoever is killed, stopped or short of room."""

import errno
import json
import os
import signal
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from tests.bucket import bucket, bucket_that_kills, bucket_with_a_hole, slow_bucket
from tests.runs.small_season import ARRAYS, COLLECTION, small_plan

from friable.errors import Refused
from friable.planning.season import block_work, run_block, summary
from friable.runs import block_files, disk, lock, progress
from friable.runs.answer_file import read_answer
from friable.runs.executors import local
from friable.runs.season_run import keep_plan, read_plan, run_season

CHECKOUT = Path(__file__).parents[2]
TWO = partial(local, 2)
PATIENCE_S = 60


@pytest.fixture(scope="module")
def plan():
    return small_plan()


@pytest.fixture(scope="module")
def expected(plan):
    return summary(plan, (run_block(block_work(plan, n), bucket) for n in range(plan.blocks)))


@pytest.fixture
def folder(tmp_path, plan):
    keep_plan(tmp_path / "season", plan)
    return tmp_path / "season"


def assert_same(one, other):
    assert one.to_json() == other.to_json()
    for name in ARRAYS:
        assert np.array_equal(getattr(one, name), getattr(other, name)), name


def wait_until(true, what):
    end = time.monotonic() + PATIENCE_S
    while not true():
        assert time.monotonic() < end, what
        time.sleep(0.02)


def blocks_in(folder):
    return len(list((folder / "blocks").glob("*.npz")))


def run_elsewhere(folder, seconds=0.5, workers=2):
    """Start a run in a process of its own, as a page does."""
    code = (
        "from functools import partial; from pathlib import Path\n"
        "from friable.runs.executors import local\n"
        "from friable.runs.season_run import run_season\n"
        "from tests.bucket import slow_bucket\n"
        "if __name__ == '__main__':\n"
        f"    run_season(Path({str(folder)!r}), partial(local, {workers}), solve=slow_bucket)\n"
    )
    return subprocess.Popen(
        [sys.executable, "-c", code],
        cwd=CHECKOUT,
        env={**os.environ, "BUCKET_SECONDS": str(seconds), "PYTHONPATH": str(CHECKOUT)},
        stderr=subprocess.PIPE,
    )


def test_processes_and_plain_calls_give_the_same_numbers(folder, expected):
    seen = []

    answer = run_season(folder, TWO, solve=bucket, told=seen.append)

    assert_same(answer, expected)
    assert seen[-1].state == "done"
    assert (seen[-1].done, seen[-1].blocks, seen[-1].workers) == (9, 9, 2)
    assert_same(read_answer(folder), expected)


def test_a_season_that_is_done_is_answered_without_working_it_out_again(folder, expected):
    run_season(folder, TWO, solve=bucket)

    assert_same(run_season(folder, TWO, solve=bucket_that_kills), expected)


def test_a_killed_worker_costs_its_own_block_and_nothing_else(folder, expected):
    run = run_elsewhere(folder, seconds=1.0)
    wait_until(lambda: blocks_in(folder) >= 2, "two blocks")
    os.kill(children_of(run.pid)[0], signal.SIGKILL)
    assert run.wait(PATIENCE_S) == 0, run.stderr.read()

    assert_same(read_answer(folder), expected)
    told = progress.read_progress(folder)
    assert (told.state, told.done, told.redone) == ("done", 9, 1)


def test_a_killed_run_leaves_whole_blocks_no_workers_and_goes_on(folder, expected):
    run = run_elsewhere(folder, seconds=0.4)
    wait_until(lambda: blocks_in(folder) >= 3, "three blocks")
    workers = children_of(run.pid)
    run.kill()
    run.wait()
    kept = blocks_in(folder)

    assert progress.read_progress(folder).state == "stopped"
    wait_until(lambda: not any(alive(pid) for pid in workers), "workers end with the run")
    seen = []
    assert_same(run_season(folder, TWO, solve=bucket, told=seen.append), expected)
    assert seen[0].done == kept
    assert [one.torn for one in seen] == [0] * len(seen)


def test_a_run_that_is_asked_to_stop_keeps_what_it_is_at_and_goes_on_later(folder, expected):
    run = run_elsewhere(folder, seconds=0.5)
    wait_until(lambda: blocks_in(folder) >= 1, "a block")
    asked = time.monotonic()
    progress.ask_to_stop(folder)
    assert run.wait(PATIENCE_S) == 0
    assert time.monotonic() - asked < 5

    told = progress.read_progress(folder)
    assert told.state == "stopped"
    assert 1 <= told.done == blocks_in(folder) < 9
    assert read_answer(folder) is None
    assert_same(run_season(folder, TWO, solve=bucket), expected)


def test_progress_can_be_read_by_anybody_while_it_runs(folder):
    run = run_elsewhere(folder, seconds=0.2)
    seen = []
    try:
        while run.poll() is None:
            said = progress.read_progress(folder)
            if said is not None:
                json.loads((folder / "progress.json").read_text())
                seen.append(said)
            time.sleep(0.01)
    finally:
        run.kill()
        run.wait()

    assert [one.done for one in seen] == sorted(one.done for one in seen)
    assert any(0 < one.share < 1 and one.seconds_left for one in seen)
    assert {one.pid for one in seen} == {run.pid}
    assert seen[0].pot_days == 36 * 40


def test_two_runs_do_not_work_in_one_folder(folder):
    run = run_elsewhere(folder, seconds=0.5)
    try:
        wait_until(lambda: lock.is_held(folder), "the lock")
        with pytest.raises(Refused, match=rf"already by process {run.pid}"):
            run_season(folder, TWO, solve=bucket)
    finally:
        run.kill()
        run.wait()
    assert not lock.is_held(folder)


@pytest.mark.parametrize("damage", ["cut", "bit", "empty", "foreign"])
def test_a_torn_block_is_done_again(folder, plan, expected, damage):
    run_season(folder, TWO, solve=bucket)
    (folder / "answer.npz").unlink()
    file = block_files.block_file(folder, 4)
    whole = bytearray(file.read_bytes())
    if damage == "bit":
        whole[len(whole) // 2] ^= 1
    elif damage == "cut":
        whole = whole[: len(whole) // 2]
    elif damage == "empty":
        whole = bytearray()
    else:
        whole = bytearray(block_files.block_file(folder, 5).read_bytes())
    file.write_bytes(whole)
    seen = []

    assert_same(run_season(folder, TWO, solve=bucket, told=seen.append), expected)
    assert seen[0].torn == 1
    assert seen[0].done == 8


def test_a_torn_answer_is_added_up_again(folder, expected):
    run_season(folder, TWO, solve=bucket)
    (folder / "answer.npz").write_bytes(b"PK")

    assert_same(run_season(folder, TWO, solve=bucket_that_kills), expected)


def test_a_folder_refuses_another_season(folder):
    keep_plan(folder, small_plan())
    with pytest.raises(Refused, match=r"holds another season .*155 pots"):
        keep_plan(folder, small_plan(text=COLLECTION.replace("40,ferns", "41,ferns")))
    with pytest.raises(Refused, match="no season"):
        read_plan(folder / "nowhere")


def test_blocks_whose_plan_is_gone_are_not_taken_for_another(folder):
    run_season(folder, TWO, solve=bucket)
    (folder / "plan.npz").unlink()

    with pytest.raises(Refused, match="plan is gone"):
        keep_plan(folder, small_plan())


def test_a_full_disk_is_said_in_one_sentence_and_nothing_is_lost(folder, expected, monkeypatch):
    room = iter(range(3))
    really = os.fsync

    def fsync(handle):
        if next(room, None) is None:
            raise OSError(errno.ENOSPC, "No space left on device")
        really(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(disk.NoRoom, match=r"no room left at .*kept") as refused:
        run_season(folder, TWO, solve=bucket)
    monkeypatch.setattr(os, "fsync", really)

    told = progress.read_progress(folder)
    assert (told.state, told.problem) == ("failed", str(refused.value))
    assert blocks_in(folder) >= 1
    assert not list((folder / "blocks").glob(".*"))
    assert_same(run_season(folder, TWO, solve=bucket), expected)


def test_a_refusal_in_a_worker_comes_back_as_its_sentence(folder):
    with pytest.raises(Refused, match=r"area that catches rain is -1 cm2; it must be 0 or more\."):
        run_season(folder, TWO, solve=bucket_with_a_hole)
    assert progress.read_progress(folder).state == "failed"


def test_a_block_that_kills_every_worker_ends_the_run_in_one_sentence(folder):
    with pytest.raises(Refused, match="lost its worker 3 times"):
        run_season(folder, TWO, solve=bucket_that_kills)
    assert progress.read_progress(folder).redone >= 2


def test_halves_of_a_run_that_was_cut_off_are_cleared_away(folder, expected):
    half = folder / "blocks" / ".000003.npz.123.half"
    half.write_bytes(b"PK\x03\x04")

    assert_same(run_season(folder, partial(local, 1), solve=bucket), expected)
    assert not half.exists()


def test_workers_are_small_and_leave_ctrl_c_to_the_run():
    with local(1) as workers:
        environment = workers.executor.submit(os.getenv, "MALLOC_ARENA_MAX").result()
        handler = workers.executor.submit(signal.getsignal, signal.SIGINT).result()

    assert environment == "1"
    assert handler == signal.SIG_IGN
    assert "MALLOC_ARENA_MAX" not in os.environ or os.environ["MALLOC_ARENA_MAX"] != "1"


@pytest.mark.parametrize("count", [0, -1, 1000])
def test_a_number_of_workers_that_cannot_be_is_refused(count):
    with pytest.raises(Refused.__base__, match="number of workers"), local(count):
        pass


def children_of(pid):
    """Return the worker processes of a run: its children that are no resource tracker."""
    found = []
    for task in Path(f"/proc/{pid}/task").iterdir():
        for child in (task / "children").read_text().split():
            if b"spawn_main" in Path(f"/proc/{child}/cmdline").read_bytes():
                found.append(int(child))
    return sorted(found)


def alive(pid):
    try:
        return "Z" not in Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except (FileNotFoundError, ProcessLookupError):
        return False


def test_the_slow_bucket_is_the_bucket(plan):
    work = block_work(plan, 0)
    os.environ["BUCKET_SECONDS"] = "0"
    try:
        slow, quick = run_block(work, slow_bucket), run_block(work, bucket)
    finally:
        del os.environ["BUCKET_SECONDS"]
    assert np.array_equal(slow.watered_cm3, quick.watered_cm3)
