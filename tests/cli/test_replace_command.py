"""What can stand in, on the command line: its keys for programs, its words for people, its refusals."""

import pytest
from tests.cli.test_answers import is_estimate

BASKET = "1 sphagnum peat medium + 3 perlite coarse"
POTTING_ON = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")
FEW = ("--materials", "perlite fine, perlite medium, pumice 2-4 mm, scoria medium, sphagnum peat medium")
QUICK = ("--parts", "4", "--kinds", "2", "--best", "2")


def test_every_key_is_there(answer):
    told = answer("replace", BASKET, "--without", "perlite coarse", *POT, *FEW, *QUICK)

    assert told["recipe"] == "3 perlite coarse 2-6 mm + 1 sphagnum peat medium 0-10 mm"
    assert told["without"] == ["perlite coarse 2-6 mm"]
    assert told["considered"] >= told["feasible"] > 0
    for one in told["candidates"]:
        assert isinstance(one["recipe"], str)
        assert one["distance"] >= 0
        assert one["changes"]
        assert one["watch"]
        for name in ("air_space", "container_capacity", "wet_mass_kg", "available_water"):
            assert is_estimate(one[name])
        assert "perlite coarse" not in one["recipe"]
    distances = [one["distance"] for one in told["candidates"]]
    assert distances == sorted(distances)


def test_a_candidate_can_be_given_to_the_mix_command(answer):
    told = answer("replace", BASKET, "--without", "perlite coarse", *POT, *FEW, *QUICK)
    one = told["candidates"][0]

    again = answer("mix", one["recipe"], *POT)

    assert again["air_space"]["value"] == pytest.approx(one["air_space"]["value"], abs=1e-9)


def test_the_basket_without_coarse_perlite_shows_fine_side_by_side_with_pumice_and_lava(friable):
    # The same name never slips in: both grades and what they do stand in words, whatever the distance.
    code, out, err = friable(
        "replace", BASKET, "--without", "perlite coarse", *POT, *FEW, "--swaps-only", "--best", "9"
    )

    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].startswith("Nearest without perlite coarse 2-6 mm: 3 ")
    assert "The same name, another grade: perlite fine 0-1.5 mm is not perlite coarse 2-6 mm." in out
    table = out[out.index("One material in its place") :]
    for material in ("perlite fine", "pumice 2-4 mm", "scoria medium"):
        assert material in table
    assert "10 L to carry" in out
    # The published pair stands there as what it is: share and grade both differ.
    published = out[out.index("Published for the same materials") :]
    assert "25 % peat + 75 % perlite coarse: Wet bulk density 0.373 g/cm3" in published
    assert "75 % peat + 25 % perlite fine: Wet bulk density 0.610 g/cm3" in published
    assert "Distance 1 means" in out


def test_peat_free_is_one_word(answer):
    told = answer("replace", POTTING_ON, "--without", "peat", *POT, "--swaps-only", "--best", "3")

    assert told["without"] == ["sphagnum peat medium 0-10 mm"]
    assert told["considered"] == 0
    for one in told["candidates"]:
        assert "sphagnum peat" not in one["recipe"]
        assert one["flags"]["peat_share"] == 0


def test_several_containers_are_parted_by_semicolons(answer):
    told = answer(
        "replace", BASKET, "--without", "perlite", "--container", "round 17/12/13 cm; tray 50x30x5 cm",
        "--materials", "pumice 2-4 mm, coir pith", "--swaps-only",
    )  # fmt: skip

    assert len(told["containers"]) == 2
    assert all(len(one["pots"]) == 2 for one in told["candidates"])


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((*POT,), "--without “” is empty. Write it as “perlite coarse”, or “peat”."),
        (("--without", "perlite"), "--container “” is empty. Write it as “round 17/12/13 cm”."),
        (("--without", "granite grit", *POT), "The mix has no granite grit; it is made of"),
        (("--without", "unobtainium", *POT), "No material is called “unobtainium”."),
        (
            ("--without", "perlite", *POT, "--within-stock"),
            "--litres “” is missing beside --within-stock. Say how much is to be made: 80L.",
        ),
        (
            ("--without", "perlite", *POT, "--best", "0"),
            "--best “0” is not a whole number above 0.",
        ),
        (
            ("--without", "perlite", *POT, "--parts", "40"),
            "--parts “40” is out of range. It must be from 1 to 12.",
        ),
        (("--without", "perlite", *POT, "--litres", "no"), "--litres “no”"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_one_sentence(refusal, arguments, sentence):
    said = refusal("replace", BASKET, *arguments)

    assert said.startswith(sentence)


def test_a_recipe_is_needed(refusal):
    assert refusal("replace", "--without", "perlite", *POT)
