"""What mixes and containers are made of, as rubbish on the command line: one sentence each."""

import pytest

LOOK = " Look at the list of what is known, or write it in another way."

R = "5 pine bark nursery + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm")
X = "x" * 59 + "…"  # how long a text is echoed
ONES = "1" * 59 + "…"

RUBBISH = [
    (("mix", "0 gravel + 1 perlite coarse", *POT), "gravel has 0 parts; give more than 0, or leave it out."),
    (
        ("mix", "5 bark; -3 perlite coarse", *POT),
        "perlite coarse has -3 parts; give more than 0, or leave it out.",
    ),
    (
        ("mix", "NaN pine bark nursery", *POT),
        "recipe “NaN pine bark nursery” is not a finite number. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", "inf perlite coarse", *POT),
        "recipe “inf perlite coarse” is not a finite number. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", "1e308 perlite coarse", *POT),
        "perlite coarse has parts beyond all measure; give from 0.000001 to 1,000,000.",
    ),
    (
        ("mix", "1e99999 perlite coarse", *POT),
        ("recipe “1e99999 perlite coarse” is out of all proportion. Write it as 5 pine bark + 1 perlite."),
    ),
    (
        ("mix", "5 🌱", *POT),
        "recipe “5 🌱” has a number without a name. Write it as 5 pine bark + 1 perlite.",
    ),
    (("mix", "🌱", *POT), "recipe “🌱” does not begin with a number. Write it as 5 pine bark + 1 perlite."),
    (
        ("mix", "5 pine\u202ebark", *POT),
        (
            "recipe “5 pinebark” holds a hidden character (right-to-left override). Type it by hand "
            "instead of pasting it."
        ),
    ),
    (
        ("mix", '5\tpine bark\n"1"\t=1+2', *POT),
        'recipe “"1" =1” does not begin with a number. Write it as 5 pine bark + 1 perlite.',
    ),
    (("mix", "=1+2", *POT), "recipe “=1” does not begin with a number. Write it as 5 pine bark + 1 perlite."),
    (
        ("mix", '"5 pine bark nursery"', *POT),
        ('recipe “"5 pine bark nursery"” does not begin with a number. Write it as 5 pine bark + 1 perlite.'),
    ),
    (
        ("mix", "5 pine bark nursery\t1\tperlite coarse", *POT),
        (
            "recipe “5 pine bark nursery 1 perlite coarse” holds a second number behind a tab, as a "
            "pasted row of cells does. Put + between the materials, or each on a line of its own."
        ),
    ),
    (("mix", "5", *POT), "recipe “5” has a number without a name. Write it as 5 pine bark + 1 perlite."),
    (
        ("mix", "1/0 perlite coarse", *POT),
        "recipe “1/0 perlite coarse” divides by nought. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", "50% perlite coarse + 20 % pine bark nursery", *POT),
        "The components add up to 70 %; they must add up to 100 %.",
    ),
    (
        ("mix", "50% perlite coarse + 2 pine bark nursery", *POT),
        "Some components are in per cent and some in parts; write all of them one way.",
    ),
    (
        ("mix", "1,500 perlite coarse", *POT),
        "recipe “1,500 perlite coarse” can mean thousands or a decimal comma. Write 1500 or 1.500.",
    ),
    (
        ("mix", "3-5 perlite coarse", *POT),
        "recipe “3-5 perlite coarse” is a range. Give one number, such as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", "111111111111111111111111111111111111111111111111111111111111 perlite coarse", *POT),
        "recipe \u201c" + ONES + "\u201d is out of all proportion. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", " + ".join(["1 perlite coarse"] * 201), *POT),
        "The recipe has 201 components; the most is 200.",
    ),
    (
        ("mix", "1 " + "x" * 300, *POT),
        "recipe \u201c" + X + "\u201d has a name of 300 characters. The longest name is 200.",
    ),
    (
        ("mix", "5 perlite coarse\x00", *POT),
        (
            "recipe “5 perlite coarse” holds a hidden character (u+0000). Type it by hand instead of "
            "pasting it."
        ),
    ),
    (
        ("mix", "5 perlite coarse\x1b[31m", *POT),
        (
            "recipe “5 perlite coarse [31m” holds a hidden character (u+001b). Type it by hand instead "
            "of pasting it."
        ),
    ),
    (
        ("mix", "   ", *POT),
        ("No recipe is given; write one such as “5 pine bark nursery + 1 perlite coarse”, or name a file."),
    ),
    (
        ("mix", "5 perlite coarse\ufeff", *POT),
        (
            "recipe “5 perlite coarse” holds a hidden character (zero width no-break space). Type it by "
            "hand instead of pasting it."
        ),
    ),
    (
        ("mix", "$(id) perlite", *POT),
        "recipe “$(id) perlite” does not begin with a number. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        ("mix", '3 #read("/etc/passwd")', *POT),
        'No material is called “#read("/etc/passwd")”.' + LOOK,
    ),
    (
        ("mix", "3 {{ 1 }}", *POT),
        "No material is called “{{ 1 }}”." + LOOK,
    ),
    (
        ("mix", "3 </text><script>alert(1)</script>", *POT),
        "No material is called “</text><script>alert(1)</script>”." + LOOK,
    ),
    (
        ("mix", "1.2.3 perlite", *POT),
        (
            "recipe “1.2.3 perlite” holds a number that cannot be read. Use one decimal point or comma "
            "and no other marks, as in 5 pine bark + 1 perlite."
        ),
    ),
    (
        ("mix", R, "--container", "round -17/12/13 cm"),
        (
            "container “round -17/12/13 cm” does not give its inside sizes. Write it as round 17/12/13 "
            "cm (top, bottom, height)."
        ),
    ),
    (
        ("mix", R, "--container", "round 0/0/0 cm"),
        "top diameter is 0 cm; it must be from 0.1 to 1000 cm inside.",
    ),
    (
        ("mix", R, "--container", "round 1e308/12/13 cm"),
        (
            "container “round 1e308/12/13 cm” has sizes or a unit that cannot be read. Write it as round "
            "17/12/13 cm."
        ),
    ),
    (
        ("mix", R, "--container", "round NaN/12/13 cm"),
        (
            "container “round NaN/12/13 cm” does not give its inside sizes. Write it as round 17/12/13 "
            "cm (top, bottom, height)."
        ),
    ),
    (
        ("mix", R, "--container", "round inf/12/13 cm"),
        (
            "container “round inf/12/13 cm” does not give its inside sizes. Write it as round 17/12/13 "
            "cm (top, bottom, height)."
        ),
    ),
    (
        ("mix", R, "--container", "round 17/12/99999 cm"),
        "container “round 17/12/99999 cm” is too large. No side may exceed 1,000 cm.",
    ),
    (
        ("mix", R, "--container", "round 17/12 cm"),
        (
            "container “round 17/12 cm” does not give three inside sizes. Write it as “round "
            "TOP/BOTTOM/HEIGHT cm”."
        ),
    ),
    (
        ("mix", R, "--container", "round 17/12/13"),
        "container “round 17/12/13” has no unit. Write it as round 17/12/13 cm.",
    ),
    (
        ("mix", R, "--container", "round 17/12/13 kg"),
        (
            "container “round 17/12/13 kg” has sizes or a unit that cannot be read. Write it as round "
            "17/12/13 cm."
        ),
    ),
    (
        ("mix", R, "--container", "round 17x12x13 cm"),
        (
            "container “round 17x12x13 cm” does not give three inside sizes. Write it as “round "
            "TOP/BOTTOM/HEIGHT cm”."
        ),
    ),
    (
        ("mix", R, "--container", "tray 50x30 cm"),
        (
            "container “tray 50x30 cm” does not give three inside sizes. Write it as “tray "
            "LENGTHxWIDTHxHEIGHT cm”."
        ),
    ),
    (
        ("mix", R, "--container", "triangle 3/3/3 cm"),
        "No container is called “triangle 3/3/3 cm”." + LOOK,
    ),
    (
        ("mix", R, "--container", "🌱"),
        "No container is called “🌱”." + LOOK,
    ),
    (
        ("mix", R, "--container", "round \u202e17/12/13 cm"),
        (
            "container “round 17/12/13 cm” holds a hidden character (right-to-left override). Type it by "
            "hand instead of pasting it."
        ),
    ),
    (
        ("mix", R, "--container", "round\t17/12/13\tcm"),
        (
            "container “round 17/12/13 cm” holds a tab or a line break, as a pasted table does. Paste "
            "one cell at a time."
        ),
    ),
    (
        ("mix", R, "--container", "=1+2"),
        "No container is called “=1+2”." + LOOK,
    ),
    (
        ("mix", R, "--container", '"round 17/12/13 cm"'),
        'No container is called “"round 17/12/13 cm"”.' + LOOK,
    ),
    (
        ("mix", R, "--container", "round"),
        (
            "container “round” does not give its inside sizes. Write it as round 17/12/13 cm (top, "
            "bottom, height)."
        ),
    ),
    (
        ("mix", R, "--container", "round 0.0001/0.0001/0.0001 cm"),
        "top diameter is 0.0001 cm; it must be from 0.1 to 1000 cm inside.",
    ),
    (
        ("mix", R, "--container", "round 17/12/13 cm; rm"),
        (
            "container “round 17/12/13 cm; rm” has sizes or a unit that cannot be read. Write it as "
            "round 17/12/13 cm."
        ),
    ),
    (
        ("mix", R, "--container", "round 17/1200/13 cm"),
        "container “round 17/1200/13 cm” is too large. No side may exceed 1,000 cm.",
    ),
    (("mix", R, *POT, "--headspace", "1e308"), "--headspace “1e308” has no unit. Write it as 1.5 cm."),
    (
        ("mix", R, *POT, "--headspace", "1e308cm"),
        "--headspace “1e308cm” is too large. It must be at most 1,000 cm.",
    ),
    (("mix", R, *POT, "--headspace", "inf"), "--headspace “inf” is not a finite number. Write it as 1.5 cm."),
    (
        ("mix", R, *POT, "--headspace", "🌱"),
        "--headspace “🌱” does not begin with a number. Write it as 1.5 cm.",
    ),
    (
        ("mix", R, *POT, "--headspace", "1.5 kg"),
        "--headspace “1.5 kg” is in a unit of another kind (kg). Write it as 1.5 cm.",
    ),
    (("mix", R, *POT, "--headspace", "5%"), "--headspace “5%” is in per cent. Write it as 1.5 cm."),
    (("mix", R, *POT, "--headspace", "1.5"), "--headspace “1.5” has no unit. Write it as 1.5 cm."),
    (
        ("mix", R, *POT, "--headspace", "1.5\tcm"),
        (
            "--headspace “1.5 cm” holds a tab or a line break, as a pasted table does. Paste one cell at "
            "a time."
        ),
    ),
    (
        ("mix", R, *POT, "--headspace", "\u200e1cm"),
        (
            "--headspace “1cm” holds a hidden character (left-to-right mark). Type it by hand instead of "
            "pasting it."
        ),
    ),
    (
        ("mix", R, *POT, "--headspace", '"1cm"'),
        '--headspace “"1cm"” stands in quotation marks. Leave the quotation marks out.',
    ),
    (
        ("mix", R, *POT, "--headspace", "=1+2"),
        "--headspace “=1+2” does not begin with a number. Write it as 1.5 cm.",
    ),
    (
        ("mix", R, *POT, "--headspace", "1" * 100000),
        "--headspace \u201c" + ONES + "\u201d is too long (100000 characters). Give at most 80.",
    ),
    (
        ("mix", R, *POT, "--headspace", "13cm"),
        "headspace is 13 cm; it must be at least 0 and less than the height of the container (13 cm).",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "-3 cm gravel"),
        "--drainage-layer “-3 cm” is below 0. It must be 0 or more.",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "nan cm gravel"),
        "--drainage-layer “nan cm gravel” is not a finite number. Write it as 3 cm gravel.",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "3 cm stardust"),
        "No material is called “stardust”. Nearest: softwood sawdust 0-5 mm.",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "13 cm gravel"),
        "drainage layer is 13 cm; it must be at least 0 and less than the filled height (13 cm).",
    ),
    (
        ("mix", R, *POT, "--drainage-layer", "3 cm 🌱"),
        "No material is called “🌱”." + LOOK,
    ),
    (
        ("mix", "--published", "🌱", *POT),
        "No published recipe is called “🌱”." + LOOK,
    ),
    (
        ("mix", "--published", "\u202e", *POT),
        (
            "--published “” holds a hidden character (right-to-left override). Type it by hand instead "
            "of pasting it."
        ),
    ),
    (
        ("mix", "--published", "x" * 100000, *POT),
        "--published \u201c" + X + "\u201d is too long (100000 characters). Give at most 160.",
    ),
    (("mix", R, *POT, "--\u202ex"), "No such option: --x. See friable --help."),
]


@pytest.mark.parametrize(("arguments", "sentence"), RUBBISH, ids=range(len(RUBBISH)))
def test_rubbish_gets_one_sentence(refusal, arguments, sentence):
    assert refusal(*arguments) == sentence


def test_every_sentence_is_another():
    assert len({sentence for _arguments, sentence in RUBBISH}) == len(RUBBISH) >= 70
