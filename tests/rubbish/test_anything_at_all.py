"""Whatever is typed, it is taken or refused with a sentence; nothing else is ever raised or answered."""

import json

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests import cast
from tests.rubbish.test_pages_sent import FORMS, address
from tests.strategies import refusal
from tests.web.conftest import browser, on_shift

from friable.cli import names_here
from friable.cli.main import main
from friable.cli.weather_typed import read_columns, read_date
from friable.planning import units_in, watering_text
from friable.planning.notation import parse_container, parse_recipe, read_recipe_file
from friable.planning.pot_list import read_pot_list

# Pieces out of which what people type is made, and what breaks readers: numbers, units, joints, odd signs.
PIECES = [
    "5", "1/2", "½", "1e308", "-1", "0", "NaN", "inf", "1,5", "1.500,3", "9" * 50, "1e-400", "%", " ", "\t",
    "\n", "+", ",", ";", "/", "x", "×", "(", ")", "[", "]", "=", '"', "“", "'", "L", "cm", "mm", "kg", "g/L",
    "kg/m3", "gallon", "cu ft", "round", "tray", "cell", "basket", "pine bark nursery", "perlite coarse",
    "perlite", "to", "-", "loose", "(loose soaked)", "\u202e", "\u200d", "\x00", "🌱", "٣", "²", "é", "ﬁ",
    "mix", "parts", "standing water ", "saucer ", "mat ", "flood ", " min", " h", "2.31 kg ", "time=",
    "2026-07-01",
]  # fmt: skip
typed = st.one_of(st.text(max_size=40), st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
READERS = [
    parse_recipe, parse_container, read_recipe_file, units_in.litres, units_in.centimetres, units_in.grams,
    units_in.kilograms, units_in.fraction, units_in.count, units_in.rate_g_per_l,
    lambda text: read_pot_list("container,count,headspace\n" + text, parse_container),
    watering_text.read_base, watering_text.hours, watering_text.rate_l_h, watering_text.weighings,
    read_columns,
    lambda text: read_date(text, "--from"),
]  # fmt: skip


@pytest.mark.parametrize("read", READERS)
@given(text=typed)
def test_a_reader_takes_or_refuses(read, text):
    sentence = refusal(read, text)

    assert "\n" not in sentence


scalars = st.one_of(
    typed, st.integers(), st.floats(), st.booleans(), st.sampled_from([10**400, float("nan"), -0.0])
)
values = st.recursive(scalars, lambda inner: st.lists(inner, max_size=3), max_leaves=5)
KEYS = ["parts", "shrinkage", "amendments", "cautions", "incomplete", "top_dressing", "colour"]


def toml(value):
    """Return a value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(toml(one) for one in value)}]"
    if isinstance(value, str):
        return json.dumps(value.encode("utf-8", "replace").decode())
    return str(value)


@given(tables=st.lists(st.dictionaries(st.sampled_from(KEYS), values, max_size=4), min_size=1, max_size=3))
def test_a_recipe_file_is_taken_or_refused(tables):
    text = "\n".join(
        f'[mix."m{number}"]\n' + "\n".join(f"{key} = {toml(value)}" for key, value in table.items())
        for number, table in enumerate(tables)
    )

    assert "\n" not in refusal(read_recipe_file, text)


def run(capsys, *arguments):
    code = main(arguments)
    said = capsys.readouterr()
    assert code in (0, 2), said
    if code == 2:
        assert said.out == ""
        assert said.err.count("\n") == 1
    assert "Traceback" not in said.err


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(recipe=typed, pot=typed, count=typed, headspace=typed, overage=typed)
def test_a_job_is_taken_or_refused(capsys, monkeypatch, recipe, pot, count, headspace, overage):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)
    run(capsys, "job", f"--into={pot}", f"--count={count}", f"--headspace={headspace}",
        f"--overage={overage}", "--", recipe)  # fmt: skip
    run(capsys, "job", "--into=2 L", f"--count={count}", "--", recipe)
    run(capsys, "job", f"--litres={count}", f"--bucket={headspace}", f"--mixer={overage}", "--", recipe)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(recipe=typed, pot=typed, headspace=typed, layer=typed)
def test_a_mix_is_taken_or_refused(capsys, monkeypatch, recipe, pot, headspace, layer):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)
    run(capsys, "mix", f"--container={pot}", "--no-range", "--", "1 perlite coarse")
    run(capsys, "mix", "--container=2 L", f"--headspace={headspace}", f"--drainage-layer={layer}",
        "--no-range", "--", "5 pine bark nursery + 1 perlite coarse")  # fmt: skip
    run(capsys, "mix", "--container=2 L", "--no-range", "--", recipe)


@pytest.mark.django_db
@pytest.mark.parametrize("name", FORMS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
@given(data=st.data())
def test_a_form_is_taken_or_refused(db, name, data):
    from friable.records.models import Batch

    batch = Batch.objects.first() or cast.planned_batch()
    helper = on_shift(browser(raise_request_exception=False))
    others, fields = FORMS[name]
    said = {field: data.draw(typed) for field in fields.split()}
    spoilt = {
        key: data.draw(typed)
        for key in ("lines", "amendments", "version", "bucket", "mixer", "line-0-root", "treated", "use",
                    "line-0-state", "take_out", "one_more", "look", "more", "correct", "next")
        if data.draw(st.integers(0, 5)) == 0
    }  # fmt: skip

    answer = helper.post(address(name, batch), {**others, **said, **spoilt})
    assert answer.status_code in (200, 302, 404, 422)
    if name.startswith("job-") and name != "job-new":
        kept = helper.get(reverse(name, args=[batch.job.pk]))
        assert kept.status_code == 200
