"""Sums behind what is measured with a bucket and a scale; all worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity, Refused
from friable.planning.bench_measures import dry_bulk_density, litres_of_water

MASSES_KG = st.floats(0.001, 100)


def test_a_kilogram_of_water_is_a_litre():
    # 2.255 kg full, 85 g empty: 2.17 kg of water.
    assert litres_of_water(2.255, 0.085) == pytest.approx(2.170, abs=1e-9)


@pytest.mark.parametrize(("full", "empty"), [(1.0, 1.0), (0.5, 1.0), (float("nan"), 0.1), (1.0, -0.1)])
def test_a_pot_that_holds_no_water_is_refused(full, empty):
    with pytest.raises(Refused, match="leave no water"):
        litres_of_water(full, empty)


def test_three_fills_give_a_middle_and_a_range():
    # 180, 182 and 190 g in a litre: 0.184 on the average.
    weighed = dry_bulk_density(1.0, [0.180, 0.182, 0.190])

    assert weighed.dry_bulk_density_g_cm3 == pytest.approx(0.184)
    assert weighed.dry_bulk_density_low_g_cm3 == pytest.approx(0.180)
    assert weighed.dry_bulk_density_high_g_cm3 == pytest.approx(0.190)


@given(st.floats(0.1, 50), st.lists(MASSES_KG, min_size=1, max_size=5))
def test_the_middle_lies_within_the_range(volume_l, masses_kg):
    weighed = dry_bulk_density(volume_l, masses_kg)

    slack = 1e-9 * weighed.dry_bulk_density_high_g_cm3
    assert weighed.dry_bulk_density_low_g_cm3 - slack <= weighed.dry_bulk_density_g_cm3
    assert weighed.dry_bulk_density_g_cm3 <= weighed.dry_bulk_density_high_g_cm3 + slack


def test_nothing_weighed_or_nothing_filled_is_refused():
    with pytest.raises(Refused, match="Nothing was weighed"):
        dry_bulk_density(1.0, [])
    with pytest.raises(BadQuantity, match="the loose volume is 0 L; it must be above 0"):
        dry_bulk_density(0.0, [0.2])
    with pytest.raises(BadQuantity, match="the dry mass is not a number"):
        dry_bulk_density(1.0, [float("nan")])
