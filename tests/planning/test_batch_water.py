"""Water for a batch: a balance of mass, worked by hand."""

import math

import pytest

from friable.errors import FriableError
from friable.planning.batch_water import usual_moisture, water_for_batch
from friable.science.estimate import Estimate

# 0.20 g/cm3 times 100 L is 20 kg dry (18 to 23 kg).
DENSITY = Estimate(0.20, 0.18, 0.23, "computed", "its parts")


def test_water_of_the_wet_mass_with_its_range():
    # Dry 20 kg: 20/0.7 = 28.571 kg at 30 %, 20/0.5 = 40 kg at 50 %; 18 kg and 23 kg give 0.9 and 1.15 of it.
    found = water_for_batch(DENSITY, 100, 0.3, 0.5)

    assert found.water_l.value == pytest.approx(11.4286, abs=1e-4)
    assert (found.water_l.low, found.water_l.high) == (
        pytest.approx(10.2857, abs=1e-4),
        pytest.approx(13.1429, abs=1e-4),
    )
    assert found.words == "11 L (10 to 13 L), from 30 to 50 % of the wet mass"


def test_water_to_dry_is_another_amount():
    # 20 kg dry hold 6 L at 30 % and 10 L at 50 % of the dry mass: 4 L.
    found = water_for_batch(DENSITY, 100, 0.3, 0.5, "water-to-dry")

    assert found.water_l.value == pytest.approx(4)
    assert found.words == "4 L (3.6 to 4.6 L), from 30 to 50 % of the dry mass"


@pytest.mark.parametrize(
    ("litres", "now", "wanted", "meaning", "said"),
    [
        (0, 0.3, 0.5, "wet-mass", "the finished volume is 0 L"),
        (math.nan, 0.3, 0.5, "wet-mass", "the finished volume is not a number"),
        (100, 0.6, 0.5, "wet-mass", "spread it out to dry, add no water"),
        (100, 0.3, 1.0, "wet-mass", "the moisture wanted is 100 %"),
        (100, 0.3, 1.0, "wet mass", "meaning"),
        (100, math.nan, 0.5, "water-to-dry", "the moisture now is not a number"),
    ],
)
def test_what_cannot_be_is_refused(litres, now, wanted, meaning, said):
    with pytest.raises(FriableError, match=said):
        water_for_batch(DENSITY, litres, now, wanted, meaning)


@pytest.mark.parametrize(
    ("shapes", "per_cent"), [(["round", "cell"], 50), (["cell", "cell"], 67), ([], 50), (["tray"], 50)]
)
def test_the_published_moisture_for_pots_and_for_plug_trays(shapes, per_cent):
    # New England Greenhouse Recommendations: 50 % for pots and packs, 67 % for plug trays, by weight.
    found = usual_moisture(shapes)

    assert (found.low, found.source) == (per_cent, "negreenhouse2008")
