"""States of measuring, packs, targets, cautions, moisture."""

import pytest

from friable.errors import BadText, UnknownName
from friable.reference.cautions import all_cautions, caution_about, cautions_for
from friable.reference.materials import all_materials, find_material
from friable.reference.mix_cases import published_mix_cases
from friable.reference.mixes import published_mixes
from friable.reference.moisture import moisture_targets
from friable.reference.soundness import faults
from friable.reference.statements import pot_statements, published_statements
from friable.reference.states import measuring_state_factor
from friable.reference.targets import target_ranges
from friable.reference.yields import pack_yields


def test_dry_coir_is_about_two_parts_once_soaked():
    # One tester, forum of 2010: one part broken up dry is about two measured after soaking.
    factor = measuring_state_factor(find_material("coir pith"), "loose dry")

    assert factor.value == 2
    assert (factor.how_known, factor.source) == ("published", "ausbonsai2010")


def test_a_tapped_litre_is_more_than_a_loose_one():
    # A garden page: 15 to 20 % more loose mix once it is wetted and pressed.
    factor = measuring_state_factor(find_material("perlite coarse"), "tapped moist")

    assert (factor.low, factor.high) == (1.15, 1.20)


def test_loose_moist_is_the_measure_of_all():
    for material in all_materials():
        assert measuring_state_factor(material, "loose moist").value == 1


def test_peat_swells_and_grit_does_not():
    assert measuring_state_factor(find_material("PEAT_M"), "loose dry").value > 1
    assert measuring_state_factor("mineral", "loose dry").value == 1


def test_an_unknown_state_is_refused():
    with pytest.raises(BadText, match=r"The state “frozen” is unknown\. Use one of: "):
        measuring_state_factor("mineral", "frozen")


def test_sources_disagree_on_what_a_bale_gives():
    bales = pack_yields("sphagnum peat")

    assert {bale.yield_low for bale in bales} == {2, 1.89, 1.34}
    # 30 US gallons (113.6 L) from 3 cubic feet (84.95 L) is 1.34
    assert pytest.approx(1.34, abs=0.005) == 30 * 3.785411784 / (3 * 28.316846592)


def test_sellers_disagree_on_a_brick():
    bricks = pack_yields("coir brick")

    assert min(brick.yield_low for brick in bricks) == 2.5
    assert max(brick.yield_high for brick in bricks) == 11


def test_a_pack_nobody_describes_is_refused():
    with pytest.raises(UnknownName):
        pack_yields("moon dust")
    assert len(pack_yields()) == 7


def test_target_ranges_of_air_name_their_use_and_source():
    air = target_ranges("air_space")

    assert any(t.use == "general pots" and (t.low, t.high) == (10, 25) for t in air)
    assert all(t.use and t.source and t.unit == "% of volume" for t in air)
    assert len(target_ranges()) == 46


def test_moisture_at_filling_is_by_wet_mass():
    # New England Greenhouse Update, 29 February 2008: 50 % for pots and packs, 67 % for plugs.
    targets = {target.use: target.low for target in moisture_targets() if target.unit == "%"}

    assert targets == {"pots and packs": 50, "plug trays": 67}


def test_organic_materials_carry_the_legionella_caution():
    for key in ("BKP_M", "PEAT_M", "GWC", "COIR_P"):
        assert "Legionella" in {caution.hazard for caution in cautions_for(find_material(key).hazards)}


def test_dusty_and_silica_materials_carry_theirs():
    assert "dust" in {caution.hazard for caution in cautions_for(find_material("PERL_M").hazards)}
    assert "silica" in {caution.hazard for caution in cautions_for(find_material("SAND_C").hazards)}
    assert cautions_for("") == ()


def test_cautions_defer_to_local_rules_and_to_doctors():
    for hazard in ("Legionella", "dust", "silica", "lifting", "asbestos"):
        text = caution_about(hazard).caution.lower()
        assert "follow" in text
    assert all(caution.source for caution in all_cautions())


def test_statements_and_pots_are_there_with_figures():
    pot, cell = pot_statements()[:2]
    assert (pot.water_pct, pot.air_pct, cell.water_pct, cell.air_pct) == (43, 28, 59, 12)
    assert published_statements("threshold")[0].low == 0.71


def test_mixes_and_cases_hold_together():
    assert len(published_mixes()) == 48
    cases = published_mix_cases()
    assert len(cases) == 52
    keys = {material.key for material in all_materials()}
    for case in cases:
        own = {figures.part for figures in case.part_figures}
        assert all(name in keys or name in own for name, _share in case.parts)
    assert sum(case.held_out for case in cases) == 34


def test_the_tables_are_sound():
    assert faults() == ()
