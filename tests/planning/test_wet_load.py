"""How heavy so much of a mix is after watering."""

import pytest

from friable.errors import BadQuantity
from friable.planning.forecast import forecast
from friable.planning.notation import parse_container
from friable.planning.wet_load import wet_load_kg
from friable.reference.materials import find_material

BARK = [(find_material("pine bark nursery"), 1.0)]


def test_the_load_is_the_wet_density_times_the_volume():
    found = forecast(BARK, parse_container("round 17/12/13 cm"), samples=0)

    # A litre weighs its dry mass and its water: 1 g/cm3 of water is 1 kg/L. Checked to rounding.
    per_litre = found.dry_bulk_density_g_cm3.value + found.container_capacity.value
    assert wet_load_kg(found, 12.0).value == pytest.approx(12.0 * per_litre, rel=1e-6)


def test_the_range_goes_along_and_twice_the_volume_is_twice_the_load():
    found = forecast(BARK, parse_container("round 17/12/13 cm"), samples=64)
    one, two = wet_load_kg(found, 10.0), wet_load_kg(found, 20.0)

    assert one.low < one.value < one.high
    assert (two.low, two.value, two.high) == pytest.approx((2 * one.low, 2 * one.value, 2 * one.high))


@pytest.mark.parametrize("volume_l", [0.0, -1.0, float("nan"), float("inf")])
def test_a_volume_that_is_none_is_refused(volume_l):
    found = forecast(BARK, parse_container("round 17/12/13 cm"), samples=0)

    with pytest.raises(BadQuantity, match="the volume to lift"):
        wet_load_kg(found, volume_l)
