"""A pot's own use of water from two weighings."""

from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from friable.errors import BadQuantity, Refused
from friable.planning.climate import Climate
from friable.planning.plain_season import plain_season, plain_year
from friable.planning.weighing import reference_between, use_from_weighings

GOOD = {"first_kg": 1.500, "second_kg": 1.400, "hours": 24, "reference_mm": 4.0, "top_area_cm2": 200.0}


def test_worked_by_hand():
    # 100 g from 200 cm2 are 0.5 cm = 5 mm; over 4 mm of reference 1.25. A step of 2 g is 0.1 mm or 0.025;
    # each reading is within half a step, so their difference is triangular within a step: 90 % lie within
    # 1 - sqrt(0.1) = 0.6838 of it, 0.0171.
    own = use_from_weighings(**GOOD, scale_step_g=2)

    assert own.use.value == pytest.approx(1.25)
    assert (own.lost_kg, own.lost_mm) == (pytest.approx(0.1), pytest.approx(5))
    assert (own.use.low, own.use.high) == (
        pytest.approx(1.25 - 0.0171, abs=1e-4),
        pytest.approx(1.2671, abs=1e-4),
    )
    assert own.use.how_known == "measured"
    assert own.to_json()["use"]["value"] == own.use.value


def test_the_range_is_that_of_rounding_both_readings():
    chance = np.random.default_rng(1)
    true_loss = chance.uniform(90, 110, 200_000)
    first = 1500 + chance.uniform(0, 5, true_loss.size)
    read = np.round(first / 5) * 5 - np.round((first - true_loss) / 5) * 5
    low, high = np.quantile(read - true_loss, [0.05, 0.95])
    own = use_from_weighings(**GOOD, scale_step_g=5)
    gram = 10 / 200 / 4

    assert own.use.high - own.use.value == pytest.approx(high * gram, rel=0.03)
    assert own.use.value - own.use.low == pytest.approx(-low * gram, rel=0.03)


@given(
    st.floats(0.05, 9),
    st.floats(20, 2000),
    st.floats(0.5, 20),
    st.floats(0.3, 40),
)
def test_the_factor_put_in_comes_out(use, area, reference, first):
    lost_g = use * reference * area / 10
    assume(lost_g >= 3 and lost_g < first * 900)
    own = use_from_weighings(first, first - lost_g / 1000, 30, reference, area)

    assert own.use.value == pytest.approx(use, rel=1e-6)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"watered_between": True}, "The pot was watered between the weighings, so they do not tell what it"
         " used; weigh it twice between waterings."),
        ({"second_kg": 1.6}, "The pot gained 100 g, so water came to it between the weighings;"
         " weigh it twice between waterings."),
        ({"second_kg": 1.498}, "The pot lost 2 g, too little for a scale with steps of 1 g;"
         " wait longer, or take a finer scale."),
        ({"scale_step_g": 50}, "The pot lost 100 g, too little for a scale with steps of 50 g;"
         " wait longer, or take a finer scale."),
        ({"reference_mm": 0.05}, "The air took only 0.05 mm from the reference in that time;"
         " weigh again after a brighter day."),
        ({"first_kg": 15.0}, "By these weighings the pot lost 170 times what a lawn loses;"
         " look at the kilograms, the hours and the size of the pot."),
    ],
)  # fmt: skip
def test_weighings_that_tell_nothing_are_refused(changes, sentence):
    with pytest.raises(Refused) as refused:
        use_from_weighings(**GOOD | changes)

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("changes", "start"),
    [
        (
            {"first_kg": float("nan")},
            "first weighing is not a number kg; it must be above 0 and at most 2000.",
        ),
        ({"second_kg": -1}, "second weighing is -1 kg; it must be above 0 and at most 2000."),
        ({"top_area_cm2": 0}, "area of the pot's top is 0 cm²; it must be above 0 and at most 100000."),
        ({"scale_step_g": 0}, "step of the scale is 0 g; "),
        (
            {"hours": 1},
            "time between the weighings is 1 h; it must be from 3 to 504. A day or two tells most.",
        ),
        (
            {"reference_mm": float("nan")},
            "reference evapotranspiration is not a number mm; it must be 0 or more.",
        ),
    ],
)
def test_impossible_figures_are_refused(changes, start):
    with pytest.raises(BadQuantity) as refused:
        use_from_weighings(**GOOD | changes)

    assert str(refused.value).startswith(start)


def test_advice_names_what_was_weak():
    weak = use_from_weighings(**GOOD | {"hours": 6, "scale_step_g": 30})

    assert "leave a whole day between them next time" in weak.advice
    assert "The scale alone leaves it open by 21 %" in weak.advice
    assert "whole day" not in use_from_weighings(**GOOD).advice


def test_reference_between_two_times_of_a_record():
    record = plain_season("outdoors summer", 2, date(2026, 7, 13))
    start = datetime(2026, 7, 13, 9, 30)
    exact = record.reference_mm[9] / 2 + record.reference_mm[10:33].sum() + record.reference_mm[33] / 4

    assert reference_between(record, start, start + timedelta(hours=23, minutes=45)) == pytest.approx(exact)


def test_a_record_elsewhere_in_time_is_refused_a_built_in_one_stands_in():
    start = datetime(2024, 2, 1, 9)
    end = start + timedelta(hours=48)
    season = plain_season("outdoors summer", 5)
    daily = season.reference_mm[:24].sum()

    assert reference_between(season, start, end) == pytest.approx(2 * daily, rel=0.02)
    year = plain_year("outdoors", 2025)
    assert reference_between(year, start, end) > 0
    new_year = datetime(2025, 12, 31, 12)
    assert reference_between(year, new_year, new_year + timedelta(hours=24)) == pytest.approx(
        year.reference_mm[-12:].sum() + year.reference_mm[:12].sum()
    )
    record = Climate("house 2", "here", "measured", date(2026, 7, 13), np.full(24, 20.0), np.full(24, 0.5))
    with pytest.raises(
        Refused, match=r"^house 2 runs from 2026-07-13 to 2026-07-13, which does not cover both"
    ):
        reference_between(record, start, end)
    with pytest.raises(Refused, match=r"^The second weighing must come after the first"):
        reference_between(season, end, start)
    with pytest.raises(Refused, match=r"^More than three weeks lie between"):
        reference_between(season, start, start + timedelta(days=30))
