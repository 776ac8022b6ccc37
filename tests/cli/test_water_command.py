"""A pot through time on the command line: its keys for programs, its words for people, its refusals."""

import os
import subprocess
import sys

import pytest
from tests.cli.test_answers import is_estimate

from friable.science import compiled_code as cache

R = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")
LAYERED = ("--container", "round 12/9/12 cm", "--drainage-layer", "3 cm gravel")
SUMMER = ("--climate", "temperate glasshouse summer", "--plant", "foliage")
ESTIMATES = ("hours_wet", "days_to_water", "litres_per_watering", "runs_through", "target_mass_kg")
LOOK = " Look at the list of what is known, or write it in another way."
BASES = (
    " Write it as open holes, standing water 2 cm, saucer 1 L, mat 5 cm (water 5 cm below the pot) or "
    "flood 4 cm 15 min."
)


@pytest.fixture(autouse=True)
def _prepared(prepared_flow):
    """The solvers are compiled before anything is asked."""


@pytest.fixture(scope="module")
def told(prepared_flow):
    """The figures of one pot, for all that only reads them."""
    import json

    done = subprocess.run(
        [sys.executable, "-m", "friable.cli.main", "water", R, *POT, *SUMMER, "--json"],
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr) == (0, "")
    return json.loads(done.stdout)


def test_every_key_is_there(told):
    assert all(is_estimate(told[key]) for key in ESTIMATES)
    assert told["climate"] == "temperate glasshouse summer"
    assert told["plant"] == "foliage plants"
    assert told["weighed"] is None
    assert [line["loose_l"] for line in told["mix"]] == pytest.approx([5 / 7, 1 / 7, 1 / 7])
    for point in told["series"]:
        assert {"hour", "water", "air_root_zone", "mass_kg"} <= set(point)
    assert len(told["moments"]) == 4


def test_the_series_runs_from_a_watering_to_the_next(told):
    series = told["series"]

    assert series[0]["hour"] == 0
    assert series[-1]["hour"] == pytest.approx(24 * told["days_to_water"]["value"], rel=0.01)
    wet, dry = series[1], series[-1]
    assert wet["water"] > dry["water"]
    assert wet["air_root_zone"] < dry["air_root_zone"]
    assert wet["mass_kg"] > dry["mass_kg"]


def test_mass_and_litres_hang_together(told):
    # A litre of water weighs a kilogram: what the pot loses between the two weights is half of what it holds
    # between full and dry, and a tenth more is poured than is missing (common practice, no source).
    lost_kg = told["full_mass_kg"]["value"] - told["target_mass_kg"]["value"]

    assert 0 < told["target_of_full_mass"] < 1
    assert told["target_of_full_mass"] == pytest.approx(
        told["target_mass_kg"]["value"] / told["full_mass_kg"]["value"]
    )
    assert told["litres_per_watering"]["value"] == pytest.approx(1.1 * lost_kg, rel=0.1)
    assert told["target_of_water"] == pytest.approx(0.5)


def test_for_people_the_answer_comes_first_and_what_is_not_in_it_last(friable):
    code, out, err = friable("water", R, *POT, *SUMMER, "--no-range")

    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "round 17/12/13 cm, 1.5 cm headspace, 1.84 L of mix"
    assert lines[5].startswith("Water it about every ")
    for said in (
        "When to water, by weight",
        "of the full weight, or 50 % of the water between full and dry",
        "The pot at four times",
        "just watered",
        "water now",
        "Not in these figures",
        "unglazed clay",
        "An old root ball",
    ):
        assert said in out


def test_a_layer_is_told_from_both_sides(answer, friable):
    arguments = ("water", R, *LAYERED, *SUMMER, "--no-range")
    sides = answer(*arguments)["layer_bounds"]
    _code, out, _err = friable(*arguments)

    assert len(sides) == 2
    assert sides[0]["litres_held"] > sides[1]["litres_held"]
    assert "With the layer" in out
    assert "Rowe" in out


def test_a_thirstier_pot_is_watered_sooner(answer):
    days = [
        answer("water", R, *POT, "--use", use, "--no-range")["days_to_water"]["value"]
        for use in ("0.5", "1.5")
    ]

    assert days[1] < days[0]


def test_two_weighings_give_the_pot_its_own_factor(answer, friable):
    arguments = ("water", R, *POT, *SUMMER[:2], "--weighed", "2.31 kg 2.25 kg 24 h", "--no-range")
    weighed = answer(*arguments)["weighed"]
    _code, out, _err = friable(*arguments)

    # 60 g on the top of the pot, 17 cm wide, 227.0 cm2: 2.643 mm. By hand.
    assert weighed["lost_kg"] == pytest.approx(0.06)
    assert weighed["lost_mm"] == pytest.approx(2.643, abs=1e-3)
    assert weighed["use"]["value"] == pytest.approx(weighed["lost_mm"] / weighed["reference_mm"])
    assert weighed["use"]["how_known"] == "measured"
    assert "Weighed twice: it uses" in out


def test_standing_in_water_it_is_never_due(answer, friable):
    arguments = ("water", R, *POT, *SUMMER, "--base", "standing water 2 cm", "--no-range")

    assert answer(*arguments)["dries_within"] is False
    assert "It needs no watering from above" in friable(*arguments)[1]


def test_without_a_plant_it_asks_to_be_weighed(friable):
    _code, out, _err = friable("water", R, *POT, "--no-range")

    assert "weigh" in out
    assert "0.3 to 1.2" in out


def test_a_logger_is_weather_from_the_day_that_is_named(answer, tmp_path):
    rows = ["Time,Temperature (°C),RH (%)"]
    for day in range(1, 9):
        for hour in range(24):
            rows.append(f"2026-07-{day:02d} {hour:02d}:00,{18 + 8 * (8 < hour < 18)},{50 + day}")
    file = tmp_path / "shelf.csv"
    file.write_text("\n".join(rows) + "\n", encoding="utf-8")

    told = answer(
        "water", R, *POT, "--climate", str(file), "--from", "2026-07-03", "--use", "1", "--no-range"
    )

    assert told["climate"] == "shelf.csv"


def test_the_first_answer_after_installing_says_why_it_takes_longer(tmp_path):
    """With nothing compiled yet. The run is ended once it has said so: compiling is timed elsewhere."""
    running = subprocess.Popen(
        [sys.executable, "-m", "friable.cli.main", "water", R, *POT, "--no-range"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, cache.VARIABLE: str(tmp_path / "compiled")},
    )
    said = running.stderr.readline()
    running.kill()
    running.communicate()

    assert said == f"Preparing the flow model, once after installing: about {cache.EXPECTED_SECONDS} s.\n"


REFUSED = [
    (("water", R), "--container “” is empty. Write it as “round 17/12/13 cm”."),
    (
        ("water", *POT),
        "No recipe is given; write one such as “5 pine bark nursery + 1 perlite coarse”, or name a file.",
    ),
    (("water", R, *POT, "--climate", ""), "--climate “” is empty. Fill it in, or leave it out."),
    (
        ("water", R, *POT, "--climate", "none.epw"),
        "The weather file “none.epw” does not exist; check its name and folder.",
    ),
    (
        ("water", R, *POT, "--from", "2031-07-01"),
        "--from “2031-07-01” lies outside the weather. It runs from 2025-07-15 to 2025-09-12.",
    ),
    (("water", R, *POT, "--from", "July"), "--from “July” is no date. Write it as 2026-07-01."),
    (
        ("water", R, *POT, "--columns", "time=a"),
        "--columns “time=a” belongs to a weather file. Name one, or leave it out.",
    ),
    (("water", R, *POT, "--use", "a lot"), "--use “a lot” does not begin with a number. Write it as 0.8."),
    (("water", R, *POT, "--use", "0.8 mm"), "--use “0.8 mm” is no plain number. Write it as 0.8."),
    (
        ("water", R, *POT, "--use", "50"),
        "use of the pot is 50; it must be from 0.05 to 10 times the reference.",
    ),
    (
        ("water", R, *POT, "--use", "1", "--weighed", "2 kg 1.9 kg 24 h"),
        "--weighed “2 kg 1.9 kg 24 h” stands beside --use. Give one of the two.",
    ),
    (
        ("water", R, *POT, "--weighed", "2 kg"),
        "--weighed “2 kg” does not give two masses and the time between. Write it as 2.31 kg 2.05 kg 24 h.",
    ),
    (
        ("water", R, *POT, "--weighed", "2 kg 2.1 kg 24 h"),
        "The pot gained 100 g, so water came to it between the weighings; weigh it twice between waterings.",
    ),
    (("water", R, *POT, "--base", "a lake"), "--base “a lake” is no base that is known." + BASES),
    (("water", R, *POT, "--base", "saucer"), "--base “saucer” does not say all that it needs." + BASES),
    (("water", R, *POT, "--litres", "0.4"), "--litres “0.4” has no unit. Write it as 12 L."),
    (
        ("water", R, *POT, "--rate", "6 L"),
        "--rate “6 L” is no volume per time. Write it as 6 L/min or 2 L/h.",
    ),
    (("water", R, *POT, "--used", "0%"), "--used “0%” is nothing at all. Write it as 50 %."),
    (
        ("water", R, *POT, "--used", "100%"),
        "--used “100%” is out of range. It must be from 0 to less than 100 %.",
    ),
    (("water", "5 none such", *POT), "No material is called “none such”." + LOOK),
]


@pytest.mark.parametrize(("arguments", "sentence"), REFUSED, ids=range(len(REFUSED)))
def test_what_cannot_be_answered_is_refused(refusal, arguments, sentence):
    assert refusal(*arguments) == sentence


@pytest.mark.parametrize(
    ("option", "typed", "beginning"),
    [
        ("--plant", "triffid", "No group of plants is called “triffid”. Nearest: "),
        ("--climate", "winter", "“winter” can mean more than one season; say which: "),
        ("--climate", "north pole", "No season is called “north pole”. Nearest: "),
    ],
)
def test_an_unknown_name_is_refused_with_the_nearest(refusal, option, typed, beginning):
    assert refusal("water", R, *POT, option, typed).startswith(beginning)
