"""The forecast over the science: ranges, layers, warnings, merging, refusals."""

import math
from dataclasses import fields

import pytest
from hypothesis import given, settings

from friable.errors import BadQuantity, BadRecipe
from friable.planning.forecast import air_against_height, forecast, overlap_loss_from_mix_volume
from friable.planning.forecast_values import Figures
from friable.science.containers import Container
from strategies_science import MATERIALS, core, mixes, pots, real_mixes

BARK, PEAT, SAND = MATERIALS["BKP_M"], MATERIALS["PEAT_M"], MATERIALS["SAND_F"]
FEW = 64


def of(parts):
    return [(MATERIALS[key], part) for key, part in parts.items()]


def estimates(found):
    return {f.name: getattr(found, f.name) for f in fields(Figures)}


@settings(max_examples=25)
@given(mixes, pots())
def test_ranges_contain_the_value_and_space_adds_up(parts, pot):
    found = forecast(of(parts), pot, samples=FEW)

    for figures in (found, found.plain_average):
        for name, figure in estimates(figures).items():
            assert figure.low <= figure.value <= figure.high, name
        assert figures.air_space.value + figures.container_capacity.value == pytest.approx(
            figures.total_porosity.value, abs=1e-9
        )
    for point in found.profile:
        assert point.water_low <= point.water <= point.water_high
        assert point.water + point.air == pytest.approx(found.total_porosity.value, abs=1e-9)
    assert [p.water for p in found.profile] == sorted((p.water for p in found.profile), reverse=True)
    assert [p.water for p in found.curve] == sorted((p.water for p in found.curve), reverse=True)


@settings(max_examples=15)
@given(real_mixes)
def test_the_same_question_gets_the_same_answer_however_it_is_written(parts):
    lines = of(parts)
    halved = [(m, v / 2) for m, v in reversed(lines)] + [(m, v / 2) for m, v in lines]

    first = forecast(lines, core(), samples=FEW)
    assert forecast(lines, core(), samples=FEW) == first
    again = forecast(halved, core(), samples=FEW)
    for name, figure in estimates(first).items():
        other = getattr(again, name)
        assert (other.value, other.low, other.high) == pytest.approx(
            (figure.value, figure.low, figure.high), abs=1e-9
        )
    assert again.supported_by == first.supported_by
    assert again.switch_at == first.switch_at


def test_more_samples_do_not_change_the_middle_and_hardly_the_ranges():
    parts = [(BARK, 5), (PEAT, 1), (SAND, 1)]
    few, many = (forecast(parts, core(), samples=n) for n in (1024, 8192))

    assert few.air_space.value == many.air_space.value
    assert few.air_space.low == pytest.approx(many.air_space.low, abs=0.003)
    assert few.air_space.high == pytest.approx(many.air_space.high, abs=0.003)


def test_without_samples_there_is_no_range():
    found = forecast([(BARK, 1), (SAND, 1)], core(), samples=0)

    assert all(figure.low == figure.value == figure.high for figure in estimates(found).values())
    assert found.widest_input == ""


def test_wet_mass_by_hand():
    # 0.345 L of core; dry density and water are per litre of mix: 0.345 × (density + water).
    found = forecast([(BARK, 1), (SAND, 1)], core(), samples=0)
    litres = math.pi * 3.8**2 * 7.6 / 1000

    assert found.wet_mass_kg.value == pytest.approx(
        litres * (found.dry_bulk_density_g_cm3.value + found.container_capacity.value)
    )


def test_water_for_plants_by_its_definition():
    # Available: from container capacity down to 15,000 cm; easily available: from 10 to 50 cm (de Boodt).
    found = forecast([(BARK, 5), (PEAT, 1)], core(), samples=0)
    curve = {point.suction_cm: point.water for point in found.curve}

    assert found.easily_available_water.value == pytest.approx(curve[10.0] - curve[50.0])
    assert found.available_water.value == pytest.approx(found.container_capacity.value - curve[15000.0])


# --- with a drainage layer ------------------------------------------------------------------------


def layered():
    pot = Container(
        shape="round", top_length_cm=12, top_width_cm=12, bottom_length_cm=9, bottom_width_cm=9,
        height_cm=12, drainage_layer_cm=3,
    )  # fmt: skip
    return forecast([(BARK, 5), (PEAT, 1)], pot, samples=256, layer_material=MATERIALS["GRAV"])


def test_a_drainage_layer_gives_both_bounds_and_a_range_over_both():
    found = layered()
    broken, continuous = found.layer_bounds.broken_films, found.layer_bounds.continuous_films

    assert broken["air_space"].value < continuous["air_space"].value
    assert broken["air_space"].value < found.air_space.value < continuous["air_space"].value
    assert found.air_space.low <= broken["air_space"].low
    assert found.air_space.high >= continuous["air_space"].high


def test_the_volume_lost_to_the_layer_by_hand():
    # Frusta: to 3 cm radii 4.5 to 4.875: π (4.5² + 4.5 × 4.875 + 4.875²) = 0.2071 L of 1.0461 L.
    lost = math.pi * 3 / 3 * (4.5**2 + 4.5 * 4.875 + 4.875**2)
    whole = math.pi * 12 / 3 * (4.5**2 + 4.5 * 6 + 6**2)

    assert layered().layer_bounds.lost_volume_share == pytest.approx(lost / whole)


def test_a_layer_of_nothing_is_refused():
    with pytest.raises(BadRecipe) as refused:
        forecast([(BARK, 1)], core().with_drainage_layer(2.0))

    assert str(refused.value) == (
        "The drainage layer has no material; say what it is made of, such as “3 cm gravel”."
    )


# --- air against height ---------------------------------------------------------------------------


def test_taller_pots_of_one_shape_hold_more_air():
    rows = air_against_height([(BARK, 5), (PEAT, 2)], core(), [4, 8, 12, 20], samples=FEW)

    assert [height for height, *_air in rows] == [4, 8, 12, 20]
    assert [air for _height, air, _low, _high in rows] == sorted(air for _height, air, _low, _high in rows)
    assert all(low <= air <= high for _height, air, low, high in rows)


def test_air_against_height_is_the_forecast_at_each_height():
    rows = air_against_height([(BARK, 5), (PEAT, 2)], core(), [4, 12], samples=FEW)

    for height, air, _low, _high in rows:
        found = forecast([(BARK, 5), (PEAT, 2)], core(height), samples=0)
        assert air == pytest.approx(found.air_space.value, abs=1e-9)


# --- warnings and refusals ------------------------------------------------------------------------


def test_little_air_is_said():
    found = forecast([(BARK, 1), (SAND, 1)], core(), samples=0)

    assert found.air_space.value < 0.05
    assert found.warnings[0].startswith("Less than 5 % air")


def test_a_little_sand_that_takes_over_half_of_the_air_is_named():
    # Diatomite in a 3 cm tray: 9 % air; with a tenth less a pinch of fine sand 4 %.
    diatomite = MATERIALS["DIAT"]
    alone = forecast([(diatomite, 1)], core(3), samples=0)
    found = forecast([(diatomite, 0.905), (SAND, 0.095)], core(3), samples=0)
    named = [text for text in found.warnings if "under a tenth of the mix" in text]

    assert found.air_space.value < alone.air_space.value / 2
    assert named == [
        "horticultural sand fine 0.1-0.5 mm is under a tenth of the mix yet takes over half of the air; "
        "sieve its dust out or test a pot."
    ]
    as_much = forecast([(diatomite, 0.85), (SAND, 0.15)], core(3), samples=0)
    assert not [text for text in as_much.warnings if "under a tenth" in text]


def test_a_mix_of_nothing_is_refused():
    with pytest.raises(BadRecipe) as refused:
        forecast([], core())

    assert str(refused.value) == "The mix has no components; write at least one, such as “2 perlite coarse”."


@pytest.mark.parametrize(
    ("part", "said"), [(0.0, "0"), (-1.0, "-1"), (math.nan, "not a number"), (math.inf, "inf")]
)
def test_an_impossible_part_is_refused(part, said):
    with pytest.raises(BadQuantity) as refused:
        forecast([(BARK, 1), (SAND, part)], core())

    assert str(refused.value) == (
        f"the part of horticultural sand fine 0.1-0.5 mm is {said}; it must be above 0."
    )


def test_a_measured_pair_changes_that_pair_alone():
    loss = overlap_loss_from_mix_volume(BARK, 8, SAND, 2, 9.5)
    pair = {frozenset({BARK.key, SAND.key}): loss}
    parts, others = [(BARK, 8), (SAND, 2)], [(BARK, 8), (PEAT, 2)]

    assert forecast(parts, core(), samples=0, pair_overlap_loss=pair).shrinkage.value == pytest.approx(0.05)
    assert forecast(others, core(), samples=0, pair_overlap_loss=pair) == forecast(others, core(), samples=0)
