"""Pots, weather and collections through time, as rubbish on the command line: one sentence each."""

import pytest

R = "5 pine bark nursery + 1 perlite coarse"
WATER = ("water", R, "--container", "round 17/12/13 cm")
SEASON = ("season", "pots.csv", "--climate", "house.csv")
X = "x" * 59 + "…"  # how long a text is echoed
BASES = (
    " Write it as open holes, standing water 2 cm, saucer 1 L, mat 5 cm (water 5 cm below the pot) or "
    "flood 4 cm 15 min."
)
HOUR = "Time,Temperature (°C),RH (%)\n"
RECORD = HOUR + "".join(f"2026-07-{day:02d} {hour:02d}:00,20,60\n" for day in (1, 2, 3) for hour in range(24))

FILES = {
    "house.csv": RECORD,
    "pots.csv": f"mix,container,count\n{R},round 9/6/8.5 cm,3\n",
    "photo.csv": b"\x89PNG\r\n\x1a\n\x00\x00",
    "empty.csv": "",
    "header.csv": "mix,container,count\n",
    "twice.csv": "mix,mix,container,count\n",
    "colour.csv": "mix,container,count,colour\n",
    "minus.csv": f"mix,container,count\n{R},round 9/6/8.5 cm,-3\n",
    "moon.csv": f"mix,container,count,place\n{R},round 9/6/8.5 cm,3,the moon\n",
    "thirsty.csv": f"mix,container,count,water_use\n{R},round 9/6/8.5 cm,3,99\n",
    "torn.epw": "LOCATION,Quillmoor\n",
    "hot.csv": RECORD.replace(",20,", ",900,"),
    "short.csv": HOUR + "2026-07-01 00:00,20,60\n",
    "ask.csv": RECORD.replace("Time,Temperature (°C),RH (%)", "when,a,b"),
}

RUBBISH = [
    ((*WATER, "--used", "nan"), "--used “nan” is not a finite number. Write it as 5 %."),
    ((*WATER, "--used", "1e308%"), "--used “1e308%” is out of range. It must be from 0 to less than 100 %."),
    (
        (*WATER, "--used", "50"),
        "--used “50” does not say per cent of what. Write per cent with its sign, or a share below 1.",
    ),
    ((*WATER, "--use", "inf"), "--use “inf” is not a finite number. Write it as 0.8."),
    ((*WATER, "--use", "-1"), "use of the pot is -1; it must be from 0.05 to 10 times the reference."),
    ((*WATER, "--use", "1e308"), "use of the pot is 1e+308; it must be from 0.05 to 10 times the reference."),
    (
        (*WATER, "--use", "0,8 \u202e"),
        (
            "--use “0,8” holds a hidden character (right-to-left override). Type it by hand instead of "
            "pasting it."
        ),
    ),
    (
        (*WATER, "--weighed", "nan kg 2 kg 24 h"),
        "--weighed “nan kg 2 kg 24 h” does not give two masses and the time between. Write it as 2.31 kg "
        "2.05 kg 24 h.",
    ),
    (
        (*WATER, "--weighed", "2 kg 2 kg 0 h"),
        "--weighed “0 h” is out of range. It must be above 0 and at most a year.",
    ),
    (
        (*WATER, "--weighed", "2 kg 1.9 kg 1 h"),
        "time between the weighings is 1 h; it must be from 3 to 504. A day or two tells most.",
    ),
    (
        (*WATER, "--weighed", "2000 g 1999 g 24 h"),
        "The pot lost 1 g, too little for a scale with steps of 1 g; wait longer, or take a finer scale.",
    ),
    (
        (*WATER, "--weighed", "x" * 100_000),
        f"--weighed “{X}” is too long (100000 characters). Give at most 80.",
    ),
    ((*WATER, "--base", "standing water -2 cm"), "--base “-2 cm” is below 0. It must be 0 or more."),
    (
        (*WATER, "--base", "standing water 1e308 cm"),
        "--base “1e308 cm” is too large. It must be at most 1,000 cm.",
    ),
    (
        (*WATER, "--base", "standing water 50 cm"),
        "Water 50 cm deep stands above the medium (13 cm); give less.",
    ),
    ((*WATER, "--base", "mat nan cm"), "--base “mat nan cm” is no base that is known." + BASES),
    ((*WATER, "--base", "saucer 0 L"), "--base “0 L” is nothing at all. It must be above 0."),
    (
        (*WATER, "--base", "flood 4 cm 0 min"),
        "--base “0 min” is out of range. It must be above 0 and at most a year.",
    ),
    (
        (*WATER, "--base", "flood 4 cm 15 years"),
        "--base “15 years” has a unit that is no time. Write it as 15 min, 24 h or 3 days.",
    ),
    ((*WATER, "--base", "🌱"), "--base “🌱” is no base that is known." + BASES),
    (
        (*WATER, "--base", "open\tholes"),
        "--base “open holes” holds a tab or a line break, as a pasted table does. Paste one cell at a time.",
    ),
    (
        (*WATER, "--base", '"open holes"'),
        '--base “"open holes"” stands in quotation marks. Leave the quotation marks out.',
    ),
    ((*WATER, "--litres", "-1 L"), "--litres “-1 L” is below 0. It must be above 0."),
    (
        (*WATER, "--litres", "1 gallon"),
        "--litres “1 gallon” can mean more than one size. Say which: US gallon, US dry gallon or imperial "
        "gallon.",
    ),
    (
        (*WATER, "--litres", "2000 L"),
        "--litres “2000 L” is too large. It must be at most 1,000 L at a watering.",
    ),
    ((*WATER, "--rate", "fast"), "--rate “fast” is no volume per time. Write it as 6 L/min or 2 L/h."),
    ((*WATER, "--rate", "0 L/h"), "--rate “0 L” is nothing at all. It must be above 0."),
    (
        (*WATER, "--rate", "1e5 L/min"),
        "--rate “1e5 L/min” is too fast. It must be at most 100,000 L/h.",
    ),
    (
        (*WATER, "--plant", "\x00"),
        "--plant “” holds a hidden character (u+0000). Type it by hand instead of pasting it.",
    ),
    ((*WATER, "--plant", "x" * 500), f"--plant “{X}” is too long (500 characters). Give at most 80."),
    (
        (*WATER, "--climate", "\u202ewinter"),
        "--climate “winter” holds a hidden character (right-to-left override). Type it by hand instead of "
        "pasting it.",
    ),
    ((*WATER, "--climate", "x" * 3000), f"--climate “{X}” is too long (3000 characters). Give at most 2000."),
    (
        (*WATER, "--climate", "photo.csv"),
        "The weather file is not text; give a logger's CSV or an EnergyPlus weather file (.epw).",
    ),
    (
        (*WATER, "--climate", "empty.csv"),
        "The weather file is empty; give a table with time, temperature and humidity.",
    ),
    (
        (*WATER, "--climate", "torn.epw"),
        "Line 2 of the weather file begins with “”; it must begin with DESIGN CONDITIONS.",
    ),
    (
        (*WATER, "--climate", "hot.csv"),
        "Line 2 of the weather file: a temperature of 900 °C; it must be from -60 to 70.",
    ),
    (
        (*WATER, "--climate", "short.csv"),
        "The weather file runs from 2026-07-01 00:00 to 2026-07-01 00:00, which holds no whole day; give at "
        "least one.",
    ),
    (
        (*WATER, "--climate", "ask.csv"),
        "The weather file has the columns “when”, “a”, “b”; say which holds date and time; which holds the "
        "temperature of the air; which holds the relative humidity. Answer once with --columns “time=…, "
        "temperature=…, humidity=…”.",
    ),
    ((*WATER, "--climate", "."), "The weather file “.” is a folder; name a file in it."),
    (
        (*WATER, "--climate", "house.csv", "--glass", "perhaps"),
        "--glass “perhaps” is neither yes nor no. Write yes for a house, no for the open.",
    ),
    (
        (*WATER, "--climate", "house.csv", "--latitude", "1e308"),
        "--latitude “1e308” is no latitude. Write it as 51.5, or 33.9 S, within 90 degrees.",
    ),
    (
        (*WATER, "--climate", "house.csv", "--from", "2026-02-30"),
        "--from “2026-02-30” is no date. Write it as 2026-07-01.",
    ),
    ((*SEASON[:1], "photo.csv", *SEASON[2:]), "The collection is not text in UTF-8; save it as such."),
    (
        (*SEASON[:1], "empty.csv", *SEASON[2:]),
        "The collection is empty; its first line is group,mix,container,count,plant,water_use,place,watering,"
        "headspace,drainage_layer.",
    ),
    ((*SEASON[:1], "header.csv", *SEASON[2:]), "The collection has a header and no pots below it."),
    ((*SEASON[:1], "twice.csv", *SEASON[2:]), "The collection has two columns “mix”; keep one."),
    (
        (*SEASON[:1], "colour.csv", *SEASON[2:]),
        "The collection has a column “colour”, which is not known; known are: group, mix, container, count, "
        "plant, water_use, place, watering, headspace, drainage_layer.",
    ),
    (
        (*SEASON[:1], "minus.csv", *SEASON[2:]),
        "Line 2 of the collection: count “-3” is not a whole number above 0. Give one such as 60.",
    ),
    (
        (*SEASON[:1], "moon.csv", *SEASON[2:]),
        "Line 2 of the collection: place “the moon” is no place that is known. Write it as glass, outdoors, "
        "or shade 50 % for half the light.",
    ),
    (
        (*SEASON[:1], "thirsty.csv", *SEASON[2:]),
        "Line 2 of the collection: water use is 99 times the reference; it must be above 0 and at most 10.",
    ),
    (
        (*SEASON, "--climate=winter"),
        "--climate is given twice; give it once (several kinds of pots: --pots FILE.csv).",
    ),
    ((*SEASON[:1], ".", *SEASON[2:]), "The collection “.” is a folder; name a file in it."),
    (
        (*SEASON, "--scenarios", "1.5"),
        "--scenarios “1.5” is no whole number above 0. Give one such as 3.",
    ),
    ((*SEASON, "--draws", "nan"), "--draws “nan” is not a finite number. Write it as 3."),
    ((*SEASON, "--workers", "0"), "--workers “0” is no whole number above 0. Give one such as 3."),
    ((*SEASON, "--workers", "1000"), "--workers “1000” is too large. Give at most 256."),
    (
        (*SEASON, "--cluster", "\x00"),
        "--cluster “” holds a hidden character (u+0000). Type it by hand instead of pasting it.",
    ),
    (
        (*SEASON, "--cluster", "$(id)"),
        "--cluster “$(id)” is no address. Write it as tcp://192.0.2.7:8786.",
    ),
    (
        (*SEASON, "--folder", "pots.csv"),
        "pots.csv cannot be written (Not a directory); choose another folder.",
    ),
    (
        (*SEASON, "--folder", "x" * 300),
        f"{X} cannot be written (File name too long); choose another folder.",
    ),
    (
        (*SEASON, "--folder", "a\x00b"),
        "--folder “a b” holds a hidden character (u+0000). Type it by hand instead of pasting it.",
    ),
    ((*SEASON, "--weekend", "tomorrow"), "--weekend “tomorrow” is no date. Write it as 2026-07-01."),
    (("season", "--resume", "a folder"), "There is no season in a folder."),
    (
        ("season", "--resume", "\x00"),
        "--resume “” holds a hidden character (u+0000). Type it by hand instead of pasting it.",
    ),
]


@pytest.fixture
def odd_files(tmp_path, monkeypatch):
    """A folder with what was asked for and what was not."""
    for name, content in FILES.items():
        (tmp_path / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(("arguments", "sentence"), RUBBISH, ids=range(len(RUBBISH)))
def test_rubbish_gets_one_sentence(refusal, odd_files, arguments, sentence):
    assert refusal(*arguments) == sentence


def test_every_sentence_is_another():
    assert len({sentence for _arguments, sentence in RUBBISH}) == len(RUBBISH) >= 55
