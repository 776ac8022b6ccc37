"""Batches: found by their code, written down as made, undone and corrected in the open."""

import pytest
import time_machine
from tests import cast
from tests.web.conftest import text_of

from friable.records import actions
from friable.records.models import Batch


@pytest.fixture
def planned(db):
    """A planned batch of the bench job."""
    return cast.planned_batch()


def made(batch, **said):
    """Return what the form of what was made sends."""
    lines = {f"line-{line.pk}": "" for line in batch.lines.all()}
    return {
        **lines,
        "made_l": "95 L",
        "made_at": "2026-03-14T09:30",
        "made_by": "tb",
        "treated": "no",
        "note": "",
        "as_planned": "on",
        **said,
    }


def test_the_list_shows_batches_by_state(helper, planned):
    assert planned.code in text_of(helper.get("/batches/"))
    assert planned.code in text_of(helper.get("/batches/?state=planned"))
    assert planned.code not in text_of(helper.get("/batches/?state=made"))
    assert planned.code in text_of(helper.get("/batches/?state=lunch"))
    assert "There is none yet" in text_of(helper.get("/batches/?state=undone"))
    assert helper.get("/batches/?page=zzz").status_code == 200


def test_a_batch_is_found_by_the_code_on_its_label(helper, planned):
    written = planned.code.lower().replace("-", " ")

    assert helper.get("/batches/", {"code": written})["Location"] == f"/batches/{planned.code}"


@pytest.mark.parametrize("code", ["", "26-333J", "hello", "1e308", "26-334\x00", "🌱", "x" * 5000])
def test_a_code_that_is_none_is_refused_and_stays(helper, code):
    answer = helper.get("/batches/", {"code": code})

    assert answer.status_code == 422
    assert 'id="id_code_error"' in text_of(answer)


def test_a_batch_that_is_not_there_is_said_so(helper, planned):
    for code in ("26-9999", "hello", "26-333T"):
        if code == planned.code:
            continue
        for page in ("", "/record", "/undo"):
            assert helper.get(f"/batches/{code}{page}").status_code == 404
        assert helper.get(f"/sheets/batch/{code}").status_code == 404
        assert helper.get(f"/sheets/label/{code}").status_code == 404
    assert helper.get("/sheets/card/4711").status_code == 404


def test_what_was_really_put_in_is_kept_beside_what_was_planned(helper, planned):
    bark, peat, perlite = planned.lines.all()
    sent = made(planned, **{f"line-{bark.pk}": "80 L", f"line-{peat.pk}": "1 bucket"})

    with time_machine.travel("2026-03-14 17:00 +0000", tick=False):
        answer = helper.post(f"/batches/{planned.code}/record", sent)

    # The shift began later than that, so initials are asked for again.
    assert answer.status_code == 422
    answer = helper.post(f"/batches/{planned.code}/record", sent)
    assert answer["Location"] == f"/batches/{planned.code}"
    planned.refresh_from_db()
    assert (planned.state, planned.made_by, planned.made_l) == ("made", "TB", 95)
    assert [line.put_in_l for line in planned.lines.all()] == pytest.approx([80, 12, perlite.planned_l])
    page = text_of(helper.get(f"/batches/{planned.code}"))
    assert "80.0 L" in page
    assert "77.7 L" in page
    assert "14 March 2026, 09:30, TB" in page
    assert "Written down" in page


def test_an_empty_line_stays_not_written_down(helper, planned):
    helper.post(f"/batches/{planned.code}/record", made(planned, as_planned=""))

    assert [line.put_in_l for line in planned.lines.all()] == [None, None, None]
    assert "not written down" in text_of(helper.get(f"/batches/{planned.code}"))


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("made_l", ""),
        ("made_l", "95"),
        ("made_l", "1e308 L"),
        ("made_l", "NaN L"),
        ("made_l", "0 L"),
        ("made_at", "yesterday"),
        ("made_at", "2999-01-01T00:00"),
        ("made_by", ""),
        ("made_by", "J. O."),
        ("treated", "perhaps"),
        ("note", "x" * 5000),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_recorded(helper, planned, field, text):
    answer = helper.post(f"/batches/{planned.code}/record", made(planned, **{field: text}))

    assert answer.status_code == 422
    page = text_of(answer)
    assert f'id="id_{field}_error"' in page
    assert text in page or field == "treated"  # a list shows only what is in it
    planned.refresh_from_db()
    assert planned.state == "planned"


def test_a_batch_is_recorded_once(helper, planned):
    helper.post(f"/batches/{planned.code}/record", made(planned))
    again = helper.post(f"/batches/{planned.code}/record", made(planned, made_l="1 L"))

    assert again.status_code == 422
    assert "cannot be written down as made again" in text_of(again)
    planned.refresh_from_db()
    assert planned.made_l == 95


def test_recording_needs_initials(stranger, planned):
    answer = stranger.post(f"/batches/{planned.code}/record", made(planned))

    assert answer.status_code == 422
    assert "Initials are missing" in text_of(answer)
    planned.refresh_from_db()
    assert planned.state == "planned"


def test_a_wrong_batch_is_undone_in_the_open(helper):
    batch = cast.made_batch()

    assert helper.post(f"/batches/{batch.code}/undo", {"reason": "", "undo": "1"}).status_code == 422
    helper.post(f"/batches/{batch.code}/undo", {"reason": "fine perlite <went> in", "undo": "1"})

    page = text_of(helper.get(f"/batches/{batch.code}"))
    assert "fine perlite &lt;went&gt; in" in page
    assert "Print labels" not in page
    assert batch.code in text_of(helper.get("/batches/?state=undone"))
    assert helper.post(f"/batches/{batch.code}/undo", {"reason": "again", "undo": "1"}).status_code == 422


def test_a_correction_stands_in_the_place_of_what_was_wrong(helper):
    batch = cast.made_batch()

    answer = helper.post(f"/batches/{batch.code}/undo", {"reason": "wrong volume", "correct": "1"})

    new = Batch.objects.get(corrects=batch)
    assert answer["Location"] == f"/batches/{new.code}/record"
    assert f"Batch {new.code} stands in its place." in text_of(helper.get(f"/batches/{batch.code}"))
    assert batch.code in text_of(helper.get(f"/batches/{new.code}"))


def test_the_history_says_who_did_what(helper):
    batch = cast.made_batch()
    actions.undo_batch(batch, by=cast.KEEPER, reason="trial")

    page = text_of(helper.get(f"/batches/{batch.code}"))

    history = page[page.index("History") :]
    assert f"{cast.HELPER}: planned" in history
    assert f"{cast.HELPER}: written down as made" in history
    assert f"{cast.KEEPER}: undone" in history


def test_a_form_from_elsewhere_records_nothing(strict, planned):
    assert strict.post(f"/batches/{planned.code}/record", made(planned)).status_code == 403
    assert strict.post(f"/batches/{planned.code}/undo", {"reason": "x"}).status_code == 403
