"""The first step of a job: pots, counts, roots; what is typed is never lost."""

import pytest
from tests import cast
from tests.web.conftest import text_of

from friable.records import actions
from friable.records.models import Container, JobDraft, PottingJob

LINE = {
    "count": "60",
    "into": "round 17/12/13 cm",
    "headspace": "1.5 cm",
    "root": "root ball",
    "potted_from": "round 9/6/8.5 cm",
    "potted_from_headspace": "1 cm",
    "drainage_layer": "",
    "layer_material": "",
}


def typed(*lines, **job):
    """Return what the form of the pots sends."""
    sent = {"title": "saplings", "due_on": "", "note": "", "litres": "", "lines": str(len(lines)), **job}
    for place, line in enumerate(lines):
        sent |= {f"line-{place}-{name}": text for name, text in {**LINE, **line}.items()}
    return sent


@pytest.fixture
def job(db):
    """A job that was just started."""
    return actions.start_job("saplings", by=cast.HELPER)


def address(job):
    return f"/jobs/{job.pk}/pots"


def test_a_job_is_started_with_a_name_and_initials(stranger):
    answer = stranger.post("/jobs/new", {"title": "ferns", "due_on": "2026-03-14", "signed_by": "tb"})

    job = PottingJob.objects.get()
    assert answer["Location"] == f"/jobs/{job.pk}/pots"
    assert (job.title, job.created_by, job.due_on.isoformat()) == ("ferns", "TB", "2026-03-14")
    assert "On shift: <strong>TB</strong>" in text_of(stranger.get("/"))


def test_a_job_without_initials_is_refused_and_what_was_typed_stays(stranger):
    answer = stranger.post("/jobs/new", {"title": "ferns, bench 2", "note": "mind the frost"})

    assert answer.status_code == 422
    page = text_of(answer)
    assert "Initials are missing" in page
    assert 'value="ferns, bench 2"' in page
    assert "mind the frost" in page
    assert not PottingJob.objects.exists()


def test_pots_typed_by_their_sizes_are_kept_and_lead_on_to_the_mix(helper, job):
    answer = helper.post(address(job), typed({}))

    assert answer.status_code == 302
    assert answer["Location"] == f"/jobs/{job.pk}/mix"
    line = job.lines.get()
    assert (line.count, line.headspace_cm, line.root) == (60, 1.5, "root ball")
    assert line.container.name == "round 17/12/13 cm"
    assert line.potted_from.name == "round 9/6/8.5 cm"
    assert line.potted_from_headspace_cm == 1.0


def test_whoever_names_an_old_pot_brings_a_root_ball_along(helper, job):
    answer = helper.post(address(job), typed({"root": ""}))

    assert answer.status_code == 302
    line = job.lines.get()
    assert (line.root, line.potted_from.name) == ("root ball", "round 9/6/8.5 cm")


def test_an_old_pot_that_cannot_be_read_is_the_only_thing_refused(helper, job):
    page = text_of(helper.post(address(job), typed({"root": "", "potted_from": "moon pot"})))

    assert "No container is called “moon pot”" in page
    assert "Say what the plants bring along" not in page


def test_a_stored_pot_is_found_by_its_name(helper, job):
    pot = cast.two_litre_pot()

    helper.post(address(job), typed({"into": "2 l POT", "headspace": ""}))

    line = job.lines.get()
    assert line.container == pot
    assert line.headspace_cm == 1.5  # the usual one of this pot


def test_several_lines_are_kept_and_empty_ones_left_out(helper, job):
    empty = {name: "" for name in LINE}
    helper.post(address(job), typed({}, empty, {"count": "12", "root": "none", "potted_from": ""}))

    assert [line.count for line in job.lines.all()] == [60, 12]


def test_a_volume_stands_in_place_of_pots(helper, job):
    answer = helper.post(address(job), typed({name: "" for name in LINE}, litres="240 L"))

    assert answer.status_code == 302
    job.refresh_from_db()
    assert job.litres_l == 240


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ({"count": ""}, "The number of pots is missing"),
        ({"count": "1e308"}, "1e308"),
        ({"count": "NaN"}, "NaN"),
        ({"count": "-3"}, "-3"),
        ({"count": "🌱"}, "🌱"),
        ({"into": "round 17/12"}, "round 17/12"),
        ({"into": "2 L\tpot\n60"}, "pot"),
        ({"headspace": "14 cm"}, "less than the height of the container (13 cm)"),
        ({"headspace": "1.5"}, "has no unit"),
        ({"root": "", "potted_from": ""}, "Say what the plants bring along"),
        ({"potted_from": ""}, "Say which pot the root balls come from"),
        ({"layer_material": "gravel"}, "Give the drainage layer a depth above 0 cm"),
        ({"drainage_layer": "3 cm"}, "Say what the drainage layer is made of"),
        ({"drainage_layer": "3 cm", "layer_material": "moon dust"}, "moon dust"),
        ({"drainage_layer": "12 cm", "layer_material": "gravel"}, "less than the filled height"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_stays_in_its_field(helper, job, line, sentence):
    answer = helper.post(address(job), typed(line, title="kept title"))

    assert answer.status_code == 422
    page = text_of(answer)
    assert sentence in page
    assert 'value="kept title"' in page
    for text in line.values():
        assert f'value="{text}"' in page or not text
    assert not job.lines.exists()


def test_a_root_ball_that_does_not_fit_is_said_with_the_amounts(helper, job):
    assert helper.post(address(job), typed({"potted_from": "round 30/25/28 cm"})).status_code == 302
    actions.save_job_step(job, "mix", by=cast.HELPER, mix_version=cast.potting_on())

    page = text_of(helper.get(f"/jobs/{job.pk}/amounts"))

    assert "root ball" in page
    assert 'class="refusal"' in page
    assert "L of parts" not in page


def test_a_long_text_is_refused_but_not_cut(helper, job):
    long = "saplings " * 100

    answer = helper.post(address(job), typed({}, title=long))

    assert answer.status_code == 422
    assert "Shorten it." in text_of(answer)
    assert long.strip() in text_of(answer)


def test_nearly_a_megabyte_is_refused_and_comes_back_whole(helper, job):
    pasted = "bark;12;L\n" * 90_000

    answer = helper.post(address(job), typed({}, note=pasted))

    assert answer.status_code == 422
    assert pasted.strip() in text_of(answer)
    assert not job.lines.exists()


def test_scripts_are_text(helper, job):
    hostile = "<script>alert('x')</script>"

    answer = helper.post(address(job), typed({"into": hostile}, title=hostile, note=hostile))

    page = text_of(answer)
    assert answer.status_code == 422
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_names_print_as_they_are_typed(helper):
    name = "Ångström & Söhne {{ x }} {% y %} ' \" <b>"
    job = actions.start_job(name, by=cast.HELPER)

    page = text_of(helper.get("/"))

    assert "<b>" not in page
    assert "{{ x }} {% y %}" in page
    assert helper.get(address(job)).status_code == 200


def test_a_line_is_added_and_taken_out_without_scripts(helper, job):
    more = text_of(helper.post(address(job), {**typed({}), "one_more": "1"}))
    assert 'name="line-1-count"' in more
    assert 'value="round 17/12/13 cm"' in more

    less = text_of(helper.post(address(job), {**typed({"count": "7"}, {"count": "8"}), "take_out": "0"}))
    assert 'name="line-1-count"' not in less
    assert 'value="8"' in less
    assert not job.lines.exists()


def test_what_was_refused_is_there_when_one_comes_back(helper, job):
    helper.post(address(job), typed({"into": "round 17/"}))

    page = text_of(helper.get(address(job)))

    assert 'value="round 17/"' in page
    assert 'value="60"' in page


def test_a_draft_is_kept_while_typing(helper, stranger, job):
    assert helper.post(f"/jobs/{job.pk}/typed/pots", typed({"count": "5"})).status_code == 204
    assert JobDraft.objects.get().typed["line-0-count"] == ["5"]
    assert stranger.post(f"/jobs/{job.pk}/typed/pots", typed({})).status_code == 422
    assert helper.post(f"/jobs/{job.pk}/typed/lunch", typed({})).status_code == 422
    assert helper.get(f"/jobs/{job.pk}/typed/pots").status_code == 405


def test_a_job_that_is_not_there_is_said_so(helper):
    for step in ("pots", "mix", "amounts", "batch", "clone", "drop", "potted"):
        assert helper.get(f"/jobs/4711/{step}").status_code == 404
    assert helper.get("/jobs/99999999999999999999/pots").status_code == 404


def test_a_form_from_elsewhere_changes_nothing(strict, job):
    assert strict.post(address(job), typed({})).status_code == 403
    assert not job.lines.exists()


def test_pots_typed_twice_are_stored_once(helper, job):
    helper.post(address(job), typed({}))
    helper.post(address(job), typed({"count": "61"}))

    assert Container.objects.count() == 2
    assert job.lines.get().count == 61
