"""Bad input: one sentence on standard error, code 2, nothing on standard output, never a traceback."""

import io
import subprocess
import sys
import time

import pytest

from friable.cli.main import main

LOOK = " Look at the list of what is known, or write it in another way."

R = "5 pine bark nursery + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm")
TEST = ("pot-test", "--container", "round 15/11/12.5 cm", "--headspace", "1cm")
BALE = ("packs", "sphagnum peat", "--need", "168L")

REFUSED = [
    (("mix", R), "--container “” is empty. Write it as “round 17/12/13 cm”."),
    (
        ("mix", *POT),
        "No recipe is given; write one such as “5 pine bark nursery + 1 perlite coarse”, or name a file.",
    ),
    (
        ("mix", R, *POT, "--recipe", "x.toml"),
        "The recipe is given more than once: written out, by a file or by name; keep one.",
    ),
    (
        ("mix", "5 perlight", *POT),
        "No material is called “perlight”. Nearest: perlite fine 0-1.5 mm, "
        "perlite medium 1-4 mm, perlite coarse 2-6 mm, perlite super-coarse 6-12 mm.",
    ),
    (
        ("mix", "5 perlite", *POT),
        "“perlite” can mean more than one material; say which: "
        "perlite fine 0-1.5 mm, perlite medium 1-4 mm, perlite coarse 2-6 mm, perlite super-coarse 6-12 mm.",
    ),
    (("mix", "-1 bark", *POT), "No such option: -1. See friable --help."),
    (("mix", R, *POT, "--headspace", "nan"), "--headspace “nan” is not a finite number. Write it as 1.5 cm."),
    (("mix", R, *POT, "--headspace", "-1cm"), "--headspace “-1cm” is below 0. It must be 0 or more."),
    (
        ("mix", R, *POT, "--headspace", "99cm"),
        "headspace is 99 cm; it must be at least 0 and less than the height of the container (13 cm).",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "3 cm"),
        "--drainage-layer “3 cm” does not say how deep and of what. Write it as “3 cm gravel”.",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "20 cm gravel"),
        "drainage layer is 20 cm; it must be at least 0 and less than the filled height (13 cm).",
    ),
    (
        ("mix", R, "--contaner", "2 L"),
        "No such option: --contaner (Possible options: --container, --no-range) See friable --help.",
    ),
    (("stir",), "No such command 'stir'. See friable --help."),
    (("job", R), "There is nothing to fill; give a container and a count, or the litres wanted."),
    (
        ("job", R, "--litres", "240", "--count", "3"),
        "--count “3” belongs to --into. Name the container, or leave it out.",
    ),
    (
        ("job", R, "--litres", "240", "--into", "2 L"),
        "--into and --litres are given together; keep one of them.",
    ),
    (("job", R, "--litres", "1e308"), "--litres “1e308 L” is too large. It must be at most 1,000,000 L."),
    (
        ("job", R, "--litres", "5 gal"),
        "--litres “5 gal” can mean more than one size. "
        "Say which: US gallon, US dry gallon or imperial gallon.",
    ),
    (("job", R, "--into", "2 L"), "--count “” is empty. Say how many pots, such as --count 60."),
    (
        ("job", R, "--into", "2 L", "--count", "6.5"),
        "--count “6.5” is not a whole number above 0. Give one such as 60.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "6", "--overage", "5"),
        "--overage “5” does not say per cent of what. Write per cent with its sign, or a share below 1.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "6", "--shrinkage", "100%"),
        "--shrinkage “100%” is out of range. It must be from 0 to less than 100 %.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "6", "--potted-from", "3 L"),
        "The root ball from round 19/13/15 cm "
        "is 15 cm high and there is room for 13 cm in round 17/12/13 cm; choose a deeper container, "
        "or shake some "
        "of the old mix off and pot it bare root.",
    ),
    (
        ("job", "--recipe", "-", "--pots", "-"),
        "Recipe and pot list cannot both come from standard input; name a file for one.",
    ),
    (
        ("job", "--published", "moon dust", "--litres", "9"),
        "No published recipe is called “moon dust”." + LOOK,
    ),
    (BALE, "Missing option '--pack'. See friable --help."),
    (
        (*BALE, "--pack", "1 ton"),
        "--pack “1 ton” can mean more than one size. Say which: tonne, US short ton or imperial long ton.",
    ),
    (
        (*BALE, "--pack", "3.8 cu ft", "--yield", "nan"),
        "--yield “nan” is not a finite number. Write it as 2.0.",
    ),
    (
        (*BALE, "--pack", "3.8 cu ft", "--yield", "0"),
        "--yield “0” is impossible. Write it as 2.0, or as 62.5 L for one pack.",
    ),
    (
        (*BALE, "--pack", "3.8 cu ft", "--yield", "2 kg"),
        "--yield “2 kg” is not a plain number. Write it as 2.0, or as 62.5 L for one pack.",
    ),
    (
        ("packs", "stardust", "--need", "168L", "--pack", "3.8 cu ft"),
        "No yield is known for stardust sold by "
        "the L; break one pack up, measure it loose, and give the loose litres for one L of pack.",
    ),
    (
        (*TEST, "--water-in", "3L", "--drained", "1L"),
        "3 L went into a pot that holds 1.499 L to its fill line "
        "with the mix in it; measure the pot or the water again.",
    ),
    (
        (*TEST, "--water-in", "1110mL", "--drained", "2L"),
        "2 L drained out of 1.11 L poured in; more cannot come "
        "out than went in, so start with dry mix and measure both again.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "30%", "--to", "20%"),
        "The heap is at 30 % already and 20 % is drier; spread it out to dry, add no water.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "30%", "--to", "150%"),
        "--to “150%” is out of range. It must be from 0 to 100 %.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "30%", "--to", "50%", "--meaning", "odd"),
        "meaning “odd” is unknown. Use wet-mass or water-to-dry.",
    ),
    (
        ("materials", "zzzz"),
        "No material is called “zzzz”." + LOOK,
    ),
    (
        ("materials", "\u202e"),
        "material “” holds a hidden character (right-to-left override). "
        "Type it by hand instead of pasting it.",
    ),
    (
        ("mix", "5 gravel\udcff", *POT),
        "recipe “5 gravel” holds a hidden character (u+dcff). Type it by hand instead of pasting it.",
    ),
    (
        ("mix", "x" * 100_500, *POT),
        "recipe “" + "x" * 59 + "…” is too long (100500 characters). Give at most 100000.",
    ),
    (
        ("mix", R, "--container", "x" * 100_500),
        "container “" + "x" * 59 + "…” is too long (100500 characters). Give at most 160.",
    ),
]


@pytest.mark.parametrize(("arguments", "sentence"), REFUSED, ids=range(len(REFUSED)))
@pytest.mark.parametrize("options", [(), ("--json",)], ids=["for people", "for programs"])
def test_bad_input_gets_one_sentence(refusal, arguments, sentence, options):
    if options and arguments == ("stir",):
        options = ()
    assert refusal(*arguments, *options) == sentence


FILES = [
    ("recipe.toml", b"#" * 1_500_000, "is larger than 1 MB, which no recipe or pot list is."),
    ("recipe.toml", b"#" * 500_000, "The recipe file has 500,000 characters; the most is 100,000."),
    ("recipe.toml", b"\xff\xfe\x00", "is not text in UTF-8; save it as such."),
    ("recipe.toml", b"", "The recipe file holds no mix;"),
]


@pytest.mark.parametrize(("name", "content", "words"), FILES)
def test_a_recipe_file_that_cannot_be_read_gets_one_sentence(refusal, tmp_path, name, content, words):
    (tmp_path / name).write_bytes(content)

    assert words in refusal("job", "--litres", "9", "--recipe", str(tmp_path / name))


POT_LISTS = [
    ("", "The pot list is empty; its first line is container,count."),
    ("container\n2 L\n", "The pot list has no column “count”;"),
    ("container,count,colour\n2 L,5,red\n", "The pot list has a column “colour”, which is not known;"),
    ("container,count,count\n2 L,5,5\n", "The pot list has two columns “count”; keep one."),
    ("container,count\n", "The pot list has a header and no pots below it."),
    ("container,count\n2 L,5,6,7\n", "Line 2 of the pot list has 4 cells under 2 columns."),
    (
        "container,count\n2 L,5\n\n2 L,some\n",
        "Line 4 of the pot list: count “some” does not begin with a number. Write it as 60.",
    ),
    ("container,count\n,5\n", "Line 2 of the pot list: container “” is empty. Fill it in, or leave it out."),
    (
        "container,count,root\n2 L,5,hairy\n",
        "Line 2 of the pot list: root is “hairy”; it must be one of: root ball, bare root, none.",
    ),
    ("container,count\n" + "2 L,1\n" * 1001, "The pot list has more than 1,000 lines; split it."),
    ("container,count\n" + " " * 100_001, "The pot list has 100,017 characters; the most is 100,000."),
]


@pytest.mark.parametrize(("text", "words"), POT_LISTS, ids=range(len(POT_LISTS)))
def test_a_pot_list_that_cannot_be_read_gets_one_sentence(refusal, tmp_path, text, words):
    (tmp_path / "pots.csv").write_text(text)

    assert words in refusal("job", "1 sand x", "--pots", str(tmp_path / "pots.csv"))


def test_files_that_are_none_get_one_sentence(refusal, tmp_path):
    job = ("job", "--litres", "9", "--recipe")

    assert "does not exist; check its name and folder." in refusal(*job, str(tmp_path / "none.toml"))
    assert "is a folder; name a file in it." in refusal(*job, str(tmp_path))
    assert "is larger than 1 MB" in refusal(*job, "/dev/zero")
    assert "cannot be read." in refusal(*job, "a" * 5000)


def test_ten_megabytes_on_standard_input_are_refused_quickly(refusal, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"x" * 10_000_000)))
    began = time.monotonic()

    sentence = refusal("job", "--litres", "9", "--recipe", "-")

    assert sentence == "The standard input is larger than 1 MB, which no recipe or pot list is."
    assert time.monotonic() - began < 1  # it stops reading after the first


def test_nothing_asked_shows_the_help(friable):
    code, _out, err = friable()

    assert code == 2
    assert err.startswith("Usage: friable")


def test_the_command_itself_leaves_with_code_two():
    done = subprocess.run(
        [sys.executable, "-m", "friable.cli.main", "moisture", "--mass", "1 ton", "--at", "3%", "--to", "5%"],
        capture_output=True,
        text=True,
    )

    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1


def test_a_reader_that_goes_away_is_no_error():
    script = f"set -o pipefail; {sys.executable} -m friable.cli.main materials --json | head -c 10"
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True)

    assert done.stderr == ""
    assert len(done.stdout) == 10


def test_an_option_given_twice_is_refused_not_dropped(capsys):
    code = main(
        [
            "job",
            "--into",
            "round 17/12/13 cm",
            "--count",
            "3",
            "--into",
            "tray 50x30x4 cm",
            "--count=4",
            "1 a",
        ]
    )

    assert code == 2
    assert capsys.readouterr().err == (
        "--into is given twice; give it once (several kinds of pots: --pots FILE.csv).\n"
    )


def test_what_stands_behind_two_dashes_is_not_an_option(capsys):
    assert main(["materials", "--", "--json"]) == 2
    assert "--json" in capsys.readouterr().err
