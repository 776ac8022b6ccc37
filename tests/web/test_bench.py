"""The bench: what is to be done today, and who is on shift."""

from datetime import timedelta

import time_machine
from django.utils import timezone
from tests import cast
from tests.web.conftest import browser, on_shift, text_of

from friable.records import actions


def test_an_empty_bench_offers_one_thing_to_do(stranger):
    page = text_of(stranger.get("/"))

    assert "Nothing is open." in page
    assert page.count('class="button main"') == 1
    assert "Start a potting job" in page


def test_the_bench_leads_back_to_the_first_step_that_is_not_done(helper):
    job = actions.start_job("saplings, bench 4", by=cast.HELPER)

    page = text_of(helper.get("/"))

    assert "saplings, bench 4" in page
    assert f'href="/jobs/{job.pk}/pots"' in page


def test_one_s_own_job_is_resumed_before_a_later_one_of_someone_else(helper):
    mine = actions.start_job("mine", by=cast.HELPER)
    actions.start_job("theirs", by=cast.KEEPER)

    page = text_of(helper.get("/"))

    assert page.index(f"/jobs/{mine.pk}/") < page.index("theirs")


def test_the_bench_tells_what_is_to_be_mixed_and_what_was_made(helper):
    made = cast.made_batch()

    page = text_of(helper.get("/"))

    assert "Made lately" in page
    assert made.code in page
    assert "Mixed, to be potted" in page


def test_initials_are_typed_once_and_shown(stranger):
    answer = stranger.post("/initials", {"initials": " jo ", "next": "/batches/"})

    assert answer.status_code == 302
    assert answer["Location"] == "/batches/"
    assert "On shift: <strong>JO</strong>" in text_of(stranger.get("/"))


def test_initials_that_are_none_are_refused_and_stay_in_the_field(stranger):
    answer = stranger.post("/initials", {"initials": "J. O.", "next": "/"})

    assert answer.status_code == 422
    page = text_of(answer)
    assert 'value="J. O."' in page
    assert "must be one to 6 letters or digits" in page


def test_a_shift_is_over_after_twelve_hours(db):
    with time_machine.travel("2026-03-14 06:00 +0000", tick=False) as clock:
        client = on_shift(browser())
        clock.shift(12 * 3600 - 1)
        assert "On shift" in text_of(client.get("/"))
        clock.shift(2)
        assert "Who is on shift?" in text_of(client.get("/"))


def test_nobody_is_sent_to_another_place_after_saying_who_they_are(stranger):
    for elsewhere in ("https://example.net/", "//example.net/", "javascript:alert(1)", "\\\\example.net"):
        answer = stranger.post("/initials", {"initials": "JO", "next": elsewhere})

        assert answer["Location"] == "/", elsewhere


def test_a_form_from_elsewhere_is_not_taken(strict):
    assert strict.post("/initials", {"initials": "JO"}).status_code == 403
    assert "Who is on shift?" in text_of(strict.get("/"))


def test_every_page_forbids_scripts_and_styles_in_the_page(helper):
    answer = helper.get("/")

    policy = answer["Content-Security-Policy"]
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    page = text_of(answer)
    assert " style=" not in page
    assert "<style" not in page
    assert page.count("<script") == page.count("<script src=")


def test_a_job_past_its_day_is_called_overdue(helper):
    today = timezone.localdate()
    for title, due_on in (("late ferns", today - timedelta(days=2)), ("ferns in time", today)):
        actions.start_job(title, by=cast.HELPER, due_on=due_on)

    page = " ".join(text_of(helper.get("/")).split())

    late, in_time = page.split("late ferns")[-1], page.split("ferns in time")[-1]
    assert "<strong>overdue</strong>" in late.split("</li>")[0]
    assert "overdue" not in in_time.split("</li>")[0]


def test_what_is_mixed_and_overdue_stands_above_everything_that_can_wait(helper):
    today = timezone.localdate()
    mixed = cast.made_batch().job
    other = actions.start_job("peat-free trial", by=cast.HELPER, due_on=today)
    for job, days in ((mixed, -9), (other, 3)):
        job.state, job.due_on, job.mix_version = "mixed", today + timedelta(days=days), mixed.mix_version
        job.save()
    actions.start_job("ferns in time", by=cast.HELPER, due_on=today)

    page = text_of(helper.get("/"))

    rows = page[page.index("Mixed, to be potted") :]
    assert rows.index(mixed.title) < rows.index("peat-free trial") < rows.index("Open jobs")
