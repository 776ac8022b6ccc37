"""The values that flow is worked from: media, columns, pots, weather; what they say and what they refuse."""

import math
from dataclasses import replace

import numpy as np
import pytest

import friable.science.flow.layout as at
from friable.errors import BadQuantity
from friable.science.containers import Container
from friable.science.flow.column import cell_faces_cm, column_of
from friable.science.flow.medium import (
    DOUBLINGS,
    ENTRIES,
    STEPS,
    TABLE_SUCTIONS_CM,
    Medium,
    Uptake,
    solver_table,
    van_genuchten_medium,
)
from friable.science.flow.pot import HELD, SAUCER, Base, Pot, Repelling, Watering, Weather, row_of, shape_of

NAN = math.nan
POT = Container(
    shape="round", top_length_cm=13, top_width_cm=13, bottom_length_cm=10, bottom_width_cm=10,
    height_cm=12, headspace_cm=1,
)  # fmt: skip
MIX = van_genuchten_medium(
    saturated=0.85, residual=0.1, alpha_per_cm=0.15, n=1.6, saturated_conductivity_cm_h=60.0
)
GRAVEL = van_genuchten_medium(
    saturated=0.42, residual=0.03, alpha_per_cm=1.5, n=3.0, saturated_conductivity_cm_h=2000.0
)


def grown(**changes):
    return Pot(**{"column": column_of(POT), "media": (MIX,), "total_porosity": 0.87} | changes)


def layered(entry_cm, **changes):
    column = column_of(POT.with_drainage_layer(3.0))
    return grown(column=column, media=(MIX, GRAVEL), entry_suction_cm=entry_cm, **changes)


# --- a medium -------------------------------------------------------------------------------------


def test_nodes_of_the_table_by_hand():
    # w = 2^k (1 + j/16), suction w - 1: 0, 1/16 ... 1 (k=1, j=0), 1.125 ... 2^17 - 1.
    assert len(TABLE_SUCTIONS_CM) == ENTRIES == DOUBLINGS * STEPS + 1
    assert TABLE_SUCTIONS_CM[[0, 1, 16, 17, 32, -1]].tolist() == [0, 1 / 16, 1, 1.125, 3, 2**17 - 1]


def test_closed_forms_of_water_and_conductivity():
    # van Genuchten 1980, eqs 3, 8 and 9 with m = 1 - 1/n, written out here once more. A table's nodes lie a
    # little under the curve, so that the straight lines between them hold as much on the mean.
    fine = van_genuchten_medium(
        saturated=0.85, residual=0.1, alpha_per_cm=0.15, n=1.6, saturated_conductivity_cm_h=60, steps=1024
    )
    for s in (1.0, 3.0, 31.0, 1023.0):
        filled = (1 + (0.15 * s) ** 1.6) ** (1 / 1.6 - 1)
        m = 1 - 1 / 1.6
        conductivity = 60 * filled**0.5 * (1 - (1 - filled ** (1 / m)) ** m) ** 2
        assert fine.water_at(np.array([s]))[0] == pytest.approx(0.1 + 0.75 * filled, rel=1e-7)
        assert fine.conductivity_at(np.array([s]))[0] == pytest.approx(conductivity, rel=1e-5)
        assert MIX.water_at(np.array([s]))[0] == pytest.approx(0.1 + 0.75 * filled, abs=1e-4)
        assert MIX.conductivity_at(np.array([s]))[0] == pytest.approx(conductivity, rel=0.02)
    assert MIX.saturated == 0.85
    assert MIX.conductivity_cm_h[0] == 60


def test_the_lines_hold_on_the_mean_what_the_curve_holds():
    def curve(s):
        return 0.1 + 0.75 * (1 + (0.15 * s) ** 1.6) ** (1 / 1.6 - 1)

    for low, high in ((1.0, 8.0), (3.0, 30.0), (10.0, 300.0)):
        s = np.linspace(low, high, 20_001)
        of_curve, of_lines = curve(s).mean(), MIX.water_at(s).mean()
        through_the_nodes = np.interp(s, TABLE_SUCTIONS_CM, curve(TABLE_SUCTIONS_CM)).mean()
        assert abs(of_lines - of_curve) < 3e-6
        assert abs(of_lines - of_curve) < 0.2 * abs(through_the_nodes - of_curve)


def test_the_lines_of_the_solvers_go_through_the_nodes():
    table = solver_table(MIX, Uptake(1, 5, 300, 3000))
    h = -TABLE_SUCTIONS_CM

    for end in (h[:-1], h[1:]):
        nodes = MIX.water_at(-end), MIX.conductivity_at(-end), Uptake(1, 5, 300, 3000).share_at(-end)
        for field, expected in enumerate(nodes):
            line = table[1:, 2 * field] + table[1:, 2 * field + 1] * end
            assert line == pytest.approx(expected, abs=1e-4 if field == 0 else 1e-6)


def with_node(values, place, value):
    changed = np.array(values)
    changed[place] = value
    return changed


@pytest.mark.parametrize(
    ("water", "conductivity", "sentence"),
    [
        (with_node(MIX.water, 0, NAN), MIX.conductivity_cm_h,
         "water held by a medium is not a number m³/m³; it must be 0 or more."),
        (with_node(MIX.water, 5, -0.1), MIX.conductivity_cm_h,
         "water held by a medium is -0.1 m³/m³; it must be 0 or more."),
        (with_node(MIX.water, -1, MIX.water[-2] + 0.25), MIX.conductivity_cm_h,
         "step of water held by a medium with suction is 0.25 m³/m³; it must be 0 or less."),
        (MIX.water, with_node(MIX.conductivity_cm_h, 3, NAN),
         "conductivity of a medium is not a number cm/h; it must be 0 or more."),
        (MIX.water, with_node(MIX.conductivity_cm_h, -1, MIX.conductivity_cm_h[-2] + 2.0),
         "step of conductivity of a medium with suction is 2 cm/h; it must be 0 or less."),
        (MIX.water * 2, MIX.conductivity_cm_h,
         "water held by a medium at no suction is 1.7 m³/m³; it must be above 0, at most 1."),
        (MIX.water * 0, MIX.conductivity_cm_h,
         "water held by a medium at no suction is 0 m³/m³; it must be above 0, at most 1."),
        (MIX.water, MIX.conductivity_cm_h * 0, "saturated conductivity is 0 cm/h; it must be above 0."),
        (MIX.water, with_node(MIX.conductivity_cm_h, 0, math.inf),
         "saturated conductivity is inf cm/h; it must be above 0."),
    ],
)  # fmt: skip
def test_an_impossible_medium_is_refused(water, conductivity, sentence):
    with pytest.raises(BadQuantity) as refused:
        Medium(water=water, conductivity_cm_h=conductivity)

    assert str(refused.value) == sentence


def test_uptake_by_hand():
    roots = Uptake(1.0, 5.0, 300.0, 3000.0)
    suction = np.array([0, 1, 3, 5, 100, 300, 1650, 3000, 9000.0])

    assert roots.share_at(suction) == pytest.approx([0, 0, 0.5, 1, 1, 1, 0.5, 0, 0])


def test_a_bog_plant_takes_up_from_the_start():
    assert Uptake(0, 0, 60, 600).share_at(np.array([0.0, 60.0, 330.0])) == pytest.approx([1, 1, 0.5])


@pytest.mark.parametrize(
    "heads", [(5, 1, 300, 3000), (1, 5, 300, 300), (1, 5, 300, math.inf), (-1, 5, 300, 3000), (NAN, 5, 9, 10)]
)
def test_suctions_of_uptake_out_of_order_are_refused(heads):
    with pytest.raises(BadQuantity, match="above the suctions where uptake falls, is full and begins"):
        Uptake(*heads)


# --- a column -------------------------------------------------------------------------------------


@pytest.mark.parametrize("container", [POT, POT.with_drainage_layer(3.0), POT.with_headspace(4.0)])
@pytest.mark.parametrize("cells", [8, 40, 160])
def test_cells_fill_the_container(container, cells):
    column = column_of(container, cells=cells)

    assert len(column.volume_cm3) == cells
    assert column.volume_cm3.sum() == pytest.approx(1000 * container.fill_volume_l, rel=1e-9)
    assert column.face_height_cm[0] == pytest.approx(container.fill_height_cm)
    assert column.face_height_cm[-1] == pytest.approx(0, abs=1e-12)
    assert (column.thickness_cm > 0).all()
    medium = column.volume_cm3[column.layer == 0].sum()
    assert medium == pytest.approx(1000 * container.medium_volume_l, rel=1e-9)


def test_cells_grow_from_a_thin_one_at_the_surface():
    faces = cell_faces_cm(11.0, 40, 0.1)
    thickness = np.diff(faces)

    assert thickness[0] == pytest.approx(0.1, rel=1e-3)
    assert faces[-1] == pytest.approx(11.0)
    assert thickness.tolist() == pytest.approx(sorted(thickness))
    assert np.diff(cell_faces_cm(11.0, 40, None)) == pytest.approx(11 / 40)


def test_a_measured_volume_scales_the_areas():
    measured = replace(POT, measured_volume_l=1.5 * POT.brim_volume_l)  # to the brim

    assert column_of(measured).volume_cm3.sum() == pytest.approx(1500 * POT.fill_volume_l, rel=1e-9)


@pytest.mark.parametrize(("cells", "said"), [(3, "3"), (2001, "2001"), (NAN, "not a number")])
def test_too_few_or_too_many_cells_are_refused(cells, said):
    with pytest.raises(BadQuantity) as refused:
        column_of(POT, cells=cells)

    assert str(refused.value) == f"number of cells is {said}; it must be from 4 to 2000."


# --- a pot ----------------------------------------------------------------------------------------


def test_a_drained_pot_holds_what_its_heights_do():
    pot = grown()
    by_hand = MIX.water_at(pot.column.height_cm) @ pot.column.volume_cm3

    assert pot.drained_suction_cm == pytest.approx(pot.column.height_cm)
    assert pot.full_cm3 == pytest.approx(by_hand, rel=1e-12)
    assert pot.dry_cm3 == pytest.approx(
        float(MIX.water_at(np.array([15_000.0]))[0]) * 1000 * POT.fill_volume_l, rel=1e-9
    )


def test_standing_water_and_a_mat_move_the_heights():
    standing, mat = (grown(base=Base(kind=HELD, head_cm=head)) for head in (4.0, -5.0))
    under = standing.column.height_cm < 4

    assert standing.drained_suction_cm == pytest.approx(standing.column.height_cm - 4)
    assert (standing.drained_water[under] >= MIX.saturated).all()
    assert mat.drained_suction_cm == pytest.approx(mat.column.height_cm + 5)
    assert standing.full_cm3 > grown().full_cm3 > mat.full_cm3


def test_over_broken_films_the_medium_stands_on_the_suction_of_entry():
    # Capillary barrier: just above the joint (3 cm) the suction is that of entry, then rises with height.
    broken, continuous = layered(0.8), layered(None)
    inside = broken.column.layer == 0

    assert broken.drained_suction_cm[inside] == pytest.approx(broken.column.height_cm[inside] - 3 + 0.8)
    assert broken.drained_suction_cm[~inside] == pytest.approx(broken.column.height_cm[~inside])
    assert continuous.drained_suction_cm == pytest.approx(continuous.column.height_cm)
    assert broken.full_cm3 > continuous.full_cm3


def test_an_entry_suction_above_the_layers_height_changes_nothing():
    # Water drains through the layer before the suction of entry is reached: both are hydrostatic.
    assert layered(5.0).drained_suction_cm == pytest.approx(layered(None).drained_suction_cm)


def test_root_zone_by_hand():
    # A straight pot: the upper half of the medium has its water shared evenly by volume.
    straight = replace(POT, bottom_length_cm=13, bottom_width_cm=13)
    pot = grown(column=column_of(straight, cells=10, top_cell_cm=None), root_depth_share=0.5)

    assert pot.root_share == pytest.approx([0.2] * 5 + [0] * 5, abs=1e-12)
    third = replace(pot, root_depth_share=0.33)
    assert third.root_share == pytest.approx([1 / 3.3] * 3 + [0.3 / 3.3] + [0] * 6, abs=1e-12)


def test_roots_do_not_reach_into_a_layer():
    pot = layered(None)

    assert pot.root_share.sum() == pytest.approx(1)
    assert (pot.root_share[pot.column.layer == 1] == 0).all()


def test_the_row_of_a_pot_says_what_it_is():
    pot = layered(0.8, watering=Watering(by="need", used_share=0.4, dose_cm3=250, at_hour=7), air_limit=0.12)
    row = row_of(pot, shape=3, media=(0, 273), hours=48, hourly=True)

    expected = {
        at.SHAPE: 3, at.MEDIUM: 0, at.MEDIUM_2: 273, at.ENTRY_CM: 0.8, at.BASE: at.OPEN_HOLES,
        at.RULE: at.BY_NEED, at.SHARE: 0.4, at.DOSE: 250, at.HOUR: 7, at.ZONE_WET: 0.87 - 0.12, at.END: 48,
        at.HOURLY: 1, at.JOINT: int((pot.column.layer == 0).sum()), at.JOINT_2: 0,
    }  # fmt: skip
    assert {place: row[place] for place in expected} == pytest.approx(expected)
    assert row_of(layered(None), shape=0, media=(0, 273), hours=1, hourly=False)[at.ENTRY_CM] < 0


@pytest.mark.parametrize(
    ("watering", "rule"),
    [
        (Watering(), at.BY_NOBODY),
        (Watering(by="calendar"), at.BY_CALENDAR),
        (Watering(by="need"), at.BY_NEED),
        (Watering(by="calendar", flood_cm=3), at.FLOOD_BY_CALENDAR),
        (Watering(by="need", flood_cm=3), at.FLOOD_BY_NEED),
    ],
)
def test_rules(watering, rule):
    assert row_of(grown(watering=watering), shape=0, media=(0,), hours=1, hourly=False)[at.RULE] == rule


def test_the_shape_carries_areas_over_distances():
    pot = grown(column=column_of(POT, cells=10, top_cell_cm=None))
    shape = shape_of(pot)

    assert shape[:, 0] == pytest.approx(pot.column.volume_cm3)
    assert shape[1:, 1] == pytest.approx(pot.column.face_area_cm2[1:-1] / 1.1)
    assert shape[:, 3].sum() == pytest.approx(1)


# --- what is refused ------------------------------------------------------------------------------

REFUSED = [
    (lambda: Base(kind=HELD, head_cm=101),
     "pressure head at the base is 101 cm; it must be from -200 to 100."),
    (lambda: Base(kind=HELD, head_cm=-201),
     "pressure head at the base is -201 cm; it must be from -200 to 100."),
    (lambda: Base(kind=HELD, head_cm=NAN),
     "pressure head at the base is not a number cm; it must be from -200 to 100."),
    (lambda: Base(kind=SAUCER, saucer_area_cm2=100), "volume of the saucer is 0 cm3; it must be above 0."),
    (lambda: Base(kind=SAUCER, saucer_area_cm2=100, saucer_cm3=NAN),
     "volume of the saucer is not a number cm3; it must be above 0."),
    (lambda: Watering(at_hour=24), "hour of watering is 24; it must be from 0 to 23."),
    (lambda: Watering(every_days=0), "days between waterings is 0 d; it must be from 1 to 366."),
    (lambda: Watering(used_share=0), "share of the available water used is 0; it must be from 0.01 to 1."),
    (lambda: Watering(used_share=NAN),
     "share of the available water used is not a number; it must be from 0.01 to 1."),
    (lambda: Watering(surplus=-0.1), "surplus poured is -0.1; it must be from 0 to 10."),
    (lambda: Watering(rate_cm3_h=0), "rate of watering is 0 cm3/h; it must be from 1e-06 to 1e+09."),
    (lambda: Watering(dose_cm3=0), "dose of water is 0 cm3; it must be above 0."),
    (lambda: Watering(dose_cm3=NAN), "dose of water is not a number cm3; it must be above 0."),
    (lambda: Watering(flood_cm=0), "depth of a flood is 0 cm; it must be above 0 and at most 100."),
    (lambda: Watering(flood_cm=5, flood_hours=25),
     "duration of a flood is 25 h; it must be from 0.01 to 24."),
    (lambda: Repelling(below=0.3, until=0.2, run_past=0.5),
     "water content that ends repelling is 0.2 m³/m³; it must be above that which begins it (0.3), "
     "at most 1."),
    (lambda: Repelling(below=0.1, until=0.2, run_past=1.0),
     "share of water that runs past is 1; it must be from 0 to below 1."),
    (lambda: Weather(np.array([0.1, NAN]), np.zeros(2)),
     "reference evapotranspiration is not a number cm/h; it must be from 0 to 50."),
    (lambda: Weather(np.zeros(2), np.array([0.1, -0.2])), "rain is -0.2 cm/h; it must be from 0 to 50."),
    (lambda: Weather(np.zeros(2), np.array([0.1, 50.0])), "rain is 50 cm/h; it must be from 0 to 50."),
    (lambda: grown(root_depth_share=0), "share of the depth that has roots is 0; it must be from 0.01 to 1."),
    (lambda: grown(evaporation_cm2=NAN), "evaporation is not a number cm3/cm; it must be from 0 to 1e+07."),
    (lambda: grown(uptake_cm2=-1), "uptake is -1 cm3/cm; it must be from 0 to 1e+07."),
    (lambda: grown(rain_cm2=-1), "area that catches rain is -1 cm2; it must be from 0 to 1e+07."),
    (lambda: grown(rim_cm=-1), "height of the rim is -1 cm; it must be from 0 to 1000."),
    (lambda: grown(air_limit=1.1), "air limit is 1.1; it must be from 0 to 1."),
    (lambda: grown(too_dry_share=0), "share used that counts as too dry is 0; it must be from 0.01 to 10."),
    (lambda: layered(-1.0), "water-entry suction of the layer is -1 cm; it must be 0 or more."),
    (lambda: layered(NAN), "water-entry suction of the layer is not a number cm; it must be 0 or more."),
    (lambda: grown(base=Base(kind=HELD, head_cm=2), watering=Watering(by="calendar", flood_cm=5)),
     "depth of a flood is 5 cm; it must be none where the base stands in water or on a mat."),
]  # fmt: skip


@pytest.mark.parametrize(("make", "sentence"), REFUSED, ids=[sentence[:40] for _make, sentence in REFUSED])
def test_an_impossible_quantity_is_refused(make, sentence):
    with pytest.raises(BadQuantity) as refused:
        make()

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Base(kind="pond"), "base is 'pond'"),
        (lambda: Watering(by="chance"), "watering is by 'chance'"),
        (lambda: grown(media=(MIX, GRAVEL)), "a medium for each layer"),
        (lambda: Weather(np.zeros(3), np.zeros(2)), "one value an hour each"),
        (lambda: Medium(water=MIX.water[:9], conductivity_cm_h=MIX.conductivity_cm_h), "273 values"),
    ],
)
def test_a_mistake_of_the_caller_is_a_plain_error(make, said):
    with pytest.raises(ValueError, match=said):
        make()
