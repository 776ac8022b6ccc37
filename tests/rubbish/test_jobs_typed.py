"""Potting jobs, as rubbish on the command line: one sentence each."""

import pytest

R = "5 pine bark nursery + 1 perlite coarse"
JOB = ("job", R, "--into", "2 L", "--count", "60")
X = "x" * 59 + "…"  # how long a text is echoed

RUBBISH = [
    ((*JOB, "--overage", "-5%"), "--overage “-5%” is out of range. It must be from 0 to 100 %."),
    ((*JOB, "--overage", "nan"), "--overage “nan” is not a finite number. Write it as 5 %."),
    ((*JOB, "--overage", "inf"), "--overage “inf” is not a finite number. Write it as 5 %."),
    (
        (*JOB, "--overage", "1e308"),
        (
            "--overage “1e308” does not say per cent of what. Write per cent with its sign, or a share "
            "below 1."
        ),
    ),
    ((*JOB, "--overage", "1e308%"), "--overage “1e308%” is out of range. It must be from 0 to 100 %."),
    ((*JOB, "--overage", "500%"), "--overage “500%” is out of range. It must be from 0 to 100 %."),
    ((*JOB, "--overage", "🌱"), "--overage “🌱” does not begin with a number. Write it as 5 %."),
    ((*JOB, "--overage", "5 L"), "--overage “5 L” has a unit that is no share. Write it as 5 %."),
    (
        (*JOB, "--settling", "100%"),
        "--settling “100%” is out of range. It must be from 0 to less than 100 %.",
    ),
    ((*JOB, "--settling", "-1%"), "--settling “-1%” is out of range. It must be from 0 to less than 100 %."),
    ((*JOB, "--shrinkage", "nan%"), "--shrinkage “nan%” is not a finite number. Write it as 5 %."),
    (
        (*JOB, "--shrinkage", "120%"),
        "--shrinkage “120%” is out of range. It must be from 0 to less than 100 %.",
    ),
    ((*JOB, "--bucket", "0L"), "--bucket “0L” is nothing at all. It must be above 0."),
    ((*JOB, "--bucket", "-1L"), "--bucket “-1L” is below 0. It must be above 0."),
    ((*JOB, "--bucket", "nan L"), "--bucket “nan L” is not a finite number. Write it as 12 L."),
    (
        (*JOB, "--bucket", "1 bucket"),
        ("--bucket “1 bucket” is in a measure of no fixed size (bucket). Say what yours holds, as in 12 L."),
    ),
    ((*JOB, "--bucket", "12"), "--bucket “12” has no unit. Write it as 12 L."),
    ((*JOB, "--bucket", "0.0001mL"), "--bucket “0.0001mL” is too small. It must be at least 0.000001 L."),
    ((*JOB, "--mixer", "inf L"), "--mixer “inf L” is not a finite number. Write it as 12 L."),
    ((*JOB, "--mixer", "0 L"), "--mixer “0 L” is nothing at all. It must be above 0."),
    ((*JOB, "--mixer", "60 kg"), "--mixer “60 kg” is in a unit of another kind (kg). Write it as 12 L."),
    ((*JOB, "--scale", "0g"), "--scale “0g” is nothing at all. It must be above 0."),
    ((*JOB, "--scale", "1 L"), "--scale “1 L” is in a unit of another kind (l). Write it as 250 g."),
    ((*JOB, "--scale", "nan"), "--scale “nan” is not a finite number. Write it as 250 g."),
    ((*JOB, "--scale", "1e308 g"), "--scale “1e308 g” is too large. It must be at most 1,000,000,000 g."),
    (
        ("job", R, "--into", "2 L", "--count", "-1"),
        "--count “-1” is not a whole number above 0. Give one such as 60.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "0"),
        "--count “0” is not a whole number above 0. Give one such as 60.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "1e308"),
        "--count “1e308” is too large. Give at most 1,000,000.",
    ),
    (("job", R, "--into", "2 L", "--count", "nan"), "--count “nan” is not a finite number. Write it as 60."),
    (("job", R, "--into", "2 L", "--count", "inf"), "--count “inf” is not a finite number. Write it as 60."),
    (
        ("job", R, "--into", "2 L", "--count", "🌱"),
        "--count “🌱” does not begin with a number. Write it as 60.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "9999999"),
        "--count “9999999” is too large. Give at most 1,000,000.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "=1+2"),
        "--count “=1+2” does not begin with a number. Write it as 60.",
    ),
    (
        ("job", R, "--into", "2 L", "--count", "60\t70"),
        ("--count “60 70” holds a tab or a line break, as a pasted table does. Paste one cell at a time."),
    ),
    (("job", R, "--litres", "-1"), "--litres “-1 L” is below 0. It must be above 0."),
    (("job", R, "--litres", "0"), "--litres “0 L” is nothing at all. It must be above 0."),
    (("job", R, "--litres", "nan"), "--litres “nan” is not a finite number. Write it as 240."),
    (("job", R, "--litres", "inf"), "--litres “inf” is not a finite number. Write it as 240."),
    (("job", R, "--litres", "🌱"), "--litres “🌱” does not begin with a number. Write it as 240."),
    (("job", R, "--litres", "=1+2"), "--litres “=1+2” does not begin with a number. Write it as 240."),
    (
        ("job", R, "--litres", "240 kg"),
        "--litres “240 kg” is in a unit of another kind (kg). Write it as 12 L.",
    ),
    (
        ("job", R, "--litres", "2 bucket"),
        ("--litres “2 bucket” is in a measure of no fixed size (bucket). Say what yours holds, as in 12 L."),
    ),
    (
        ("job", R, "--litres", "1 trade gallon"),
        (
            "--litres “1 trade gallon” names a pot, not a volume. Measure the pot and give litres, or "
            "its inside sizes."
        ),
    ),
    (
        ("job", R, "--litres", "5\t6"),
        ("--litres “5 6” holds a tab or a line break, as a pasted table does. Paste one cell at a time."),
    ),
    (("job", "0 bark", "--litres", "9"), "bark has 0 parts; give more than 0, or leave it out."),
    (
        ("job", "5 \u202ebark", "--litres", "9"),
        (
            "recipe “5 bark” holds a hidden character (right-to-left override). Type it by hand instead "
            "of pasting it."
        ),
    ),
    (
        ("job", "nan bark", "--litres", "9"),
        "recipe “nan bark” is not a finite number. Write it as 5 pine bark + 1 perlite.",
    ),
    (
        (
            "job",
            "1 " + "x" * 201,
            "--litres",
            "9",
        ),
        "recipe \u201c" + X + "\u201d has a name of 201 characters. The longest name is 200.",
    ),
    (
        ("job", R, "x" * 100000),
        (
            "Got unexpected extra argument(s) "
            "(xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx… See friable --help."
        ),
    ),
]


@pytest.mark.parametrize(("arguments", "sentence"), RUBBISH, ids=range(len(RUBBISH)))
def test_rubbish_gets_one_sentence(refusal, arguments, sentence):
    assert refusal(*arguments) == sentence


def test_every_sentence_is_another():
    assert len({sentence for _arguments, sentence in RUBBISH}) == len(RUBBISH) >= 45
