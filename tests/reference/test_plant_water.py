"""What groups of plants use, and how long watering takes."""

import pytest

from friable.errors import AmbiguousName, BadText, UnknownName
from friable.reference import plant_water
from friable.reference.evaporation_defaults import evaporation_default
from friable.reference.plant_water import all_plants, find_plant
from friable.reference.row import Row
from friable.reference.watering_work import (
    air_limit,
    too_dry_share,
    used_share,
    watering_time_s,
    ways_of_watering,
)


def test_every_group_of_a_mixed_collection_is_there():
    assert [plant.key for plant in all_plants()] == [
        "none", "seedlings", "cuttings", "bedding", "shrubs", "foliage", "ferns", "epiphytes", "bromeliads",
        "succulents", "bog", "alpines", "bulbs", "heaths", "palms",
    ]  # fmt: skip


def test_a_pot_without_a_plant_runs_over_the_whole_range():
    bare = find_plant("none")

    assert (bare.use_low, bare.use_high) == (0.3, 1.2)
    assert bare.without_plant
    assert bare.evaporation_share == 1
    assert "weigh it twice" in bare.remark


def test_published_ranges_stand_in_the_rows_that_name_them():
    # Schuch and Burger 1997: 1 to 4.7 for high users. Consoli et al. 2013: 0.40 for cactus pear. Succulents
    # in gardens: 0.10 to 0.30. Stonecrop roof, Brazil: 0.9. Ryggmossen: 60 % of Penman's reference.
    shrubs, succulents, bog = (find_plant(name) for name in ("nursery stock", "cacti", "carnivores"))

    assert (shrubs.use_low, shrubs.use_high) == (1, 4.7)
    assert (succulents.use_low, succulents.use, succulents.use_high) == (0.1, 0.4, 0.9)
    assert bog.use_low <= 0.6 <= bog.use_high


def test_what_leaves_from_the_surface_agrees_with_boxes_and_pots_that_were_weighed():
    # Stonecrop boxes lost 28 and 57 % more than bare ones (Rezaei et al. 2005): 1/1.57 to 1/1.28 from the
    # surface. Viburnum in 11.4 L: 160 mL a day from the surface of 600 to 1,300 (Beeson 2010).
    assert 1 / 1.57 <= find_plant("stonecrop").evaporation_share <= 1 / 1.28
    assert 160 / 1300 <= find_plant("shrubs").evaporation_share <= 160 / 600


def test_bog_plants_stand_wet_and_epiphytes_do_not():
    assert find_plant("bog").air_limit == 0
    assert find_plant("bog").heads_cm[:2] == (0, 0)
    assert find_plant("orchids").air_limit == max(plant.air_limit for plant in all_plants())


def test_groups_are_found_by_what_else_they_are_called():
    assert find_plant("Orchid").key == "epiphytes"
    assert find_plant("pitcher plants").key == "bog"
    assert find_plant("Cacti and Succulents").key == "succulents"
    assert find_plant("tropical foliage").key == "foliage"
    assert find_plant("ericaceous").use_range.source == "none-common-practice"
    with pytest.raises(AmbiguousName, match="“plants” can mean more than one group of plants"):
        find_plant("plants")
    for nonsense in ("triffid", "", "x" * 500):
        with pytest.raises(UnknownName, match="No group of plants is called"):
            find_plant(nonsense)


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"use_low": "2"}, "the uses or the heads are out of order"),
        ({"easy_to_head_cm": "1"}, "the uses or the heads are out of order"),
        ({"evaporation_share": "1.2"}, "a share is out of range"),
        ({"root_depth_share": "0"}, "a share is out of range"),
        ({"air_limit_pct": "100"}, "a share is out of range"),
    ],
)
def test_a_row_out_of_order_is_refused(changes, problem):
    good = {
        "key": "k", "name": "n", "also_called": "", "use_low": "0.5", "use": "1", "use_high": "1.5",
        "evaporation_share": "0.3", "root_depth_share": "1", "wet_head_cm": "1", "easy_from_head_cm": "5",
        "easy_to_head_cm": "300", "dry_head_cm": "3000", "air_limit_pct": "10", "how_known": "memory",
        "source": "memory", "remark": "",
    }  # fmt: skip
    assert plant_water._plant(Row("plant_water", 2, good)).use == 1

    with pytest.raises(LookupError, match=f"plant_water.csv line 2: {problem}"):
        plant_water._plant(Row("plant_water", 2, good | changes))


def test_a_count_of_three_for_each_plant_is_the_quickest_watering():
    # A grower page: "a count of 3" for each plant with the hose.
    assert ways_of_watering() == ("hose", "can")
    assert watering_time_s("time for a pot").low == 3
    assert watering_time_s("time for a pot", "can").value > watering_time_s("time for a pot").value
    with pytest.raises(BadText, match=r"The way of watering “bucket” is unknown\. Use one of: hose, can\."):
        watering_time_s("time for a pot", "bucket")
    with pytest.raises(LookupError, match=r"watering_work\.csv has no row “time to think, hose”"):
        watering_time_s("time to think")


def test_limits_of_wet_and_dry_are_shares():
    assert (air_limit().value, used_share().value, too_dry_share().value) == (0.10, 0.5, 0.85)


def test_grass_under_plastic_had_150_seconds_a_metre():
    # Fernández et al. 2010, abstract.
    assert evaporation_default("aerodynamic_resistance_s_m").value == 150
    with pytest.raises(LookupError, match=r"evaporation_defaults\.csv has no row “luck”"):
        evaporation_default("luck")
