"""Seasons in a browser without scripts: asked for, begun in a process of its own, looked at, stopped."""

import html
from datetime import date, timedelta
from io import BytesIO

import pytest
from django.urls import reverse
from tests import cast
from tests.bucket import bucket
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, TEMPLATE

from friable.records import actions
from friable.records.models import Season
from friable.web.seasons import work

pytestmark = pytest.mark.django_db

PEAT = "2 sphagnum peat medium + 1 perlite coarse"
COLLECTION = f"""group,mix,container,count,plant,watering
north,{PEAT},round 17/12/13 cm,10,shrubs,every 3 days
south,{PEAT},round 9/7/8 cm,100,ferns,on need
"""


def logger(days=40):
    """A logger's record from 1 June on, 14 °C by night and 24 by day."""
    first = date(2026, 6, 1)
    lines = ["Time,Temp °C,RH %"]
    for hour in range(24 * days):
        day = first + timedelta(days=hour // 24)
        lines.append(f"{day} {hour % 24:02d}:00,{24 if 8 <= hour % 24 < 20 else 14},60")
    return "\n".join(lines) + "\n"


@pytest.fixture
def climate(db):
    said = {"kind": "logger", "text": logger(), "starts_on": date(2026, 6, 1), "hours": 960}
    return actions.add_climate(
        "house 2", by=cast.KEEPER, under_glass=True, light_transmission=0.6, latitude_deg=53.0, **said
    )


@pytest.fixture
def begun(monkeypatch):
    """What was started as a process of its own; nothing is."""
    started = []

    class Process:
        def __init__(self, arguments, **options):
            started.append((arguments, options))

    monkeypatch.setattr(work.subprocess, "Popen", Process)
    return started


@pytest.fixture(autouse=True)
def _folder_of_its_own(settings, tmp_path):
    settings.DATA_FOLDER = tmp_path


def asked(stored, **changes):
    return {
        "title": "the houses", "collection": COLLECTION, "climate": f"stored-{stored.pk}", "weathers": "2",
        "draws": "3", **changes,
    }  # fmt: skip


def tell(season, **changes):
    """Write progress as the process does."""
    from friable.runs.progress import Progress, Reporter

    values = {"state": "running", "name": "x", "pots": 110, "distinct_kinds": 2, "pot_days": 480, "blocks": 4}
    Reporter(work.folder_of(season), Progress(**{**values, **changes}))


def work_out(season):
    """Do what the process does, with a bucket in place of the flow of water."""
    from friable.planning.season import block_work, run_block, summary
    from friable.runs.answer_file import write_answer
    from friable.runs.season_run import read_plan

    folder = work.folder_of(season)
    plan = read_plan(folder)
    write_answer(folder, summary(plan, (run_block(block_work(plan, n), bucket) for n in range(plan.blocks))))
    tell(season, state="done", done=4)


@pytest.fixture
def done(helper, climate, begun):
    """A season that is done."""
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    work_out(season)
    return season


def test_a_season_is_asked_for_planned_and_begun_elsewhere(helper, climate, begun):
    answer = helper.post("/seasons/new", asked(climate))

    season = Season.objects.get()
    assert answer["Location"] == f"/seasons/{season.pk}/"
    assert (season.state, season.pots, season.asked_by, season.climate) == ("running", 110, "JO", climate)
    (arguments, options) = begun[0]
    assert arguments[1:4] == ["-m", "friable.cli.main", "season"]
    assert arguments[arguments.index("--resume") + 1] == str(work.folder_of(season))
    assert options["start_new_session"] is True
    assert (work.folder_of(season) / "plan.npz").exists()
    page = text_of(helper.get(f"/seasons/{season.pk}/"))
    assert "It is just beginning." in page
    assert "Stop it; what is done stays" in page


def test_a_file_may_be_uploaded_and_names_of_ours_are_understood(helper, climate, begun):
    cast.potting_on()
    cast.two_litre_pot()
    given = BytesIO(b"\xef\xbb\xbfmix;container;count\npotting-on bark;2 L pot;24\n")
    given.name = "pots.csv"

    helper.post("/seasons/new", {**asked(climate, collection=""), "file": given})

    assert Season.objects.get().pots == 24


def test_how_far_it_is_is_read_from_its_folder(helper, climate, begun, monkeypatch):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    monkeypatch.setattr("friable.runs.progress.is_held", lambda _folder: True)
    tell(season, done=1, seconds_left=200.0)

    part = helper.get(f"/seasons/{season.pk}/progress")

    assert "1 of 4 blocks are worked out." in text_of(part)
    assert 'hx-trigger="every 2s"' in text_of(part)
    assert "HX-Refresh" not in part.headers


def test_a_season_that_was_cut_off_can_go_on(helper, climate, begun):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    tell(season, done=1)  # it says that it runs, and nobody holds its folder

    page = text_of(helper.get(f"/seasons/{season.pk}/"))

    season.refresh_from_db()
    assert season.state == "stopped"
    assert "Go on" in page
    helper.post(f"/seasons/{season.pk}/begin")
    season.refresh_from_db()
    assert (season.state, len(begun)) == ("running", 2)


def test_a_season_is_stopped_and_what_is_done_stays(helper, climate, begun):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()

    helper.post(f"/seasons/{season.pk}/stop")

    season.refresh_from_db()
    assert season.state == "stopped"
    assert (work.folder_of(season) / "stop").exists()


def test_a_wish_to_stop_that_was_not_heard_is_not_told_as_stopped(helper, climate, begun, monkeypatch):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    helper.post(f"/seasons/{season.pk}/stop")
    (work.folder_of(season) / "stop").unlink()  # as a process does that begins
    monkeypatch.setattr("friable.runs.progress.is_held", lambda _folder: True)
    tell(season, done=1)

    helper.get(f"/seasons/{season.pk}/")

    season.refresh_from_db()
    assert season.state == "running"


def test_a_season_that_still_ends_its_blocks_is_not_begun_twice(helper, climate, begun):
    from friable.runs.lock import held

    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    helper.post(f"/seasons/{season.pk}/stop")
    with held(work.folder_of(season)):
        assert "still ends the blocks it was at" in text_of(helper.get(f"/seasons/{season.pk}/"))
        assert "HX-Refresh" not in helper.get(f"/seasons/{season.pk}/progress").headers
        answer = helper.post(f"/seasons/{season.pk}/begin")

    assert answer.status_code == 422
    assert "It is still ending the blocks it was at" in text_of(answer)
    assert "HX-Refresh" in helper.get(f"/seasons/{season.pk}/progress").headers
    assert len(begun) == 1


def test_what_went_wrong_is_said_in_its_sentence(helper, climate, begun):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    tell(season, state="failed", problem="Block 2 lost its worker 3 times.")

    page = text_of(helper.get(f"/seasons/{season.pk}/"))

    assert "Block 2 lost its worker 3 times." in page
    season.refresh_from_db()
    assert season.state == "failed"


def test_a_process_that_never_began_is_told_with_its_last_words(helper, climate, begun, monkeypatch):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    (work.folder_of(season) / "log.txt").write_text("No module named friable\n")
    monkeypatch.setattr(work, "PATIENCE_S", -1)

    assert "No module named friable" in text_of(helper.get(f"/seasons/{season.pk}/"))


def test_one_season_is_worked_out_at_a_time(helper, climate, begun, monkeypatch):
    helper.post("/seasons/new", asked(climate))
    monkeypatch.setattr("friable.runs.progress.is_held", lambda _folder: True)
    tell(Season.objects.get())

    answer = helper.post("/seasons/new", asked(climate, title="another"))

    assert answer.status_code == 422
    assert "“the houses” is being worked out; wait until it is done" in text_of(answer)


def test_a_season_says_who_is_watered_and_what_stands_wrong(helper, done):
    page = html.unescape(text_of(helper.get(f"/seasons/{done.pk}/")))

    assert "Watering these 110 pots takes about" in page
    assert "The busiest week, from" in page
    for heading in ("Group by group", "Day by day", "A sheet for the door"):
        assert heading in page
    assert "June 2026" in page
    assert page.count("pots to water") >= 40  # every day in words, not by a bar alone
    assert " style=" not in page
    assert "done" in text_of(helper.get("/seasons/"))


def test_the_door_sheet_is_a_pdf_for_the_days_that_were_chosen(helper, done):
    answer = helper.get(f"/seasons/{done.pk}/", {"first": "2026-06-13", "last": "2026-06-14"})

    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    other_year = helper.get(f"/seasons/{done.pk}/", {"first": "2031-06-13", "last": "2031-06-13"})
    assert other_year["Content-Type"] == "application/pdf"


@pytest.mark.parametrize(
    ("days", "sentence"),
    [
        ({"first": "2026-12-24", "last": "2026-12-25"}, "ask for days within it"),
        ({"first": "2026-06-14", "last": "2026-06-13"}, "The last day comes before the first"),
        ({"first": "2026-06-01", "last": "2026-07-10"}, "holds fourteen days at most"),
        ({"first": "soon", "last": "2026-06-13"}, "This is not a day of the calendar"),
        (
            {"first": "2026-06-13", "last": "2026-06-13", "watered_on": "2026-06-13"},
            "days since the watering",
        ),
    ],
)
def test_a_door_sheet_that_cannot_be_is_refused(helper, done, days, sentence):
    answer = helper.get(f"/seasons/{done.pk}/", days)

    assert answer.status_code == 422
    assert sentence in html.unescape(text_of(answer))


def test_two_seasons_are_held_against_each_other(helper, climate, done):
    helper.post(
        "/seasons/new", asked(climate, title="fewer ferns", collection=COLLECTION.replace("100", "50"))
    )
    other = Season.objects.get(title="fewer ferns")
    work_out(other)
    helper.get(f"/seasons/{other.pk}/")
    helper.get(f"/seasons/{done.pk}/")

    page = text_of(helper.get(f"/seasons/{other.pk}/", {"other": str(done.pk)}))

    assert "Against “the houses”: -" in page
    assert "-50 pots" in page


def test_numbers_that_are_gone_are_asked_for_afresh(helper, done):
    helper.get(f"/seasons/{done.pk}/")
    (work.folder_of(done) / "answer.npz").unlink()

    assert "Its numbers are gone from the data folder" in text_of(helper.get(f"/seasons/{done.pk}/"))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"collection": ""}, "There is no collection yet"),
        ({"collection": "x"}, "no column"),
        ({"collection": MARKUP}, "no column"),
        ({"collection": TEMPLATE}, "no column"),
        (
            {"collection": "mix,container,count\n5 moon dust,round 17/12/13 cm,3\n"},
            "Line 2 of the collection",
        ),
        ({"collection": f"mix,container,count\n{PEAT},moon pot,3\n"}, "No container is called “moon pot”"),
        ({"collection": f"mix,container,count\n{PEAT},round 17/12/13 cm,NaN\n"}, "not a finite number"),
        (
            {"collection": f"mix,container,count,place\n{PEAT},round 17/12/13 cm,3,outdoors\n"},
            "stands outdoors",
        ),
        ({"title": ""}, "The season has no name"),
        ({"weathers": "0"}, "Weathers: 0 is out of range; give from 1 to 50."),
        ({"weathers": "1e308"}, "is not a whole number"),
        ({"draws": "9999"}, "Draws: 9999 is out of range; give from 1 to 256."),
        ({"draws": "NaN"}, "is not a whole number"),
        ({"climate": "stored-99"}, "This is not in the list any more"),
    ],
)
def test_what_cannot_be_worked_out_is_refused_in_a_sentence_and_stays(
    helper, climate, begun, changes, sentence
):
    answer = helper.post("/seasons/new", asked(climate, note="kept note", **changes))

    page = html.unescape(text_of(answer))
    assert answer.status_code == 422
    assert sentence in page
    assert "kept note" in page
    assert "<script>alert" not in text_of(answer)
    assert begun == []
    assert not Season.objects.exists()


def test_a_picture_is_no_collection(helper, climate, begun):
    given = BytesIO(b"\x89PNG\r\n\x1a\n\xff")
    given.name = "leaf.png"

    answer = helper.post("/seasons/new", {**asked(climate), "file": given})

    assert answer.status_code == 422
    assert "The file is not text" in text_of(answer)


def test_ten_megabytes_are_refused_in_one_sentence(helper, climate):
    answer = helper.post("/seasons/new", asked(climate, collection="x" * 10_000_000))

    assert answer.status_code == 413
    assert "it must be at most 1 MB" in text_of(answer)


def test_a_stranger_is_asked_for_initials_before_anything_begins(stranger, climate, begun):
    answer = stranger.post("/seasons/new", asked(climate))

    assert answer.status_code == 422
    assert "Initials are missing" in text_of(answer)
    assert begun == []
    assert stranger.post("/seasons/new", asked(climate, signed_by="tb")).status_code == 302
    assert Season.objects.get().asked_by == "TB"


def test_nobody_may_what_the_guard_does_not_let_them(helper, climate, begun, monkeypatch):
    helper.post("/seasons/new", asked(climate))
    season = Season.objects.get()
    monkeypatch.setattr("friable.web.guard.local_person_may", lambda _act: False)

    for name, args in (
        ("season-list", []), ("season-new", []), ("season-detail", [season.pk]),
        ("season-progress", [season.pk]),
    ):  # fmt: skip
        assert helper.get(reverse(name, args=args)).status_code == 403, name
    for name in ("season-begin", "season-stop"):
        assert helper.post(reverse(name, args=[season.pk])).status_code == 403, name
    assert helper.post("/seasons/new", asked(climate)).status_code == 403
    season.refresh_from_db()
    assert season.state == "running"
    assert Season.objects.count() == 1


def test_a_form_from_elsewhere_is_not_taken(strict):
    assert strict.post("/seasons/new", {"title": "x"}).status_code == 403
    assert strict.post("/seasons/1/begin").status_code == 403
