"""Packs, pot tests, moisture, materials and options, as rubbish on the command line: one sentence each."""

import pytest

LOOK = " Look at the list of what is known, or write it in another way."

TEST = ("pot-test", "--container", "round 15/11/12.5 cm", "--headspace", "1cm")
X = "x" * 59 + "…"  # how long a text is echoed

RUBBISH = [
    (
        ("packs", "🌱", "--need", "1L", "--pack", "2L"),
        (
            "No yield is known for 🌱 sold by the L; break one pack up, measure it loose, and give the "
            "loose litres for one L of pack."
        ),
    ),
    (
        ("packs", "sphagnum peat", "--need", "nan", "--pack", "2L"),
        "--need “nan” is not a finite number. Write it as 12 L.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "-1L", "--pack", "2L"),
        "--need “-1L” is below 0. It must be above 0.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "0L", "--pack", "2L"),
        "--need “0L” is nothing at all. It must be above 0.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "1L", "--pack", "inf L"),
        "--pack “inf L” is not a finite number. Write it as 3.8 cu ft.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "1L", "--pack", "2L", "--yield", "-2"),
        "--yield “-2” is impossible. Write it as 2.0, or as 62.5 L for one pack.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "1L", "--pack", "2L", "--yield", "inf"),
        "--yield “inf” is not a finite number. Write it as 2.0.",
    ),
    (
        ("packs", "sphagnum peat", "--need", "1L", "--pack", "2L", "--yield", "1e308"),
        "--yield “1e308” is impossible. Write it as 2.0, or as 62.5 L for one pack.",
    ),
    (
        ("packs", "\u202e", "--need", "1L", "--pack", "2L"),
        (
            "material “” holds a hidden character (right-to-left override). Type it by hand instead of "
            "pasting it."
        ),
    ),
    (
        ("packs", "x" * 100000, "--need", "1L", "--pack", "2L"),
        "material \u201c" + X + "\u201d is too long (100000 characters). Give at most 200.",
    ),
    (
        ("packs", "a\tb\n", "--need", "1L", "--pack", "2L"),
        (
            "No yield is known for a b sold by the L; break one pack up, measure it loose, and give the "
            "loose litres for one L of pack."
        ),
    ),
    (("packs", "", "--need", "1L", "--pack", "2L"), "material “” is empty. Fill it in, or leave it out."),
    (
        ("packs", "sphagnum peat", "--need", "1L", "--pack", "2 🌱"),
        "--pack “2 🌱” has a unit that is not known. Write it as 12 L.",
    ),
    (
        (*TEST, "--water-in", "nan", "--drained", "1L"),
        "--water-in “nan” is not a finite number. Write it as 12 L.",
    ),
    ((*TEST, "--water-in", "-1L", "--drained", "1L"), "--water-in “-1L” is below 0. It must be above 0."),
    (
        (*TEST, "--water-in", "1L", "--drained", "inf"),
        "--drained “inf” is not a finite number. Write it as 12 L.",
    ),
    (
        (*TEST, "--water-in", "0L", "--drained", "0L"),
        "--water-in “0L” is nothing at all. It must be above 0.",
    ),
    ((*TEST, "--water-in", "1L", "--drained", "-1L"), "--drained “-1L” is below 0. It must be 0 or more."),
    (
        (*TEST, "--water-in", "1e308L", "--drained", "1L"),
        "--water-in “1e308L” is too large. It must be at most 1,000,000 L.",
    ),
    (
        (*TEST, "--water-in", "1110mL", "--drained", "270mL", "--also-in", "tray nan"),
        (
            "container “tray nan” does not give its inside sizes. Write it as round 17/12/13 cm (top, "
            "bottom, height)."
        ),
    ),
    (
        ("moisture", "--mass", "nan", "--at", "3%", "--to", "5%"),
        "--mass “nan” is not a finite number. Write it as 14 kg.",
    ),
    (
        ("moisture", "--mass", "0kg", "--at", "3%", "--to", "5%"),
        "--mass “0kg” is nothing at all. It must be above 0.",
    ),
    (
        ("moisture", "--mass", "-14kg", "--at", "3%", "--to", "5%"),
        "--mass “-14kg” is below 0. It must be above 0.",
    ),
    (
        ("moisture", "--mass", "1e308kg", "--at", "3%", "--to", "5%"),
        "--mass “1e308kg” is too large. It must be at most 1,000,000 kg.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "100%", "--to", "100%"),
        "the moisture now is 100 %; it must be from 0 to less than 100 % of the wet mass.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "-3%", "--to", "5%"),
        "--at “-3%” is out of range. It must be from 0 to 100 %.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "3", "--to", "5%"),
        "--at “3” does not say per cent of what. Write per cent with its sign, or a share below 1.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "3%", "--to", "100%"),
        "the moisture wanted is 100 %; it must be from 0 to less than 100 % of the wet mass.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "🌱", "--to", "5%"),
        "--at “🌱” does not begin with a number. Write it as 5 %.",
    ),
    (
        ("moisture", "--mass", "14kg", "--at", "3%", "--to", "5%", "--meaning", "\U0001f331\u202e"),
        (
            "--meaning “🌱” holds a hidden character (right-to-left override). Type it by hand instead of "
            "pasting it."
        ),
    ),
    (
        ("moisture", "--mass", "14L", "--at", "3%", "--to", "5%"),
        "--mass “14L” is in a unit of another kind (l). Write it as 14 kg.",
    ),
    (
        ("materials", "\x00"),
        "material “” holds a hidden character (u+0000). Type it by hand instead of pasting it.",
    ),
    (
        ("materials", "=1+2"),
        "No material is called “=1+2”." + LOOK,
    ),
    (("materials", "perlite", "extra"), "Got unexpected extra argument(s) (extra) See friable --help."),
    (
        ("--x" * 30000,),
        ("No such option: --x--x--x--x--x--x--x--x--x--x--x--x--x--x--x--x--x--x--x--… See friable --help."),
    ),
    (("🌱",), "No such command '🌱'. See friable --help."),
    (
        ("x" * 100000,),
        ("No such command 'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx… See friable --help."),
    ),
]


@pytest.mark.parametrize(("arguments", "sentence"), RUBBISH, ids=range(len(RUBBISH)))
def test_rubbish_gets_one_sentence(refusal, arguments, sentence):
    assert refusal(*arguments) == sentence


def test_every_sentence_is_another():
    assert len({sentence for _arguments, sentence in RUBBISH}) == len(RUBBISH) >= 35
