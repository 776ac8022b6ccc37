"""What sheds water once dry, from which dryness, and how much runs past."""

import pytest

from friable.errors import BadRecipe
from friable.reference import rewetting
from friable.reference.materials import all_materials, find_material
from friable.reference.rewetting import (
    DRIEST_CM,
    all_rewetting,
    mixed_rewetting,
    rewetting_of,
    suction_at_cm,
)
from friable.reference.row import Row

GOOD = {
    "name": "n", "materials": "PEAT_M", "below_low": "0.1", "below": "0.2", "below_high": "0.3",
    "again_from": "0.3", "run_past_low": "0.1", "run_past": "0.3", "run_past_high": "0.6",
    "below_how_known": "memory", "below_source": "memory", "run_past_how_known": "memory",
    "run_past_source": "memory", "remark": "",
}  # fmt: skip


def test_every_material_said_to_shed_water_has_figures_and_no_other():
    shedding = {material.key for material in all_materials() if material.hydrophobic_when_dry}

    assert {key for group in all_rewetting() for key in group.materials} == shedding
    for material in all_materials():
        assert (rewetting_of(material) is not None) is bool(material.hydrophobic_when_dry)


def test_no_material_stands_in_two_rows():
    keys = [key for group in all_rewetting() for key in group.materials]

    assert len(keys) == len(set(keys))


def test_peat_sheds_between_what_two_sources_say():
    # Durand et al. 2021: white milled peat at 60 % moisture by wet mass is fully hydrophilic; at the table's
    # 0.1 g/cm3 that is 0.1 x 60/40 = 0.15 of the volume. Berglund & Persson 1996: organic soils are wettable
    # above 30 to 50 % of the volume.
    peat = rewetting_of(find_material("sphagnum peat medium"))

    assert peat.below.low < 0.1 * 60 / 40 < peat.below.high <= 0.30
    assert 0.30 <= peat.again_from <= 0.50


def test_bark_takes_water_back_better_than_peat():
    # Naasz et al. 2008: hysteresis 21 % in peat, 10 % in pine bark. Bartley et al. 2023: peat lost more than
    # three times what any other did.
    peat = rewetting_of(find_material("PEAT_M"))
    bark = rewetting_of(find_material("pine bark nursery"))

    assert bark.run_past.value == pytest.approx(peat.run_past.value * 10 / 21, rel=0.1)
    assert bark.below.value < peat.below.value


def test_coir_wood_fibre_and_minerals_take_water_readily():
    # Durand et al. 2021: wood fibre remained hydrophilic; Bartley et al. 2023: coir hardly affected.
    for name in ("coir pith", "wood fibre", "perlite coarse", "horticultural sand medium"):
        assert rewetting_of(find_material(name)) is None


def test_sand_passes_its_wettability_on_in_proportion():
    # Beardsell & Nichols 1982.
    peat, sand = find_material("PEAT_M"), find_material("horticultural sand medium")
    alone, half, quarter = (
        mixed_rewetting([(peat, share), (sand, 1 - share)]).run_past for share in (1.0, 0.5, 0.25)
    )

    assert (half.value, half.high) == pytest.approx((alone.value / 2, alone.high / 2))
    assert quarter.value == pytest.approx(alone.value / 4)
    assert mixed_rewetting([(sand, 2.0)]) is None


def test_the_dryness_of_a_mix_is_the_suction_of_the_one_that_sheds():
    peat, sand = find_material("PEAT_M"), find_material("horticultural sand medium")
    mixed = mixed_rewetting([(sand, 1.0), (peat, 1.0)])

    assert mixed.material == peat.title
    assert mixed.from_suction_cm.value == suction_at_cm(peat, 0.2)
    assert mixed.from_suction_cm.low <= mixed.from_suction_cm.value <= mixed.from_suction_cm.high
    assert mixed.again_below_suction_cm <= mixed.from_suction_cm.low
    # The table: medium peat holds 0.43 at 100 cm and 0.15 at 15,000 cm.
    assert 100 < mixed.from_suction_cm.value < 15_000


def test_suction_is_read_back_from_the_water_of_the_table():
    # 0.74 at 10 cm, 0.43 at 100 cm, 0.15 at 15,000 cm; the fitted curve meets them to a few hundredths.
    peat = find_material("PEAT_M")

    assert suction_at_cm(peat, peat.water_at_100cm.value) == pytest.approx(100, rel=0.25)
    assert suction_at_cm(peat, 0.99) == 0
    assert suction_at_cm(peat, 0.0001) == DRIEST_CM


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"below_low": "0.25"}, "below is out of order or out of range"),
        ({"below_high": "1.2"}, "below is out of order or out of range"),
        ({"run_past_low": "-0.1"}, "run_past is out of order or out of range"),
        ({"run_past_high": "0.2"}, "run_past is out of order or out of range"),
        ({"again_from": "0.2"}, r"again_from \(0.2\) must be at least below_high \(0.3\) and below 1"),
        ({"below": "wet"}, "below is “wet”; it must be a number"),
        ({"materials": ""}, "no material is named"),
    ],
)
def test_a_row_that_cannot_be_is_refused(changes, problem):
    assert rewetting._rewetting(Row("rewetting", 2, GOOD)).again_from == 0.3

    with pytest.raises(LookupError, match=f"rewetting.csv line 2: {problem}"):
        rewetting._rewetting(Row("rewetting", 2, GOOD | changes))


@pytest.mark.parametrize("volumes", [[], [0.0], [-1.0], [float("nan")]])
def test_parts_that_are_no_mix_are_refused(volumes):
    peat = find_material("PEAT_M")

    with pytest.raises(BadRecipe, match="The parts of a mix must be named"):
        mixed_rewetting([(peat, volume) for volume in volumes])
