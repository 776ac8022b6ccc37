"""Pots run through watering, drying, flood and mat: what must hold of each, and that the books balance."""

from dataclasses import replace

import numpy as np
import pytest
from tests.science.flow_pots_asked import (
    BARE,
    CELLS,
    COLUMN,
    DRAWN,
    EVAPORATED,
    GRAVEL,
    GROWN,
    LAYERED,
    MIX,
    POURED,
    RAN,
    ROW_POND,
    ROW_POURED,
    ROW_RAN,
    ROW_STORED,
    ROW_ZONE,
    SAND,
    TAKEN,
    TOP_CM2,
    WATERINGS,
    days_of,
    run,
    three_layers,
)

import friable.science.flow.layout as at
from friable.science.flow.pot import CALENDAR, HELD, NEED, SAUCER, Base, Repelling, Watering
from friable.science.flow.pots import CAREFUL

# --- who waters when ------------------------------------------------------------------------------


def test_a_calendar_waters_every_third_day():
    pot = replace(GROWN, watering=Watering(by=CALENDAR, every_days=3, dose_cm3=100))
    found = run(pot, days_of(10), 10)

    assert found.daily[0, :, WATERINGS].tolist() == [1, 0, 0, 1, 0, 0, 1, 0, 0, 1]
    assert found.daily[0, :, POURED].tolist() == [100, 0, 0, 100, 0, 0, 100, 0, 0, 100]


def test_nobody_comes_on_saturday_and_sunday():
    # Daily on working days, from a Thursday: Thu Fri - - Mon Tue Wed Thu.
    pot = replace(GROWN, watering=Watering(by=CALENDAR, dose_cm3=50, weekdays=0b0011111))
    found = run(pot, days_of(8, weekday=3), 8)

    assert found.daily[0, :, WATERINGS].tolist() == [1, 1, 0, 0, 1, 1, 1, 1]


def test_a_watering_due_on_saturday_waits_until_monday():
    need = Watering(by=NEED, used_share=0.3, weekdays=0b0011111, at_hour=7)
    free = run(replace(GROWN, watering=replace(need, weekdays=0b1111111, at_most=1)), days_of(20), 20)
    first = int(np.argmax(free.daily[0, :, WATERINGS]))
    on_saturday = days_of(20, weekday=(5 - first) % 7)
    found = run(replace(GROWN, watering=need), on_saturday, 20)

    assert first > 0
    assert int(np.argmax(found.daily[0, :, WATERINGS])) == first + 2


def test_need_waters_at_the_first_asking_after_the_share_is_gone():
    pot = replace(GROWN, watering=Watering(by=NEED, used_share=0.4, at_hour=9, at_most=1))
    found = run(pot, days_of(20), 20, hourly=True)
    rows = found.hourly[0]
    watered = int(np.argmax(rows[:, ROW_POURED] > 0)) - 1
    gone = (pot.full_cm3 - rows[:, ROW_STORED]) / (pot.full_cm3 - pot.dry_cm3)

    assert watered % 24 == 9
    assert gone[watered] >= 0.4 > gone[watered - 24]


def test_waterings_end_at_the_most_there_may_be():
    pot = replace(GROWN, watering=Watering(by=CALENDAR, dose_cm3=100, at_most=2))

    assert run(pot, days_of(6), 6).daily[0, :, WATERINGS].tolist() == [1, 1, 0, 0, 0, 0]


def test_without_a_dose_what_is_missing_is_poured_and_the_surplus_runs_through():
    pot = replace(GROWN, watering=Watering(by=NEED, used_share=0.3, at_hour=0, surplus=0.25, at_most=1))
    found = run(pot, days_of(20), 20, hourly=True)
    rows = found.hourly[0]
    poured = rows[-1, ROW_POURED]
    before = int(np.argmax(rows[:, ROW_POURED] > 0)) - 1
    missing = pot.full_cm3 - rows[before, ROW_STORED]

    assert poured == pytest.approx(1.25 * missing, rel=1e-9)
    # In the night after nothing is used, so that it drains to about full again.
    assert rows[before + 6, ROW_RAN] == pytest.approx(0.25 * missing, abs=0.05 * missing)


def test_a_pot_that_lacks_nothing_gets_nothing_without_a_dose():
    pot = replace(BARE, watering=Watering(by=CALENDAR, surplus=0.2))
    found = run(pot, days=2)

    assert found.state[0, at.POURED] == pytest.approx(0, abs=1e-3 * pot.full_cm3)


# --- how fast it comes ----------------------------------------------------------------------------


def dry_start(pot, suction_cm=200.0):
    return np.full((1, len(pot.column.layer)), -suction_cm)


def test_mist_of_hours_wets_what_a_can_drives_over_the_rim():
    # 500 cm3 on 118 cm2 (4 cm of water) of a slow sand, rim 0.5 cm, in a minute or over 8 hours.
    slow = replace(BARE, media=(SAND,), total_porosity=0.42, rim_cm=0.5)
    can = replace(slow, watering=Watering(by=CALENDAR, dose_cm3=500, at_hour=0, at_most=1, rate_cm3_h=1e6))
    mist = replace(can, watering=replace(can.watering, rate_cm3_h=500 / 8))
    start = dry_start(slow)
    by_can, by_mist = (run(pot, start_heads_cm=start) for pot in (can, mist))

    assert by_can.state[0, at.OVER] > 200
    assert by_mist.state[0, at.OVER] == 0
    assert by_mist.state[0, at.STORED] > by_can.state[0, at.STORED] + 100


def test_a_higher_rim_sheds_less():
    over = []
    for rim_cm in (0.0, 0.5, 1.5, 10.0):
        pot = replace(
            BARE, media=(SAND,), rim_cm=rim_cm,
            watering=Watering(by=CALENDAR, dose_cm3=500, at_hour=0, at_most=1, rate_cm3_h=1e5),
        )  # fmt: skip
        over.append(run(pot, start_heads_cm=dry_start(pot)).state[0, at.OVER])

    assert over == sorted(over, reverse=True)
    assert over[0] > over[1] > over[2] > 0
    assert over[3] == 0


def test_no_more_stands_on_the_medium_than_the_rim_holds():
    pot = replace(
        BARE, media=(SAND,), rim_cm=1.5,
        watering=Watering(by=CALENDAR, dose_cm3=20_000, at_hour=0, at_most=1, rate_cm3_h=10_000),
    )  # fmt: skip
    found = run(pot, hourly=True, start_heads_cm=dry_start(pot))

    assert found.hourly[0, :, ROW_POND].max() == pytest.approx(1.5)
    assert found.hourly[0, -1, ROW_POND] == pytest.approx(0, abs=1e-3)


# --- what it stands in ----------------------------------------------------------------------------


def test_a_flood_fills_from_below_and_drains_when_it_goes():
    pot = replace(BARE, watering=Watering(by=CALENDAR, at_most=1, at_hour=1, flood_cm=8, flood_hours=2))
    found = run(pot, hourly=True, start_heads_cm=dry_start(pot, 60))
    rows = found.hourly[0]
    low = COLUMN.height_cm < 7.5

    assert found.state[0, at.DRAWN_UP] > 100
    assert found.profiles[0, 3, low] == pytest.approx(MIX.saturated, abs=2e-3)
    assert rows[3, ROW_STORED] > rows[-1, ROW_STORED] > rows[0, ROW_STORED]
    assert rows[3, ROW_STORED] - rows[-1, ROW_STORED] == pytest.approx(rows[-1, ROW_RAN], abs=1)
    assert rows[-1, ROW_POURED] == 0
    assert (found.profiles[0, -1, low] < MIX.saturated - 0.01).any()


def test_a_longer_flood_fills_no_less():
    stored = [
        run(
            replace(GROWN, watering=Watering(by=CALENDAR, at_hour=0, flood_cm=5, flood_hours=h, at_most=1)),
            start_heads_cm=dry_start(GROWN, 200),
        ).state[0, at.STORED]
        for h in (0.02, 0.2, 2.0)
    ]  # fmt: skip

    assert stored == sorted(stored)
    assert stored[2] > stored[0]


@pytest.mark.parametrize("below_cm", [5.0, 20.0])
@pytest.mark.parametrize("start_cm", [1.0, 60.0])
def test_a_mat_or_bed_brings_the_column_near_hydrostatic_from_either_side(below_cm, start_cm):
    pot = replace(BARE, media=(SAND,), base=Base(kind=HELD, head_cm=-below_cm))
    found = run(pot, days=30, start_heads_cm=dry_start(pot, start_cm))

    assert -found.heads_cm[0] == pytest.approx(COLUMN.height_cm + below_cm, abs=0.3)


def test_a_mat_keeps_feeding_what_is_used():
    # Mass balance: at the end what the mat gives a day is what plant and air take, 1.2 x 4 mm.
    pot = replace(GROWN, base=Base(kind=HELD, head_cm=-5.0))
    last = run(pot, days_of(12), 12).daily[0, -1]

    assert last[EVAPORATED] + last[TAKEN] == pytest.approx(last[DRAWN] - last[RAN], rel=0.02)
    assert last[EVAPORATED] == pytest.approx(0.4 * 0.4 * TOP_CM2, rel=0.01)


def test_standing_water_keeps_what_lies_under_it_full():
    pot = replace(GROWN, base=Base(kind=HELD, head_cm=4.0))
    found = run(pot, days_of(10, mm=8), 10, hourly=True)
    under = COLUMN.height_cm < 3.5

    assert found.profiles[0, :, under] == pytest.approx(MIX.saturated, abs=1e-4)
    assert (found.profiles[0, -1, ~under] < MIX.saturated).any()


def test_what_ran_into_a_saucer_is_drawn_up_again_and_the_rest_is_spilt():
    watering = Watering(by=CALENDAR, dose_cm3=600, at_hour=0, at_most=1)
    pot = replace(GROWN, base=Base(kind=SAUCER, saucer_area_cm2=180, saucer_cm3=150), watering=watering)
    found = run(pot, days_of(6), 6, hourly=True)
    s, rows = found.state[0], found.hourly[0]
    ran = 600 - (rows[:, ROW_STORED].max() - rows[0, ROW_STORED])

    assert ran > 150
    assert s[at.SPILT] > 0
    assert s[at.DRAWN_UP] > 100
    assert s[at.IN_SAUCER] < 1
    assert rows[-1, ROW_RAN] == s[at.SPILT]
    alone = run(replace(pot, base=Base()), days_of(6), 6)
    assert s[at.STORED] > alone.state[0, at.STORED] + 50


def test_a_bigger_saucer_spills_less_and_none_that_is_big_enough():
    watering = Watering(by=CALENDAR, dose_cm3=600, at_hour=0, at_most=1)
    spilt = []
    for cm3 in (50, 150, 5000):
        pot = replace(BARE, base=Base(kind=SAUCER, saucer_area_cm2=180, saucer_cm3=cm3), watering=watering)
        spilt.append(run(pot).state[0, at.SPILT])

    assert spilt[0] > spilt[1] > spilt[2] == 0


def test_rain_falls_on_the_area_that_catches_it():
    pot = replace(BARE, rain_cm2=2 * TOP_CM2)
    found = run(pot, days_of(3, mm=0, rain_mm=5), 3)

    assert found.daily[0, :, 1] == pytest.approx(0.5 * 2 * TOP_CM2)
    assert found.state[0, at.BELOW] == pytest.approx(3 * TOP_CM2, rel=0.05)
    assert run(BARE, days_of(3, mm=0, rain_mm=5), 3).state[0, at.RAINED] == 0


# --- drying ---------------------------------------------------------------------------------------


def test_repelling_lets_part_of_a_watering_past_until_it_has_soaked():
    # Dried under 0.2 the root zone repels; 150 cm3 a day at one o'clock wet it again over some days.
    repelling = Repelling(below=0.2, until=0.45, run_past=0.6)
    pot = replace(BARE, repelling=repelling, watering=Watering(by=CALENDAR, dose_cm3=150, at_hour=1))
    start = dry_start(pot, 1000)
    weather = days_of(12, mm=0)
    found = run(pot, weather, 12, hourly=True, start_heads_cm=start)
    zone = found.hourly[0, 1::24, ROW_ZONE]
    ran = np.diff(np.concatenate([[0.0], found.daily[0, :, RAN].cumsum()]))

    soaked = int(np.argmax(found.hourly[0, 24::24, ROW_ZONE] > 0.45))
    assert zone[0] < 0.2
    assert 0 < soaked < 11
    assert found.state[0, at.PAST] == pytest.approx(0.6 * 150 * (soaked + 1))
    assert ran[0] == pytest.approx(0.6 * 150)
    assert found.state[0, at.REPELS] == 0
    same = run(replace(pot, repelling=None), weather, 12, start_heads_cm=start)
    assert same.state[0, at.PAST] == 0


def test_evaporation_ends_at_a_dry_surface():
    pot = replace(BARE, evaporation_cm2=TOP_CM2)
    found = run(pot, days_of(60, mm=8), 60)
    wanted = 0.8 * TOP_CM2

    assert found.daily[0, 0, EVAPORATED] == pytest.approx(wanted, rel=1e-3)
    assert found.daily[0, -1, EVAPORATED] < 0.2 * wanted
    assert -found.heads_cm[0, 0] > 500
    assert -found.heads_cm[0, 0] < 5001


def test_roots_take_all_between_easy_and_hard_and_nothing_beyond_wilting():
    pot = replace(BARE, uptake_cm2=TOP_CM2)
    at_ease, beyond, drowned = (
        run(pot, days_of(1), start_heads_cm=-suction)
        for suction in (np.full((1, CELLS), 60.0), np.full((1, CELLS), 4000.0), np.full((1, CELLS), 0.01))
    )

    assert at_ease.daily[0, 0, TAKEN] == pytest.approx(0.4 * TOP_CM2, rel=1e-3)
    assert beyond.daily[0, 0, TAKEN] == pytest.approx(0, abs=1e-6)
    # A pot under water has no air to breathe: [feddes1978]_, nothing below the wet suction.
    under = replace(pot, base=Base(kind=HELD, head_cm=11.0))
    assert run(under, days_of(1)).daily[0, 0, TAKEN] < 0.02 * TOP_CM2
    assert drowned.daily[0, 0, TAKEN] < at_ease.daily[0, 0, TAKEN]


def test_a_plant_stops_at_its_wilting_suction():
    found = run(replace(BARE, uptake_cm2=TOP_CM2), days_of(60, mm=10), 60)
    left = float(MIX.water_at(np.array([3000.0]))[0]) * COLUMN.volume_cm3.sum()

    assert found.state[0, at.STORED] >= left - 0.5
    assert found.state[0, at.STORED] == pytest.approx(left, rel=0.1)


def test_hysteresis_holds_less_on_rewetting_than_on_drying():
    # A bed of sand 15 cm below draws a dry column up, or lets a full one drain.
    pot = replace(BARE, media=(SAND,), base=Base(kind=HELD, head_cm=-15.0))

    def stored(start_cm, ratio):
        how = {"solver": CAREFUL, "wetting_ratio": ratio, "start_heads_cm": dry_start(pot, start_cm)}
        return run(pot, days=30, **how).state[0, at.STORED]

    assert stored(0.5, 2.0) == pytest.approx(stored(0.5, 0.0), rel=1e-3)
    assert stored(300.0, 0.0) == pytest.approx(stored(0.5, 0.0), rel=0.02)
    assert stored(300.0, 2.0) < 0.9 * stored(0.5, 2.0)


# --- layers ---------------------------------------------------------------------------------------


def in_medium(pot, found):
    inside = pot.column.layer == 0
    return found.waters[0, inside] @ pot.column.volume_cm3[inside]


def test_broken_films_hold_more_in_the_medium_than_continuous_ones():
    filmed = replace(GRAVEL, conductivity_cm_h=np.maximum(GRAVEL.conductivity_cm_h, 0.1))
    continuous = replace(BARE, column=LAYERED, media=(MIX, filmed))
    broken = replace(BARE, column=LAYERED, media=(MIX, GRAVEL), entry_suction_cm=0.8)
    full = np.full((1, CELLS), -0.1)
    held = [in_medium(pot, run(pot, days=10, start_heads_cm=full)) for pot in (broken, continuous)]

    assert held[0] > 1.05 * held[1]
    # By hand: the medium stands on suctions of 0.8 cm up, or on those of its height above the floor.
    heights, inside = LAYERED.height_cm, LAYERED.layer == 0
    for water, lowest in zip(held, (0.8, 3.0), strict=True):
        by_hand = MIX.water_at(lowest + heights[inside] - 3.0) @ LAYERED.volume_cm3[inside]
        assert water == pytest.approx(by_hand, rel=0.02)


def test_two_layers_under_the_medium_drain_to_hydrostatic():
    pot = replace(BARE, column=three_layers(), media=(MIX, SAND, replace(
        GRAVEL, conductivity_cm_h=np.maximum(GRAVEL.conductivity_cm_h, 0.1))))  # fmt: skip
    found = run(pot, days=20, start_heads_cm=np.full((1, CELLS), -0.1))

    assert pot.column.layer.tolist() == sorted(pot.column.layer)
    assert set(pot.column.layer) == {0, 1, 2}
    assert found.waters[0] == pytest.approx(pot.drained_water, abs=0.01)
