"""Published measurements of mixes, held against themselves."""

import pytest

from friable.reference.mix_cases import published_mix_cases
from friable.reference.mixes import published_mixes

MIXES = {mix.id: mix for mix in published_mixes()}


def cases():
    by_case = {}
    for case in published_mix_cases():
        by_case.setdefault(case.case, {})[case.quantity] = case
    return by_case


# Greenhouse Management Online (University of Arkansas), Unit 7, Table 1, and Bilderback and Fonteno 1987,
# abstract: all three are printed to 1 % of volume, so their sum may be out by 1.5 %.
PRINTED_TO_1_PCT = 0.015 + 1e-9


@pytest.mark.parametrize(
    "case",
    [
        case
        for case, q in cases().items()
        if {"total_porosity", "container_capacity", "air_space"} <= q.keys()
    ],
)
def test_water_and_air_of_a_published_mix_make_its_pores(case):
    printed = cases()[case]

    held = printed["container_capacity"].value + printed["air_space"].value

    assert held == pytest.approx(printed["total_porosity"].value, abs=PRINTED_TO_1_PCT)


@pytest.mark.parametrize("row", ["M005", "M006", "M007", "M008", "M009"])
def test_a_container_capacity_that_exceeds_the_pores_stays_a_remark(row):
    # Roberts 2006, Table 1: container capacity and air as printed are together more than the pore space.
    mix = MIXES[row]

    assert mix.water_pct is None
    printed = float(mix.remark.split("printed as ")[1].split(":")[0])
    assert printed + mix.air_pct > mix.total_porosity_pct


def test_a_straight_line_misses_the_density_of_husk_and_coir():
    # Colombian cut-flower substrates, abstract: 0.29 and 0.13 g/cm3 apart, 0.18 at 65:35 and 0.17 at 35:65.
    husk, coir = MIXES["M001"].dry_bulk_density_g_cm3, MIXES["M004"].dry_bulk_density_g_cm3

    assert 0.65 * husk + 0.35 * coir == pytest.approx(0.234)
    assert MIXES["M002"].dry_bulk_density_g_cm3 == 0.18
    assert 0.35 * husk + 0.65 * coir == pytest.approx(0.186)
    assert MIXES["M003"].dry_bulk_density_g_cm3 == 0.17


@pytest.mark.parametrize(("row", "fall"), [("M028", 0.242), ("M029", 0.275), ("M030", 0.275)])
def test_densities_derived_from_a_relative_change_follow_from_it(row, fall):
    # Kukal and others 2012, abstract: soil alone 1.32 g/cm3, mixes 24.2 to 27.5 % lighter.
    mix = MIXES[row]

    assert mix.dry_bulk_density_g_cm3 == pytest.approx(1.32 * (1 - fall), abs=0.005)  # given to 0.01
    assert mix.how_known == "estimated"


def test_wet_densities_of_the_perlite_guide_convert_as_said():
    # 1 lb/ft3 is 0.0160185 g/cm3 (exact by definition to these digits)
    for row, printed, converted in (("M031", 23.3, "0.373"), ("M032", 38.1, "0.610")):
        assert f"{printed * 0.01601846:.3f}" == converted
        assert converted in MIXES[row].remark
