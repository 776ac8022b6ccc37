"""Bases, rates, times and weighings as people write them."""

import pytest

from friable.errors import BadText
from friable.planning import watering_text as typed
from friable.planning.watering_text import Base


@pytest.mark.parametrize(
    ("text", "base"),
    [
        ("open holes", Base("open holes")),
        ("Open", Base("open holes")),
        ("standing water 2 cm", Base("standing water", depth_cm=2)),
        ("standing in water of 20 mm", Base("standing water", depth_cm=2)),
        ("saucer 1 L", Base("saucer", saucer_l=1)),
        ("saucer 250mL", Base("saucer", saucer_l=0.25)),
        ("mat 5 cm", Base("mat", depth_cm=5)),
        ("sand bed 10cm", Base("mat", depth_cm=10)),
        ("flood 4 cm 15 min", Base("flood", depth_cm=4, hours=0.25)),
        ("flood 4cm for 0.5 h", Base("flood", depth_cm=4, hours=0.5)),
        ("standing water 1 in", Base("standing water", depth_cm=2.54)),
    ],
)
def test_bases(text, base):
    assert typed.read_base(text) == base


@pytest.mark.parametrize(
    ("text", "expected"), [("24 h", 24), ("90min", 1.5), ("3 days", 72), ("1 week", 168)]
)
def test_times(text, expected):
    assert typed.hours(text) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("text", "expected"),
    [("6 L/min", 360), ("2 L/h", 2), ("500 mL per minute", 30), ("1.5 litres an hour", 1.5)],
)
def test_rates(text, expected):
    assert typed.rate_l_h(text) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2.31 kg 2.05 kg 24 h", (2.31, 2.05, 24)),
        ("2310g, 2050 g, 1 day", (2.31, 2.05, 24)),
        ("2,31 kg; 2,05 kg; 36 hours", (2.31, 2.05, 36)),
    ],
)
def test_weighings(text, expected):
    assert typed.weighings(text) == pytest.approx(expected)


BASES = (
    " Write it as open holes, standing water 2 cm, saucer 1 L, mat 5 cm (water 5 cm below the pot) or "
    "flood 4 cm 15 min."
)


@pytest.mark.parametrize(
    ("read", "text", "sentence"),
    [
        (typed.read_base, "lake", "base “lake” is no base that is known." + BASES),
        (typed.read_base, "standing water", "base “standing water” does not say all that it needs." + BASES),
        (typed.read_base, "flood 4 cm", "base “flood 4 cm” does not say all that it needs." + BASES),
        (typed.read_base, "open holes 2 cm",
         "base “open holes 2 cm” does not say all that it needs." + BASES),
        (typed.read_base, "mat 5", "base “5” has no unit. Write it as 1.5 cm."),
        (typed.read_base, "mat 500 cm", "base “500 cm” is too deep. It must be at most 100 cm."),
        (typed.read_base, "saucer 3 cm", "base “3 cm” is in a unit of another kind (cm). Write it as 12 L."),
        (typed.read_base, "", "base “” is empty. Fill it in, or leave it out."),
        (typed.hours, "24", "time “24” has no unit. Write it as 15 min, 24 h or 3 days."),
        (typed.hours, "24 L", "time “24 L” has a unit that is no time. Write it as 15 min, 24 h or 3 days."),
        (typed.hours, "0 h", "time “0 h” is out of range. It must be above 0 and at most a year."),
        (typed.hours, "400 days", "time “400 days” is out of range. It must be above 0 and at most a year."),
        (typed.rate_l_h, "6 L", "rate “6 L” is no volume per time. Write it as 6 L/min or 2 L/h."),
        (typed.rate_l_h, "6 L/2 h", "rate “6 L/2 h” is no volume per time. Write it as 6 L/min or 2 L/h."),
        (typed.rate_l_h, "6 L/kg",
         "rate “1 kg” has a unit that is no time. Write it as 15 min, 24 h or 3 days."),
        (typed.rate_l_h, "9000 L/min", "rate “9000 L/min” is too fast. It must be at most 100,000 L/h."),
        (
            typed.weighings,
            "2.31 2.05",
            "weighings “2.31 2.05” does not give two masses and the time between. "
            "Write it as 2.31 kg 2.05 kg 24 h.",
        ),
        (typed.weighings, "0 kg 2.05 kg 24 h", "weighings “0 kg” is nothing at all. It must be above 0."),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(read, text, sentence):
    with pytest.raises(BadText) as refused:
        read(text)

    assert str(refused.value) == sentence
