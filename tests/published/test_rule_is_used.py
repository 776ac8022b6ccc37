"""What the command line answers is the blending rule, to the digits of its worked line."""

import json
import os
import subprocess
import sys

import pytest

from strategies_science import Poured

# Pine bark 0.8 and fine sand 0.2 in a drained core of 7.6 cm: figures of an independent program, four digits.
# Plain averaging would give pores 0.721, water 0.460, air 0.261 and no shrinkage.
WORKED = {"total_porosity": 0.6932, "container_capacity": 0.5248, "air_space": 0.1684, "shrinkage": 0.0906}
PLAIN = {"total_porosity": 0.721, "container_capacity": 0.460, "air_space": 0.261, "shrinkage": 0.0}
RECIPE = "80% pine bark nursery + 20% horticultural sand fine"


@pytest.fixture(scope="module")
def answer(tmp_path_factory):
    folder = tmp_path_factory.mktemp("elsewhere")
    command = ["-m", "friable.cli.main", "mix", RECIPE, "--container", "round 7.6/7.6/7.6 cm", "--json"]
    done = subprocess.run(
        [sys.executable, *command],
        capture_output=True,
        text=True,
        timeout=60,
        cwd=folder,
        env=os.environ | {"FRIABLE_DATA": str(folder / "nothing-here")},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.parametrize("figure", WORKED)
def test_the_command_line_answers_with_the_worked_line(answer, figure):
    assert answer[figure]["value"] == pytest.approx(WORKED[figure], abs=1.1e-4)
    assert answer[figure]["low"] <= answer[figure]["value"] <= answer[figure]["high"]


@pytest.mark.parametrize("figure", PLAIN)
def test_the_plain_average_stands_beside_it(answer, figure):
    assert answer["plain_average"][figure]["value"] == pytest.approx(PLAIN[figure], abs=1e-3)


def test_what_carries_the_mix_and_where_that_changes(answer):
    assert answer["supported_by"] == "pine bark nursery 0-12 mm"
    assert answer["switch_at"] == pytest.approx(0.62)


def test_the_profile_of_the_answer_is_that_of_the_rule(answer):
    mix = Poured({"BKP_M": 0.8, "SAND_F": 0.2})

    for point in answer["profile"]:
        assert point["water"] == pytest.approx(mix.water_at(point["height_cm"]), abs=1e-9)
        assert point["air"] == pytest.approx(mix.total_porosity - point["water"], abs=1e-9)
