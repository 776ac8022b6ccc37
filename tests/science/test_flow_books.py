"""Every kind of pot: its books balance, the solvers agree, and nothing depends on who runs beside it."""

from dataclasses import replace

import numpy as np
import pytest
from tests.science.flow_pots_asked import (
    EVAPORATED,
    GRAVEL,
    GROWN,
    LAYERED,
    MIX,
    POT,
    ROW_STORED,
    SAND,
    TOP_CM2,
    days_of,
    run,
    three_layers,
    throughput_and_slip,
)

import friable.science.flow.layout as at
from friable.errors import BadQuantity
from friable.science.flow.column import column_of
from friable.science.flow.pot import CALENDAR, HELD, SAUCER, Base, Repelling, Watering
from friable.science.flow.pots import CAREFUL, FAST, SINGLE, run_pots

# --- the books, and the two solvers -----------------------------------------------------------------

DAILY_CAN = Watering(by=CALENDAR, dose_cm3=200)
KINDS = {
    "open holes": replace(GROWN, watering=DAILY_CAN),
    "mist": replace(GROWN, watering=replace(DAILY_CAN, rate_cm3_h=40.0)),
    "over the rim": replace(
        GROWN, media=(SAND,), rim_cm=0.2, watering=replace(DAILY_CAN, dose_cm3=600, rate_cm3_h=5000.0)
    ),
    "standing water": replace(GROWN, base=Base(kind=HELD, head_cm=3.0)),
    "mat": replace(GROWN, base=Base(kind=HELD, head_cm=-5.0), watering=DAILY_CAN),
    "saucer": replace(
        GROWN, base=Base(kind=SAUCER, saucer_area_cm2=180, saucer_cm3=100), watering=DAILY_CAN
    ),
    "flood": replace(GROWN, watering=Watering(by=CALENDAR, flood_cm=5, flood_hours=0.5)),
    "rain": replace(GROWN, rain_cm2=TOP_CM2),
    "repelling": replace(
        GROWN, watering=Watering(by=CALENDAR, every_days=5, dose_cm3=200),
        repelling=Repelling(below=0.4, until=0.6, run_past=0.5),
    ),
    "broken films": replace(
        GROWN, column=LAYERED, media=(MIX, GRAVEL), entry_suction_cm=0.8, watering=DAILY_CAN
    ),
    "three materials": replace(GROWN, column=three_layers(), media=(MIX, SAND, GRAVEL), watering=DAILY_CAN),
}  # fmt: skip
SUMMER = days_of(6, mm=5, rain_mm=4)
# How far the two may be apart in water stored, at any hour and on the mean: the usual tolerance of 1e-3 of
# the water content is 1.1 cm3 of this pot in one step; three of them may fall together where a front passes.
MOST_APART_CM3, MEAN_APART_CM3 = 3.4, 0.5


@pytest.mark.parametrize("kind", KINDS)
def test_books_balance_and_the_two_solvers_agree(kind):
    pot = KINDS[kind]
    fast, careful = (run(pot, SUMMER, 6, hourly=True, solver=solver) for solver in (FAST, CAREFUL))

    for found in (fast, careful):
        through, slip = throughput_and_slip(pot, found)
        assert through > 50
        assert abs(slip) < 1e-6 * through
        assert found.waters[0] @ pot.column.volume_cm3 == pytest.approx(found.state[0, at.STORED], abs=0.1)
        assert found.lost == 0
    between = np.abs(fast.hourly[0, :, ROW_STORED] - careful.hourly[0, :, ROW_STORED])
    assert between.max() < MOST_APART_CM3
    assert between.mean() < MEAN_APART_CM3


@pytest.mark.parametrize(
    ("kind", "what"),
    [
        ("open holes", at.BELOW), ("mist", at.POURED), ("over the rim", at.OVER),
        ("standing water", at.DRAWN_UP),
        ("mat", at.DRAWN_UP), ("saucer", at.SPILT), ("saucer", at.DRAWN_UP), ("flood", at.DRAWN_UP),
        ("flood", at.BELOW), ("rain", at.RAINED), ("repelling", at.PAST), ("broken films", at.BELOW),
        ("three materials", at.BELOW),
    ],
)  # fmt: skip
def test_each_kind_does_what_it_is_named_for(kind, what):
    assert run(KINDS[kind], SUMMER, 6).state[0, what] > 10


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "saucer"])
def test_its_own_balance_says_the_same(kind):
    found = run(KINDS[kind], SUMMER, 6)
    through, _slip = throughput_and_slip(KINDS[kind], found)

    assert np.abs(found.balance_cm3(np.array([TOP_CM2]))) < 1e-6 * through


@pytest.mark.parametrize("kind", KINDS)
def test_single_precision_balances_to_a_ten_thousandth(kind):
    pot = KINDS[kind]
    found = run(pot, SUMMER, 6, precision=SINGLE)
    through, slip = throughput_and_slip(pot, found)

    assert abs(slip) <= 1e-4 * through
    assert found.waters[0] @ pot.column.volume_cm3 == pytest.approx(
        found.state[0, at.STORED], abs=1e-4 * through + 0.1
    )


def test_books_balance_with_hysteresis():
    pot = KINDS["open holes"]
    found = run(pot, SUMMER, 6, solver=CAREFUL, wetting_ratio=2.0)
    through, slip = throughput_and_slip(pot, found)

    assert abs(slip) < 1e-6 * through


def test_a_tighter_tolerance_comes_closer():
    pot = KINDS["open holes"]
    exact = run(pot, SUMMER, 6, hourly=True, solver=CAREFUL, tolerance=2e-5).hourly[0, :, ROW_STORED]
    apart = [
        np.median(np.abs(run(pot, SUMMER, 6, hourly=True, tolerance=t).hourly[0, :, ROW_STORED] - exact))
        for t in (1e-2, 1e-3, 1e-4)
    ]

    assert apart[2] < 0.2 * apart[1]  # loose ones are near one another in the median of all hours
    assert apart[0] < 0.5
    assert apart[1] < 0.5


# --- thousands are one ------------------------------------------------------------------------------


def everything(found, p):
    return found.daily[p].tobytes(), found.waters[p].tobytes(), found.state[p].tobytes()


@pytest.mark.parametrize("precision", ["double", "single"])
def test_a_pot_does_not_depend_on_its_neighbours_or_on_threads(precision):
    pots = [KINDS[kind] for kind in KINDS] * 4
    together, on_two = (
        run_pots(pots, [SUMMER], 72, precision=precision, threads=threads) for threads in (1, 2)
    )
    backwards = run_pots(pots[::-1], [SUMMER], 72, precision=precision)
    # The row of a pot does not name itself, so only its place among the tables may differ: not compared.
    for p, pot in enumerate(pots[: len(KINDS)]):
        alone = run_pots([pot], [SUMMER], 72, precision=precision)
        assert everything(alone, 0) == everything(together, p) == everything(on_two, p)
        assert everything(alone, 0) == everything(together, p + len(KINDS))
        assert everything(alone, 0) == everything(backwards, len(pots) - 1 - p)


def test_each_pot_has_its_own_weather():
    pots = [replace(GROWN, weather=1), replace(GROWN, weather=0)]
    weathers = [days_of(3, mm=2), days_of(3, mm=6)]
    found = run_pots(pots, weathers, 72)

    assert found.daily[0, 0, EVAPORATED] == pytest.approx(3 * found.daily[1, 0, EVAPORATED], rel=1e-6)


# --- what is refused --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"pots": []}, "number of pots is 0; it must be at least 1."),
        ({"hours": 0}, "hours to run is 0 h; it must be from 1 to ten years."),
        ({"hours": 24 * 3661}, "hours to run is 87864 h; it must be from 1 to ten years."),
        ({"hours": 25}, "hours of weather is 24 h; it must be at least the 25 to run."),
        ({"tolerance": 0.1},
         "tolerance of the water content is 0.1 m³/m³; it must be from 1e-8 to 0.05."),
        ({"tolerance": float("nan")},
         "tolerance of the water content is not a number m³/m³; it must be from 1e-8 to 0.05."),
        ({"wetting_ratio": 1.0},
         "ratio of wetting to drying alpha is 1; it must be 0 for none, or above 1 and at most 5."),
        ({"wetting_ratio": float("nan")},
         "ratio of wetting to drying alpha is not a number; it must be 0 for none, or above 1 and at most "
         "5."),
    ],
)  # fmt: skip
def test_a_run_that_cannot_be_is_refused(change, sentence):
    asked = {"pots": [GROWN], "weathers": [days_of(1)], "hours": 24} | change
    with pytest.raises(BadQuantity) as refused:
        run_pots(**asked)

    assert str(refused.value) == sentence


def test_pots_of_different_cells_are_a_mistake_of_the_caller():
    other = replace(GROWN, column=column_of(POT, cells=12))

    with pytest.raises(ValueError, match="same number of cells"):
        run_pots([GROWN, other], [days_of(1)], 24)
