"""Who must be watered on Saturday: chances read by hand from seasons whose waterings are known."""

from datetime import date, timedelta

import pytest
from tests.bucket import bucket

from friable.errors import BadQuantity, Refused
from friable.planning.collection import read_collection
from friable.planning.door_list import door_list
from friable.planning.plain_season import plain_season
from friable.planning.season import block_work, plan_season, run_block, summary

PEAT = "2 sphagnum peat medium + 1 perlite coarse"
FRIDAY = date(2026, 7, 3)
SATURDAY, SUNDAY, MONDAY = (FRIDAY + timedelta(days=n) for n in (1, 2, 3))


@pytest.fixture(scope="module")
def answer():
    text = (
        "group,mix,container,count,plant,water_use,watering\n"
        f"daily,{PEAT},round 9/7/8 cm,4,ferns,1,daily\n"
        f"every third,{PEAT},round 17/12/13 cm,5,ferns,1,every 3 days\n"
        f"bog,{PEAT},round 9/7/8 cm,6,bog,1,standing water 2 cm\n"
        f"hardly ever,{PEAT},round 25/20/22 cm,7,succulents,0.01,on need\n"
    )
    climate = plain_season("temperate glasshouse summer", 60, date(2026, 6, 1))
    plan = plan_season(read_collection(text), [climate], draws=1)
    return summary(plan, (run_block(block_work(plan, n), bucket) for n in range(plan.blocks)))


def of(lines, group, day):
    return next(line for line in lines if (line.group, line.day) == (group, day))


def test_without_a_known_watering_the_chance_is_how_often_it_falls_on_that_date(answer):
    """Every third day from 1 June: day 33 is 4 July, which is watered; 5 July is not."""
    lines = door_list(answer, [SATURDAY, SUNDAY])

    assert (of(lines, "daily", SATURDAY).chance, of(lines, "daily", SATURDAY).verdict) == (1.0, "must")
    assert of(lines, "every third", SATURDAY).chance == 1.0
    assert of(lines, "every third", SUNDAY).verdict == "not"


def test_after_a_watering_on_friday_the_third_day_is_due_and_the_first_two_are_not(answer):
    lines = door_list(answer, [SATURDAY, SUNDAY, MONDAY], watered_on=FRIDAY)

    assert of(lines, "daily", SATURDAY).chance == 1.0
    assert [of(lines, "every third", day).chance for day in (SATURDAY, SUNDAY, MONDAY)] == [0, 0, 1]
    assert of(lines, "hardly ever", MONDAY).verdict == "not"


def test_trays_of_water_are_always_to_be_filled_and_say_how_much(answer):
    line = of(door_list(answer, [SATURDAY], watered_on=FRIDAY), "bog", SATURDAY)

    number = answer.day_number(SATURDAY)
    assert line.verdict == "must"
    bog = next(kind.kind for kind in answer.kinds if kind.group == "bog")
    # A mean of the three weeks about that date, within which the light hardly changes.
    assert line.litres_each == pytest.approx(float(answer.litres_each[bog, number]), rel=2e-2)
    assert line.litres_each > 0


def test_what_must_be_watered_stands_first_and_what_must_not_last(answer):
    verdicts = [line.verdict for line in door_list(answer, [SATURDAY], watered_on=FRIDAY)]

    assert verdicts == sorted(verdicts, key=["must", "may", "not"].index)
    assert len(verdicts) == 4


def test_litres_are_those_of_the_waterings_about_that_date(answer):
    """A pot of 17 cm that loses its use of the reference for three days gets that and a tenth more."""
    climate = plain_season("temperate glasshouse summer", 60, date(2026, 6, 1))
    top_cm2 = 3.14159265 * 8.5**2
    by_hand = 1.1 * 3 * top_cm2 * 0.1 * climate.reference_mm[:24].sum() / 1000

    line = of(door_list(answer, [SATURDAY]), "every third", SATURDAY)

    # The sun of the three weeks about that date differs from that of the first day by less than 0.1 %.
    assert line.litres_each == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize(
    ("days", "watered_on", "problem", "said"),
    [
        ([], None, Refused, "No day"),
        ([date(2027, 1, 1)], None, Refused, "not in this season"),
        ([SATURDAY], SATURDAY, BadQuantity, "days since the watering"),
        ([SATURDAY], date(2026, 6, 20), BadQuantity, "from 1 to 7"),
        ([SATURDAY + timedelta(days=n) for n in range(32)], None, BadQuantity, "at most 31"),
    ],
)
def test_a_list_that_cannot_be_is_refused(answer, days, watered_on, problem, said):
    with pytest.raises(problem, match=said):
        door_list(answer, days, watered_on=watered_on)


def test_lines_are_plain_values_for_programs(answer):
    line = door_list(answer, [SATURDAY])[0].to_json()

    assert line["day"] == SATURDAY.isoformat()
    assert set(line) >= {"group", "mix", "container", "count", "litres_each", "chance", "verdict"}
