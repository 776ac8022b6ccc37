"""Searches in processes of their own: answered whole, stopped, killed, in line, swept."""

import os
import signal
import sys
import time

import pytest
from tests.conftest import CHECKOUT
from tests.runs.small_search import ENGINES

from friable.errors import BadFile, Refused
from friable.runs import search_worker, searches
from friable.runs.lock import FILE as LOCK
from friable.runs.lock import held
from friable.runs.searches import Question, Told

SMALL = (sys.executable, "-m", "tests.runs.small_search")
LONG = 100_000
PATIENCE_S = 30.0


@pytest.fixture
def root(tmp_path, monkeypatch):
    """A folder of searches; whatever still works there at the end is stopped."""
    monkeypatch.setenv("PYTHONPATH", str(CHECKOUT))
    yield tmp_path / "searches"
    for folder in searches.at_work(tmp_path / "searches"):
        searches.stop(folder)
    for folder in (tmp_path / "searches").glob("*"):
        if searches.KEY.fullmatch(folder.name):
            until(folder, lambda told: not told.at_work)


def begin(root, kind="count", case=LONG):
    key = searches.begin(root, Question(kind, {"case": case}), command=SMALL)
    return searches.folder_of(root, key)


def until(folder, wanted):
    """Wait until what a search tells is as wanted, and return it."""
    end = time.monotonic() + PATIENCE_S
    while not wanted(told := searches.look(folder)):
        assert time.monotonic() < end, told
        time.sleep(0.02)
    return told


def running(folder):
    return until(folder, lambda told: told.state == searches.RUNNING and told.done > 0)


def pid_of(folder):
    return int((folder / LOCK).read_text())


def in_this_process(root, kind="count", case=3):
    """Ask, and work on it here."""
    key = searches.begin(root, Question(kind, {"case": case}), command=("true",))
    folder = searches.folder_of(root, key)
    return folder, search_worker.work(folder, ENGINES)


def test_a_search_is_answered_by_a_process_that_gives_way_to_pages(root):
    folder = begin(root, case=120)
    told = running(folder)

    assert (told.total, told.problem) == (120, "")
    assert os.getpriority(os.PRIO_PROCESS, pid_of(folder)) >= search_worker.LESS_URGENT
    assert searches.read_answer(folder) is None
    assert until(folder, lambda told: not told.at_work).state == searches.DONE
    assert searches.read_answer(folder) == {"counted": 120}
    assert not list(folder.glob(".*.half"))
    assert oct(folder.stat().st_mode)[-3:] == "700"


def test_stopping_leaves_nothing_half_done(root):
    folder = begin(root)
    running(folder)

    searches.stop(folder)

    assert until(folder, lambda told: not told.at_work).state == searches.STOPPED
    assert searches.read_answer(folder) is None
    assert {path.name for path in folder.iterdir()} == {
        "question.pickle",
        "told.json",
        "stop",
        "log.txt",
        "lock",
    }


def test_a_process_that_was_killed_is_noticed_and_gives_its_place_back(root):
    folder = begin(root)
    running(folder)

    os.kill(pid_of(folder), signal.SIGKILL)

    assert until(folder, lambda told: not told.at_work).state == searches.LOST
    assert searches.read_answer(folder) is None
    after = [begin(root, case=5), begin(root, case=5)]
    assert {until(one, lambda told: not told.at_work).state for one in after} == {searches.DONE}


def test_two_run_at_once_and_a_third_waits_in_line_and_says_so(root):
    first, second = begin(root), begin(root)
    running(first)
    running(second)
    third, fourth = begin(root, case=5), begin(root, case=5)
    waiting = until(third, lambda told: told.state == searches.WAITING)

    assert waiting.ahead == 2
    assert until(fourth, lambda told: told.state == searches.WAITING).ahead == 3
    searches.stop(fourth)  # while it waits
    assert until(fourth, lambda told: not told.at_work).state == searches.STOPPED
    searches.stop(first)
    assert until(third, lambda told: not told.at_work).state == searches.DONE
    assert searches.look(second).state == searches.RUNNING


def test_a_line_that_is_too_long_is_refused(root, monkeypatch):
    monkeypatch.setattr(searches, "MOST_AT_ONCE", 0)
    monkeypatch.setattr(searches, "MOST_IN_LINE", 1)
    begin(root, case=1)

    with pytest.raises(Refused, match="1 searches wait in line already; look again in a minute, or stop one"):
        begin(root)


def test_a_refusal_is_told_in_its_sentence(root):
    folder, told = in_this_process(root, "refuse", "moon dust")

    assert (told.state, told.problem) == (searches.FAILED, "moon dust cannot be; take another.")
    assert searches.look(folder) == told


@pytest.mark.parametrize(
    ("kind", "sentence"),
    [
        ("break", "The search broke off by a mistake of the program"),
        ("memory", "There is too little memory for this search; take fewer materials"),
    ],
)
def test_what_goes_wrong_is_told_in_one_sentence(root, kind, sentence, capsys):
    folder, told = in_this_process(root, kind)

    assert told.state == searches.FAILED
    assert told.problem.startswith(sentence)
    assert searches.read_answer(folder) is None
    assert ("ZeroDivisionError" in capsys.readouterr().err) == (kind == "break")


def test_a_kind_that_is_not_ours_is_refused(root):
    key = searches.begin(root, Question("os:system", {"command": "true"}), command=("true",))

    told = search_worker.work(searches.folder_of(root, key))

    assert told.state == searches.FAILED
    assert "another version of friable" in told.problem


def test_a_search_is_worked_on_once(root):
    folder, _told = in_this_process(root)
    with held(folder), pytest.raises(Refused):
        search_worker.work(folder, ENGINES)


def test_no_process_no_folder(root):
    with pytest.raises(Refused):
        searches.begin(root, Question("count", {"case": 1}), command=("/nowhere/at/all",))

    assert list(root.iterdir()) == []


def test_damaged_files_are_refused_in_a_sentence(root):
    folder, _told = in_this_process(root)
    (folder / searches.ANSWER).write_bytes(b"\x80\x05half")
    with pytest.raises(BadFile, match=r"answer\.pickle of this search is damaged"):
        searches.read_answer(folder)

    (folder / searches.QUESTION).write_bytes(b"")
    assert "question.pickle of this search is damaged" in search_worker.work(folder, ENGINES).problem


def test_an_answer_that_finds_no_room_leaves_no_half(root, monkeypatch):
    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("friable.runs.disk.os.fsync", full)
    folder, told = in_this_process(root)

    assert told.state == searches.FAILED
    assert "There is no room left" in told.problem
    assert not (folder / searches.ANSWER).exists()
    assert not list(folder.glob(".*.half"))


def test_old_searches_are_swept_and_none_at_work(root):
    at_work = begin(root)
    running(at_work)
    idle = [in_this_process(root)[0] for _again in range(3)]
    searches.sweep(root)
    assert all(folder.exists() for folder in idle)

    searches.sweep(root, now=time.time() + searches.KEPT_S + 60)

    assert not any(folder.exists() for folder in idle)
    assert at_work.exists()


def test_only_the_newest_fifty_are_kept(root, monkeypatch):
    monkeypatch.setattr(searches, "KEPT", 2)
    folders = []
    for _again in range(4):
        folders.append(in_this_process(root)[0])
        time.sleep(0.002)  # the key tells the millisecond

    searches.sweep(root)

    assert [folder.exists() for folder in folders] == [False, False, True, True]


def test_a_process_that_says_nothing_for_long_is_lost(root, monkeypatch):
    key = searches.begin(root, Question("count", {"case": 1}), command=("false",))
    folder = searches.folder_of(root, key)
    assert searches.look(folder) == Told(searches.BEGINNING)
    (folder / searches.LOG).write_text("No module named friable\n")
    monkeypatch.setattr(searches, "PATIENCE_S", -1)

    assert searches.look(folder) == Told(searches.LOST, problem="No module named friable")


@pytest.mark.parametrize("key", ["", ".", "..", "../../etc", "0" * 17, "x" * 18, "0" * 18, "\x00"])
def test_a_key_that_is_none_leads_to_no_folder(root, key):
    in_this_process(root)

    assert searches.folder_of(root, key) is None
