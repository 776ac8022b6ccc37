"""A collection through a season on the command line: run, stopped and gone on with, told, refused."""

import json
import os
import signal
import subprocess
import sys
import tempfile
from datetime import date, timedelta

import pytest
from tests.cli.test_answers import is_estimate

from friable.runs import executors

R = "5 pine bark nursery + 1 perlite coarse"
COLLECTION = f"""\
group,mix,container,count,plant,place,watering
bench,{R},round 17/12/13 cm,120,foliage,,on need
trays,1 sphagnum peat medium + 1 perlite coarse,tray 50x30x4 cm,24,seedlings,,daily
bog,1 sphagnum peat medium,round 12/9/12 cm,60,bog,,standing water 2 cm
"""
DAYS = 21
FEW = ("--scenarios", "2", "--draws", "2", "--workers", "1")


@pytest.fixture(scope="module")
def files(tmp_path_factory, prepared_flow):
    """A collection and three weeks of weather in a folder of their own."""
    folder = tmp_path_factory.mktemp("quillmoor")
    (folder / "pots.csv").write_text(COLLECTION, encoding="utf-8")
    rows = ["Time,Temperature (°C),RH (%)"]
    for day in range(DAYS):
        for hour in range(24):
            stamp = date(2026, 7, 1) + timedelta(days=day)
            rows.append(
                f"{stamp.isoformat()} {hour:02d}:00,{16 + 9 * (8 < hour < 18)},{60 - 10 * (hour > 9)}"
            )
    (folder / "house.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return folder


def friable(folder, *arguments, **environment):
    """Run `friable season` in that folder as the shell does."""
    return subprocess.run(
        [sys.executable, "-m", "friable.cli.main", "season", *arguments],
        capture_output=True,
        text=True,
        cwd=folder,
        env=os.environ | environment,
    )


@pytest.fixture(scope="module")
def told(files):
    """The season, run once for all that only reads it."""
    done = friable(files, "pots.csv", "--climate", "house.csv", *FEW, "--folder", "kept", "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_every_key_is_there(told):
    assert {group["name"]: group["pots"] for group in told["groups"]} == {
        "bench": 120,
        "trays": 24,
        "bog": 60,
    }
    for group in told["groups"]:
        assert is_estimate(group["too_wet"])
        assert is_estimate(group["too_dry"])
        assert len(group["litres_by_week"]) == len(group["hours_by_week"]) == DAYS // 7
        assert all(map(is_estimate, (*group["litres_by_week"], *group["hours_by_week"])))
    assert [day["date"] for day in told["days"]] == [f"2026-07-{day:02d}" for day in range(1, DAYS + 1)]
    assert all(is_estimate(day["litres"]) for day in told["days"])
    assert (told["pots"], told["distinct_kinds"], told["weathers"], told["draws"]) == (204, 3, 2, 2)


def test_days_and_weeks_hold_the_same_litres(told):
    days = sum(day["litres"]["value"] for day in told["days"])
    weeks = sum(week["value"] for group in told["groups"] for week in group["litres_by_week"])

    assert weeks == pytest.approx(days, rel=1e-6)
    assert days > 0


def test_progress_goes_to_standard_error_and_json_alone_to_standard_output(files):
    done = friable(files, "pots.csv", "--climate", "house.csv", *FEW, "--json")

    json.loads(done.stdout)
    lines = done.stderr.splitlines()
    assert lines[0] == "204 pots in 3 kinds: 252 pot-days in 1 blocks, 0 of them done."
    assert lines[-1] == "100 %, 1 of 1 blocks"


def test_what_is_done_is_not_done_again(files, told):
    again = friable(files, "--resume", "kept", "--json")

    assert (again.returncode, again.stderr) == (0, "")
    assert json.loads(again.stdout) == told


def test_ctrl_c_stops_and_says_how_to_go_on(files):
    many = ("--scenarios", "20", "--draws", "64", "--workers", "1")  # three blocks, some seconds each
    arguments = ("pots.csv", "--climate", "house.csv", *many, "--folder", "stopped", "--json")
    running = subprocess.Popen(
        [sys.executable, "-m", "friable.cli.main", "season", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=files,
    )
    first = running.stderr.readline()
    running.send_signal(signal.SIGINT)
    out, err = running.communicate()

    assert first.startswith("204 pots in 3 kinds")
    assert (running.returncode, out) == (130, "")
    assert "Stopping after the blocks that are at work; Ctrl-C again stops at once." in err
    assert err.splitlines()[-1] == (
        "Stopped; what is done is kept. Go on with: friable season --resume stopped"
    )

    gone_on = friable(files, "--resume", "stopped", "--json")
    assert gone_on.returncode == 0, gone_on.stderr
    assert (json.loads(gone_on.stdout)["weathers"], json.loads(gone_on.stdout)["draws"]) == (20, 64)


def test_for_people_work_comes_first(files, told):
    done = friable(files, "--resume", "kept", "--weekend", "2026-07-11", "--door-sheet", "door.pdf")

    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0] == "pots: 204 pots of 3 kinds, house.csv, 21 days"
    assert lines[2].startswith("The week of 2026-07-")
    for said in (
        "To water on 2026-07-11",
        "To water on 2026-07-12",
        "Groups, with 90 % range",
        "Week by week",
        "2026-07-15",
        "The door sheet is in door.pdf.",
    ):
        assert said in done.stdout
    assert (files / "door.pdf").read_bytes().startswith(b"%PDF")


def test_who_must_be_watered_is_told_to_programs(files, told):
    done = friable(
        files, "--resume", "kept", "--weekend", "2026-07-11", "--watered-on", "2026-07-10", "--json"
    )
    weekend = json.loads(done.stdout)["weekend"]

    assert list(weekend) == ["2026-07-11", "2026-07-12"]
    trays = next(line for line in weekend["2026-07-11"] if line["group"] == "trays")
    assert (trays["verdict"], trays["count"], trays["chance"]) == ("must", 24, 1)


def test_days_of_another_year_are_looked_up_by_their_date(files, told):
    done = friable(files, "--resume", "kept", "--weekend", "2031-07-05", "--json")

    assert list(json.loads(done.stdout)["weekend"]) == ["2031-07-05", "2031-07-06"]


def test_a_house_by_its_name_and_a_collection_from_standard_input(files, told):
    arguments = ("-", "--climate", "cold glasshouse", "--scenarios", "1", "--draws", "1", "--workers", "1")
    done = subprocess.run(
        [sys.executable, "-m", "friable.cli.main", "season", *arguments, "--json"],
        input=f"mix,container,count\n{R},round 9/6/8.5 cm,3\n",
        capture_output=True,
        text=True,
        cwd=files,
    )

    assert done.returncode == 0, done.stderr
    season = json.loads(done.stdout)
    assert len(season["days"]) == 365
    assert season["climate"] == "cold glasshouse, built-in year"


REFUSED = [
    ((), "No collection is given; name a CSV file whose first line is mix,container,count."),
    (
        ("pots.csv",),
        "--climate “” is empty. Name a weather file, or a house such as “cold glasshouse”.",
    ),
    (
        ("none.csv", "--climate", "house.csv"),
        "The collection “none.csv” does not exist; check its name and folder.",
    ),
    (
        ("pots.csv", "--climate", "none.epw"),
        "The weather file “none.epw” does not exist; check its name and folder.",
    ),
    (
        ("house.csv", "--climate", "house.csv"),
        "The collection has no column “mix”; its first line names the columns: group, mix, container, count, "
        "plant, water_use, place, watering, headspace, drainage_layer.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--scenarios", "0"),
        "--scenarios “0” is no whole number above 0. Give one such as 3.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--scenarios", "51"),
        "number of weathers is 51; it must be from 1 to 50.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--draws", "1000"),
        "number of draws is 1000; it must be from 1 to 256.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--workers", "some"),
        "--workers “some” does not begin with a number. Write it as 3.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--workers", "2", "--cluster", "tcp://192.0.2.7:8786"),
        "--workers “2” stands beside --cluster. Give one of the two.",
    ),
    (
        ("pots.csv", "--climate", "house.csv", "--way", "bucket chain"),
        "The way of watering “bucket chain” is unknown. Use one of: hose, can.",
    ),
    (
        ("pots.csv", "--resume", "kept"),
        "COLLECTION “pots.csv” stands beside --resume, whose folder holds all of it. Leave it out.",
    ),
    (("--resume", "nowhere"), "There is no season in nowhere."),
    (
        ("--resume", "kept", "--watered-on", "2026-07-10"),
        "--watered-on “2026-07-10” belongs to --weekend. Name its first day, or leave it out.",
    ),
    (
        ("--resume", "kept", "--weekend", "2026-12-24"),
        "The season runs from 2026-07-01 to 2026-07-21 and has no 12-24; ask for days within it.",
    ),
    (
        ("--resume", "kept", "--weekend", "2026-07-11", "--watered-on", "2026-06-01"),
        "days since the watering is 40 d; it must be from 1 to 7.",
    ),
    (
        ("--resume", "kept", "--weekend", "2026-07-11", "--door-sheet", "no/such/folder/door.pdf"),
        "no/such/folder/door.pdf cannot be written (No such file or directory); name another file.",
    ),
]


@pytest.mark.parametrize(("arguments", "sentence"), REFUSED, ids=range(len(REFUSED)))
def test_what_cannot_be_answered_is_refused(refusal, files, told, monkeypatch, arguments, sentence):
    monkeypatch.chdir(files)

    assert refusal("season", *arguments) == sentence


def test_nothing_is_left_behind_by_a_cluster_that_does_not_answer(refusal, files, monkeypatch, tmp_path):
    monkeypatch.chdir(files)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(executors, "WAIT_FOR_CLUSTER_S", 1)

    sentence = refusal("season", "pots.csv", "--climate", "house.csv", "--cluster", "tcp://127.0.0.1:1")

    assert sentence == "No cluster answers at tcp://127.0.0.1:1; look up the address of its scheduler."
    assert list(tmp_path.glob("friable-season-*")) == []


def test_a_line_that_cannot_be_read_is_named(refusal, files, monkeypatch):
    monkeypatch.chdir(files)
    (files / "torn.csv").write_text(
        f"mix,container,count\n{R},round 9/6/8.5 cm,three\n{R},a hat,3\n", encoding="utf-8"
    )

    sentence = refusal("season", "torn.csv", "--climate", "house.csv")

    assert sentence.startswith("Line 2 of the collection: count “three” ")
    assert "Line 3 of the collection: No container is called “a hat”." in sentence


def test_a_folder_that_holds_another_season_is_left_alone(refusal, files, told, monkeypatch):
    monkeypatch.chdir(files)

    sentence = refusal(
        "season", "pots.csv", "--climate", "house.csv", "--draws", "3", "--folder", "kept", "--scenarios", "1"
    )

    assert sentence.startswith("kept holds another season (“pots”, 204 pots); go on with that one,")
