"""Names that look like commands are printed as they are, on pages, in drawings and on paper; or refused."""

import html
import re
from xml.etree import ElementTree

import pytest
from django.urls import reverse
from tests.sheets.pages import text_of as printed_on
from tests.web.conftest import text_of

from friable.records.models import Batch, Container, Material, Mix, PottingJob

NAMES = [
    '#read("/etc/passwd")',
    "</text><script>alert(1)</script>",
    "{{ 1 }}",
    '{% now "Y" %}',
    "$(id) `id` ; rm -rf ~",
    "*bold* _under_ = head",
    "<b>&amp;</b>",
    "'; DROP TABLE records_mix; --",
    "=1+2",
]


def send(helper, name, said, *args):
    """Send a form that must be taken, and return where it leads."""
    answer = helper.post(reverse(name, args=args), said)
    refused = re.findall(r'class="refusal"[^>]*>(.*?)<', text_of(answer), re.S)
    assert answer.status_code == 302, refused
    return answer["Location"]


def job_with(helper, name):
    """Make everything under one name, through the pages alone, up to the planned batch."""
    send(helper, "material-add", {"name": f"{name} bark", "rests_on": "pine bark nursery", "note": name})
    material = Material.objects.get(name=f"{name} bark")
    send(helper, "container-add", {"name": name, "measures": "round 17/12/13 cm", "headspace": "1.5 cm",
                                   "note": name})  # fmt: skip
    lines = {"line-0-parts": "5", "line-0-material": material.name, "line-1-parts": "1",
             "line-1-material": "perlite coarse"}  # fmt: skip
    send(helper, "mix-write", {"recipe": "", "lines": "2", "amendments": "1", **lines, "name": name,
                               "amendment-0-name": name, "amendment-0-rate": "3 g/L", "cautions": name,
                               "amendment-0-caution": name, "plant_group": name, "top_dressing": name,
                               "container": name, "version_note": name})  # fmt: skip
    mix = Mix.objects.get(name=name)
    send(helper, "job-new", {"title": name, "note": name})
    job = PottingJob.objects.get(title=name)
    send(helper, "job-pots", {"title": name, "note": name, "lines": "1", "line-0-count": "6",
                              "line-0-into": name, "line-0-root": "none"}, job.pk)  # fmt: skip
    send(helper, "job-mix", {"version": mix.versions.first().pk}, job.pk)
    send(helper, "job-amounts", {"overage": "5 %", "settling": "0 %"}, job.pk)
    send(helper, "job-batch", {}, job.pk)
    return job, mix, material, Container.objects.get(name=name), Batch.objects.get(job=job)


@pytest.mark.django_db
@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_printed_as_it_is(helper, name, tmp_path):
    job, mix, material, pot, batch = job_with(helper, name)
    written = text_of(helper.get(reverse("mix-detail", args=[mix.pk])))
    pages = [
        "/", reverse("job-pots", args=[job.pk]), reverse("job-mix", args=[job.pk]),
        reverse("job-amounts", args=[job.pk]), reverse("job-batch", args=[job.pk]),
        reverse("mix-list"), reverse("material-list"), reverse("container-list"),
        reverse("batch-list"), reverse("batch-detail", args=[batch.code]),
        reverse("batch-record", args=[batch.code]), reverse("material-detail", args=[f"OWN_{material.pk}"]),
        reverse("container-detail", args=[pot.pk]),
    ]  # fmt: skip
    for page in [written, *(text_of(helper.get(address)) for address in pages)]:
        assert html.escape(name) in page
        assert "<script>alert" not in page
        assert "root:x:0" not in page
        assert "uid=" not in page
        for drawing in re.findall(r"<svg.*?</svg>", page, re.S):
            ElementTree.fromstring(drawing)  # noqa: S314 - our own drawing, a name in it must not break it
    assert "<svg" in written

    label = {"label_width_mm": "90", "label_height_mm": "50", "copies": "1", "start_at": "1", "columns": "2",
             "rows": "5", "margin_left_mm": "15", "margin_top_mm": "14", "gap_across_mm": "0",
             "gap_down_mm": "0", "cut_lines": "yes", "lime": "not known", "fertiliser": "not known",
             "paper": "a4"}  # fmt: skip
    for answer in (
        helper.get(reverse("sheet-batch", args=[batch.code])),
        helper.get(reverse("sheet-label", args=[batch.code]), label),
        helper.get(reverse("sheet-card", args=[mix.versions.first().pk])),
    ):
        assert answer["Content-Type"] == "application/pdf"
        assert solid(name) in solid(printed_on(answer.content, tmp_path))


def solid(text):
    """Return a text without its gaps, which paper puts where it breaks lines."""
    return re.sub(r"\s", "", text)


HIDDEN = "\u202eabc"
REFUSED = [
    ("material-add", {"name": HIDDEN}, "name"),
    ("container-add", {"name": HIDDEN, "measures": "round 17/12/13 cm"}, "name"),
    (
        "mix-write",
        {"name": HIDDEN, "recipe": "5 pine bark nursery", "container": "round 17/12/13 cm"},
        "name",
    ),
    ("job-new", {"title": HIDDEN}, "title"),
]


@pytest.mark.django_db
@pytest.mark.parametrize(("form", "said", "field"), REFUSED, ids=[form for form, _said, _field in REFUSED])
def test_a_name_that_turns_the_line_round_is_refused_and_kept_in_the_form(helper, form, said, field):
    answer = helper.post(reverse(form), said)

    assert answer.status_code == 422
    assert "has a character that cannot be seen (U+202E, character 1); type it again." in text_of(answer)
    assert said[field] in text_of(answer)
    assert not any(model.objects.exists() for model in (Container, Mix, PottingJob))


@pytest.mark.django_db
@pytest.mark.parametrize(
    "initials", ["\u202eMK", "<b>", "MK MK", "{{1}}", "$(id)", "🌱", "M\x00K", "MKMKMKM"]
)
def test_initials_are_letters_or_refused(stranger, initials):
    answer = stranger.post(reverse("initials"), {"initials": initials})

    assert answer.status_code == 422
    assert len(re.findall(r'<p class="refusal"[^>]*id=', text_of(answer))) == 1
    assert "<b>" not in text_of(answer).partition("<main")[2]
