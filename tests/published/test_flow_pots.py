"""The flow solvers against pots whose end is known: drained, at rest, above a layer, watered gently."""

import numpy as np
import pytest

from friable.science.flow import layout as at
from friable.science.flow.column import column_of
from friable.science.flow.medium import Uptake
from friable.science.flow.pot import CALENDAR, HELD, Base, Pot, Watering

from .exact_flow import drained_water_cm3, frustum_cm3, rewetted_water
from .flow_columns import SOLVERS, even, run, steady_weather, straight, tapered, van_genuchten

CURVE = (0.85, 0.15, 0.15, 2.0)
KS = 60.0


def medium(steps=1024):
    return van_genuchten(*CURVE, KS, steps)


def order(errors):
    return np.log2(np.asarray(errors[:-1]) / np.asarray(errors[1:]))


# --- from full to drained --------------------------------------------------------------------------------


@pytest.mark.parametrize("solver", SOLVERS)
def test_a_full_pot_drains_to_the_closed_form(solver):
    # 15 cm, radius 5 below and 7.5 above: 1122.259 cm3 stay, 463.264 cm3 leave, worked by hand.
    stays = drained_water_cm3(*CURVE[:3], 15, 5, 7.5)
    errors = []
    for cells in (20, 40, 80):
        pot = Pot(column=even(tapered(15, 5, 7.5), cells), media=(medium(),), total_porosity=0.85)
        found = run(pot, 24 * 40, start_heads_cm=np.zeros(cells), solver=solver, tolerance=1e-4)

        left = found.state[0, at.BELOW]
        assert found.stored_at_start_cm3[0] == pytest.approx(0.85 * frustum_cm3(15, 5, 7.5), abs=1e-6)
        assert abs(found.balance_cm3(np.ones(1))[0]) < 1e-6 * left
        assert found.heads_cm[0, -1] == pytest.approx(-pot.column.thickness_cm[-1] / 2, rel=1e-3)
        errors.append(found.state[0, at.STORED] - stays)

    assert stays == pytest.approx(1122.259, abs=5.1e-4)
    assert errors == pytest.approx((0.129, 0.032, 0.008), abs=3e-3)  # 1122.388, .291 and .267 elsewhere
    assert left == pytest.approx(463.264, abs=0.02)


# --- at rest ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("solver", SOLVERS)
@pytest.mark.parametrize("top_cell_cm", [None, 0.1])
def test_a_drained_pot_left_alone_stays_as_it_is(top_cell_cm, solver):
    column = column_of(tapered(15, 5, 7.5), cells=40, top_cell_cm=top_cell_cm)
    pot = Pot(column=column, media=(medium(),), total_porosity=0.85)
    found = run(pot, 240, solver=solver)

    assert np.abs(found.waters[0] - pot.drained_water).max() < 1e-10
    assert found.state[0, at.BELOW] < 1e-9  # cm3: rounding


# --- above a drainage layer --------------------------------------------------------------------------------
# A straight pot of 15 cm. Water in the medium as a height over the base: broken films, it starts at the
# suction at which water enters the layer; continuous films, at the thickness of the layer. Worked by
# quadrature. A layer of gravel that water enters only below that suction, and one that conducts at any.

GRAVEL = (0.40, 0.02, 1.0, 3.0, 2000.0)
CONDUCTING = (0.40, 0.02, 0.5, 2.0, 300.0)


def above_layer(layer_cm, entry_cm, lower, solver, cells=100):
    column = even(straight(15, layer_cm), cells)
    pot = Pot(
        column=column,
        media=(medium(), van_genuchten(*lower)),
        total_porosity=0.85,
        entry_suction_cm=entry_cm,
    )
    found = run(pot, 24 * 60, start_heads_cm=np.zeros(cells), solver=solver, tolerance=1e-4)
    assert not found.lost
    assert abs(found.balance_cm3(np.ones(1))[0]) < 1e-6 * found.state[0, at.BELOW]
    held = column.volume_cm3 * found.waters[0] / column.face_area_cm2[0]
    return held[column.layer == 0].sum(), held.sum()


@pytest.mark.parametrize("solver", SOLVERS)
@pytest.mark.parametrize(
    ("layer_cm", "entry_cm", "water_cm"),
    [
        (3, 0, 8.1021), (3, 1, 7.7342), (3, 2, 7.3618),
        (6, 0, 6.5233), (6, 1, 6.2282), (6, 2, 5.9211),
    ],
)  # fmt: skip
def test_broken_films_hold_the_water_that_the_entry_suction_says(layer_cm, entry_cm, water_cm, solver):
    in_medium, in_pot = above_layer(layer_cm, entry_cm, GRAVEL, solver)

    assert in_medium == pytest.approx(water_cm, abs=0.01)
    assert in_pot < 9.4841  # without the layer


@pytest.mark.parametrize("solver", SOLVERS)
def test_continuous_films_start_at_the_thickness_of_the_layer(solver):
    in_medium, in_pot = above_layer(3, None, CONDUCTING, solver)

    assert in_medium == pytest.approx(6.9992, abs=2e-3)
    assert in_pot < 9.4841


@pytest.mark.parametrize("solver", SOLVERS)
def test_no_layer(solver):
    column = even(straight(15), 100)
    pot = Pot(column=column, media=(medium(),), total_porosity=0.85)
    found = run(pot, 24 * 60, start_heads_cm=np.zeros(100), solver=solver, tolerance=1e-4)

    assert found.state[0, at.STORED] / column.face_area_cm2[0] == pytest.approx(9.4841, abs=1e-3)


# --- watered ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("precision", ["double", "single"])
@pytest.mark.parametrize("solver", SOLVERS)
def test_ten_days_of_watering_balance(solver, precision):
    column = column_of(tapered(15, 5, 7.5))
    top = float(column.face_area_cm2[0])
    pot = Pot(
        column=column,
        media=(medium(16),),
        total_porosity=0.85,
        uptake=Uptake(1, 5, 300, 3000),
        evaporation_cm2=0.3 * top,
        uptake_cm2=0.7 * top,
        watering=Watering(by=CALENDAR, dose_cm3=2 * top, rate_cm3_h=8 * top),
    )
    weather = steady_weather(240, reference_cm_h=0.02)
    found = run(pot, 240, weather, solver=solver, precision=precision, steps=16)
    s = found.state[0]

    assert s[at.POURED] == pytest.approx(20 * top)
    # A millionth of what went through, or 5 mm3 in ten days; single precision rounds to a ten-thousandth.
    allowed = max(1e-6 * s[at.POURED], 0.005) if precision == "double" or solver == "careful" else 0.2
    assert abs(found.balance_cm3(np.array([top]))[0]) < allowed
    assert found.daily[0, :, 4:6].sum() == pytest.approx(s[at.EVAPORATED] + s[at.TAKEN])
    assert s[at.OVER] == 0


@pytest.mark.parametrize("solver", SOLVERS)
def test_watering_slower_than_the_medium_conducts_never_runs_over(solver):
    column = even(tapered(15, 5, 7.5), 40)
    top = float(column.face_area_cm2[0])
    pots = [
        Pot(column=column, media=(medium(),), total_porosity=0.85, rain_cm2=top, rim_cm=0.0, base=base)
        for base in (Base(), Base(kind=HELD, head_cm=-5.0))
    ]
    found = run(pots, 24, steady_weather(24, rain_cm_h=0.5 * KS * (5 / 7.5) ** 2), solver=solver)

    assert np.all(found.state[:, at.OVER] <= 1e-6 * found.state[:, at.RAINED])
    assert np.all(found.state[:, at.RAINED] > 0)


@pytest.mark.parametrize("solver", SOLVERS)
def test_rain_faster_than_that_runs_over(solver):
    column = even(straight(15), 40)
    top = float(column.face_area_cm2[0])
    slow = van_genuchten(*CURVE, 2.0)
    pot = Pot(column=column, media=(slow,), total_porosity=0.85, rain_cm2=top, rim_cm=0.0)
    found = run(pot, 48, steady_weather(48, rain_cm_h=3.0), solver=solver)
    s = found.state[0]

    # Full to the rim it lets through what it conducts under a gradient of one: 2 of the 3 cm an hour.
    assert (s[at.BELOW] / 48 / top) == pytest.approx(2.0, abs=0.15)
    assert abs(found.balance_cm3(np.array([top]))[0]) < 1e-6 * s[at.RAINED]


# --- hysteresis --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("to_cm", [10, 5, 2, 0])
def test_a_medium_that_dried_takes_up_less_on_the_way_back(to_cm):
    # θs 0.8, θr 0.1, alpha 0.1 drying and 0.2 wetting, n 2; dried to 20 cm, then on a mat at 10, 5, 2 and 0
    # cm: by Kool and Parker's equation 0.5176 0.6504 0.7635 0.8000 where the mat is (five digits in
    # test_exact_flow).
    column = even(straight(0.1), 4)
    pot = Pot(
        column=column,
        media=(van_genuchten(0.8, 0.1, 0.1, 2, 20.0),),
        total_porosity=0.8,
        base=Base(kind=HELD, head_cm=-float(to_cm)),
    )
    turned_at = 20 + column.height_cm
    found = run(pot, 200, start_heads_cm=-turned_at, solver="careful", tolerance=1e-5, wetting_ratio=2.0)
    exact = rewetted_water(0.8, 0.1, 0.1, 0.2, 2, turned_at, to_cm + column.height_cm)

    assert found.waters[0] == pytest.approx(exact, abs=5e-5)
    on_drying_curve = 0.1 + 0.7 / np.hypot(1, 0.1 * max(to_cm, 0.01))
    assert to_cm == 0 or found.waters[0, 0] < on_drying_curve - 0.01
