"""`friable find`: what programs read, what people read, and what is refused."""

import pytest

MATERIALS = "pine bark nursery,sphagnum peat medium,perlite coarse,coir pith,pumice 2-4 mm"
ASKED = ("--for", "general, grown", "--materials", MATERIALS, "--parts", "5", "--kinds", "3")
AIR = """
title = "Bench of liners"
container = "round 9/6/8.5 cm"
[window.air_space]
low = "{low}"
high = "{high}"
"""

pytestmark = pytest.mark.usefixtures("prepared_search")


def test_programs_read_what_is_best_and_of_how_many(answer):
    told = answer("find", *ASKED)

    assert told["considered"] >= told["feasible"] >= len(told["best"]) > 0
    first = told["best"][0]
    assert {
        "recipe",
        "chance",
        "air_space",
        "container_capacity",
        "wet_mass_kg",
        "cost",
        "tight",
    } <= first.keys()
    assert 0 <= first["chance"] <= 1
    assert first["chance"] == max(one["chance"] for one in told["best"])
    assert first["air_space"]["low"] <= first["air_space"]["value"] <= first["air_space"]["high"]
    assert told["nearest"] == []
    assert told["front"]


def test_the_recipe_is_what_mix_forecasts(answer):
    first = answer("find", *ASKED, "--container", "round 17/12/13 cm")["best"][0]

    mixed = answer("mix", first["recipe"], "--container", "round 17/12/13 cm")

    for key in ("air_space", "container_capacity", "wet_mass_kg", "available_water"):
        assert first[key]["value"] == pytest.approx(mixed[key]["value"], abs=1e-9)


def test_people_read_the_mix_first(friable):
    code, out, err = friable("find", *ASKED)

    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].startswith("Best of ")
    assert "of 100 draws" in lines[0]
    assert "Best, surest first" in lines
    assert any("Asked for general, grown in round" in line for line in lines)


def test_windows_come_from_a_file_with_their_pot(answer, tmp_path):
    file = tmp_path / "windows.toml"
    file.write_text(AIR.format(low="20 %", high="30 %"))

    told = answer("find", "--window", str(file), "--materials", MATERIALS, "--parts", "4", "--kinds", "2")

    assert told["container"] == "round 9/6/8.5 cm"
    assert all(0.2 <= one["air_space"]["value"] <= 0.3 for one in told["best"])


def test_what_would_open_an_impossible_window_is_said(friable, tmp_path):
    file = tmp_path / "windows.toml"
    file.write_text(AIR.format(low="89 %", high="90 %"))

    code, out, _err = friable("find", "--window", str(file), "--materials", MATERIALS, "--kinds", "2")

    assert code == 0
    assert out.startswith("None of ")
    assert "What would open it" in out
    assert "If the low end of air came down from 89 %" in out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((), "Say for what the mix is: --for “epiphyte, grown” or --window FILE."),
        (
            ("--for", "fern, grown", "--window", "x.toml"),
            "--for stands beside --window. Give one of the two.",
        ),
        (("--for", "bromeliad, grown"), "No figure is known for “bromeliad, grown”"),
        (("--for", "daffodil parade"), "“daffodil parade”"),
        (("--window", "no-such-file.toml"), "no-such-file.toml"),
        (("--for", "general, grown", "--materials", "moon dust"), "moon dust"),
        (("--for", "general, grown", "--materials", "perlite"), "perlite"),
        (("--for", "general, grown", "--materials", "stock"), "Nothing is counted in stock"),
        (("--for", "general, grown", "--parts", "40"), "It must be from 1 to 12."),
        (("--for", "general, grown", "--kinds", "0"), "--kinds"),
        (("--for", "general, grown", "--parts", "ten"), "ten"),
        (("--for", "general, grown", "--most-peat", "120 %"), "--most-peat"),
        (("--for", "general, grown", "--most-wet", "heavy"), "--most-wet “heavy” is not a number."),
        (("--for", "general, grown", "--lime", "perhaps"), "perhaps"),
        (("--for", "general, grown", "--never", "loam"), "is no pair"),
        (("--for", "general, grown", "--within-stock"), "finished mix wanted"),
        (("--for", "general, grown", "--bucket", "12L"), "drum"),
        (
            ("--for", "general, grown", "--materials", "pumice 2-4 mm", "--must", "coir pith"),
            "add it to --materials",
        ),
        (("--for", "general, grown", "--container", "round 5 cm"), "round 5 cm"),
    ],
)
def test_what_cannot_be_answered_is_refused(refusal, arguments, sentence):
    assert sentence in refusal("find", *arguments)
