"""`friable saying`: lists, answers, refuses."""

import subprocess
import sys

import pytest
from tests import cast

from friable.cli import names_here
from friable.cli.main import main
from friable.reference.sayings import all_sayings


def test_without_a_name_every_saying_is_listed(friable, answer):
    code, out, err = friable("saying")
    listed = answer("saying")["sayings"]

    assert (code, err) == (0, "")
    assert all(f"{saying.key} " in out for saying in all_sayings())
    assert [one["name"] for one in listed] == [saying.key for saying in all_sayings()]
    assert sum(one["computed"] for one in listed) >= 18


def test_the_list_loads_no_numerics(tmp_path):
    script = (
        "import sys; from friable.cli.main import main; main(['saying']); "
        "print([name for name in ('numpy', 'django', 'scipy') if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)

    assert done.stderr == "[]\n"


def test_an_answer_holds_what_programs_read(answer):
    # Altland and others 2018: sand in pine bark lowers its air.
    told = answer(
        "saying",
        "sand-opens-bark",
        "--materials",
        "pine bark nursery, horticultural sand fine",
        "--share",
        "20%",
    )

    assert told["verdict"] == "fails"
    assert told["claim"] == "A little sand opens a bark mix."
    bare, sanded = told["numbers"][0], next(n for n in told["numbers"] if n["what"].startswith("20 %"))
    assert sanded["air_space"]["value"] < bare["air_space"]["value"]
    assert sanded["air_space"]["low"] <= sanded["air_space"]["value"] <= sanded["air_space"]["high"]
    assert {"text", "side", "how_known", "source"} == set(told["evidence"][0])
    assert told["asked"]["share"] == 0.2


def test_the_answer_comes_first_and_both_sides_are_printed(friable):
    code, out, err = friable("saying", "gravel-drains", "--layer", "4cm", "--no-range")

    assert (code, err) == (0, "")
    assert out.startswith("“Gravel below improves drainage”: depends\n\n")
    assert "  for: Nearly all layers reduced the water" in out
    assert "  against: Common teaching" in out
    assert out.rstrip().endswith("test a pot.")


def test_mixes_are_parted_by_semicolons_where_a_comma_is_in_a_name(answer):
    told = answer(
        "saying", "litre-is-a-kilo", "--materials", "gravel; 3 coir pith + 1 perlite coarse", "--no-range"
    )

    assert told["asked"]["materials"] == ["gravel 6-12 mm", "3 coir pith + 1 perlite coarse"]


def test_what_is_not_computed_says_so(friable):
    code, out, _err = friable("saying", "charcoal sweetens")

    assert code == 0
    assert out.startswith("“Charcoal sweetens the mix”: not computed\n\nNo figure was found.")
    assert "published mixes" not in out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("gravl",), "No saying is called “gravl”. Nearest: gravel-drains, gravel-lifts-wet-zone."),
        (("sand-opens-bark", "--materials", "coir pith, moondust"), "No material is called “moondust”."),
        (("sand-opens-bark", "--materials", "coir pith,,"), "has an empty name in it"),
        (("sand-opens-bark", "--materials", "x" * 5000), "is too long"),
        (("sand-opens-bark", "--container", "moon pot"), "No container is called “moon pot”."),
        (("sand-opens-bark", "--container", "round"), "does not give its inside sizes"),
        (("sand-opens-bark", "--share", "NaN"), "is not a finite number"),
        (("charcoal-sweetens", "--share", "20%"), "has no use for a share"),
        (("--share", "20%"), "Name the saying that is meant."),
        (("shallow-wetter", "--other-container", "2 L", "--headspace", "20cm"), "less than the height"),
    ],
)
def test_what_cannot_be_asked_is_one_sentence(refusal, arguments, sentence):
    assert sentence in refusal("saying", *arguments)


def test_it_is_asked_of_our_own_mix_and_pot(db, monkeypatch, capsys):
    monkeypatch.setattr(names_here, "records_exist", lambda: True)
    names_here._materials_here.cache_clear()
    names_here._containers_here.cache_clear()
    cast.potting_on("bark")  # a name that several materials share
    cast.two_litre_pot()

    asked = ("--materials", "bark, gravel", "--container", "2 L pot", "--no-range")
    assert main(["saying", "gravel-drains", *asked]) == 0

    out = capsys.readouterr().out
    assert "Without the layer bark, version 1 has" in out
    # By hand: 3 cm of a 17/12/13 cm pot filled to 11.5 cm, radii 6, 6.577 and 8.212: 0.373 of 1.841 L.
    assert "it takes 20 % of the volume" in out
