"""Paper and the command line say no word that was not offered for translation."""

import json

import pytest
from django.urls import reverse
from tests.sheets.pages import text_of as printed_on
from tests.web.conftest import browser, on_shift
from tests.wording.marked import CLOSE, OPEN, Data, texts_of_records, texts_of_tables, unmarked

from friable.cli import names_here
from friable.cli.main import main
from friable.demo.quillmoor import load
from friable.records.models import Batch, MixVersion

RECIPE = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")
COMMANDS = [
    ("mix", RECIPE, *POT),
    ("mix", RECIPE, *POT, "--drainage-layer", "3 cm gravel"),
    ("materials", "perlite"),
    (
        "job", RECIPE, "--into", "round 17/12/13 cm", "--headspace", "1.5cm", "--potted-from",
        "round 9/6/8.5 cm", "--count", "60", "--overage", "5%", "--shrinkage", "12%", "--bucket", "12L",
        "--mixer", "60L",
    ),
    ("job", "--published", "john-innes-2", "--litres", "84"),
    ("packs", "sphagnum peat", "--need", "168L", "--pack", "3.8 cu ft"),
    (
        "pot-test", "--container", "round 15/11/12.5 cm", "--headspace", "1cm", "--water-in", "1110mL",
        "--drained", "270mL", "--also-in", "tray 50x30x4 cm",
    ),
    ("saying",),
    ("saying", "sand-opens-bark"),
    ("saying", "gravel-lifts-wet-zone", "--no-range"),
    ("saying", "bale-doubles"),
    ("saying", "air-10-25", "--no-range"),
    ("saying", "charcoal-sweetens"),
    (
        "replace", RECIPE, "--without", "peat", *POT, "--materials",
        "coir pith, wood fibre, perlite coarse, pine bark nursery, limestone grit, composted green waste",
    ),
    (
        "replace", RECIPE, "--without", "perlite coarse", "--container",
        "round 17/12/13 cm; tray 50x30x4 cm", "--litres", "80L", "--swaps-only",
    ),
    ("moisture", "--mass", "14kg", "--at", "30%", "--to", "50%"),
    ("water", RECIPE, *POT, "--plant", "foliage", "--no-range"),
    (
        "water", RECIPE, *POT, "--climate", "cold glasshouse winter", "--weighed", "2.31 kg 2.29 kg 24 h",
        "--base", "saucer 0.5 L", "--no-range",
    ),
    ("water", RECIPE, "--container", "round 12/9/12 cm", "--drainage-layer", "3 cm gravel", "--no-range"),
]  # fmt: skip
NAMES = {"round", "tray", "friable"}


@pytest.mark.parametrize("arguments", COMMANDS, ids=lambda arguments: " ".join(arguments)[:40])
def test_no_command_says_a_word_that_was_not_offered_for_translation(marking, capsys, monkeypatch, arguments):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)

    assert main(arguments) == 0

    lines = capsys.readouterr().out
    typed = {part.strip() for argument in arguments for part in argument.split("+")}
    names = {part.partition(" ")[2] for part in typed}
    assert Data(texts_of_tables() | NAMES | typed | names).strangers(unmarked(lines).split("|")) == []


def test_a_season_says_no_word_that_was_not_offered_for_translation(marking, capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)
    pots, house = tmp_path / "pots.csv", tmp_path / "house.csv"
    pots.write_text(
        f"group,mix,container,count,plant,watering\nA1,{RECIPE},tray 50x30x4 cm,3,bedding,daily\n"
    )
    stamps = [f"2026-07-{day:02d} {hour:02d}:00" for day in range(1, 15) for hour in range(24)]
    house.write_text("Time,Temperature (°C),RH (%)\n" + "\n".join(f"{one},22,60" for one in stamps) + "\n")
    arguments = ("season", str(pots), "--climate", str(house), "--scenarios", "1", "--draws", "2")

    assert main((*arguments, "--workers", "1", "--weekend", "2026-07-04")) == 0

    said = capsys.readouterr()
    names = {RECIPE, *(part.strip() for part in RECIPE.split("+")), "A1", "pots", "house.csv", "tray"}
    words = Data(texts_of_tables() | NAMES | names).strangers(unmarked(said.out + said.err).split("|"))
    assert words == []


def test_json_stays_the_same_in_every_language(marking, capsys, monkeypatch):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)
    job = ("job", RECIPE, "--into", "round 17/12/13 cm", "--count", "60", "--json")

    assert main(job) == 0

    def keys(answer):
        if isinstance(answer, dict):
            return set(answer) | {key for value in answer.values() for key in keys(value)}
        return {key for value in answer for key in keys(value)} if isinstance(answer, list) else set()

    assert not [key for key in keys(json.loads(capsys.readouterr().out)) if OPEN in key or CLOSE in key]


@pytest.mark.django_db
@pytest.mark.parametrize("sheet", ["batch", "label", "card"])
def test_no_sheet_says_a_word_that_was_not_offered_for_translation(sheet, request, tmp_path):
    load()
    data = Data(texts_of_records() | texts_of_tables())
    batch = Batch.objects.filter(state="made")[0]
    request.getfixturevalue("marking")
    address = {
        "batch": reverse("sheet-batch", args=[batch.code]),
        "label": f"{reverse('sheet-label', args=[batch.code])}?paper=a4&label_width_mm=90"
        "&label_height_mm=50&copies=1&start_at=1&columns=2&rows=5&margin_left_mm=15&margin_top_mm=14"
        "&gap_across_mm=0&gap_down_mm=0&cut_lines=yes&lime=yes&fertiliser=not known",
        "card": reverse("sheet-card", args=[MixVersion.objects.first().pk]),
    }[sheet]
    answer = on_shift(browser()).get(address)

    assert answer["Content-Type"] == "application/pdf", answer.content.decode()[:3000]
    assert data.strangers(unmarked(printed_on(answer.content, tmp_path)).split("|")) == []
