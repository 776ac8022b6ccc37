"""Windows of plant groups are those that their sources print."""

from dataclasses import replace

import pytest

from friable.errors import AmbiguousName, UnknownName
from friable.reference import plant_groups as module
from friable.reference.load import read_table
from friable.reference.plant_groups import STAGES, find_plant_group, plant_groups
from friable.reference.plant_water import find_plant
from friable.reference.row import Row
from friable.reference.sources import source
from friable.reference.targets import target_ranges

GROUPS = {group.key: group for group in plant_groups()}

# As printed, per cent of volume (densities in g/cm3), with the key of the source that prints it.
PRINTED = [
    # University of California ANR, Soil mixes part 3: air-filled porosity 10 to 25 %.
    ("general-grown", "air_space", 10, 25, "ucanr3"),
    ("general-liners", "air_space", 10, 25, "ucanr3"),
    # University of California leaflet on soil mixes: about 40 % of water after drainage.
    ("general-grown", "container_capacity", 40, None, "ucnapa"),
    # Western Australia, department of agriculture, potting mixes: 15 % for nursery pots.
    ("shrubs-liners", "air_space", 15, None, "wadpird"),
    # Handbook of multicell trays, quoted: 5 to 10 % reached; only the low end is asked.
    ("general-seed", "air_space", 5, None, "transplantbio"),
    # Lee, Paul and Hackett: Liquidambar 20 to 40 % (Pistacia 30 to 40 %).
    ("general-cuttings", "air_space", 20, 40, "leepaul"),
    # Ansorena 1994, table of optima: pores above 85 %, easily available 20 to 30 %, below 0.400 g/cm3.
    ("ornamentals-grown", "total_porosity", 85, None, "ansorena1994"),
    ("ornamentals-grown", "easily_available_water", 20, 30, "ansorena1994"),
    ("ornamentals-grown", "dry_bulk_density_g_cm3", None, 0.4, "ansorena1994"),
    # Ansorena 1994: 55 to 70 % of water at 10 cm; a shallower tray holds no less.
    ("fern-seed", "container_capacity", 55, None, "ansorena1994"),
    # Yeager, nursery guide, from memory: 50-85, 10-30, 45-65, 25-35 %, 0.19-0.70 g/cm3.
    ("shrubs-grown", "total_porosity", 50, 85, "yeager-bmp"),
    ("shrubs-grown", "air_space", 10, 30, "yeager-bmp"),
    ("shrubs-grown", "container_capacity", 45, 65, "yeager-bmp"),
    ("shrubs-grown", "available_water", 25, 35, "yeager-bmp"),
    ("shrubs-grown", "dry_bulk_density_g_cm3", 0.19, 0.7, "yeager-bmp"),
    # Johnson 1968, classes of need for air, from memory: 20 % and more; 10 to 20 %.
    ("epiphyte-grown", "air_space", 20, None, "johnson1968"),
    ("fern-grown", "air_space", 20, None, "johnson1968"),
    ("heath-grown", "air_space", 10, None, "johnson1968"),
    ("foliage-grown", "air_space", 10, None, "johnson1968"),
    # American Orchid Society: repot yearly or every other year.
    ("epiphyte-grown", "years", 1, None, "aos-repot"),
]


@pytest.mark.parametrize(("key", "quantity", "low", "high", "printed_in"), PRINTED)
def test_a_window_asks_what_its_source_prints(key, quantity, low, high, printed_in):
    window = GROUPS[key].window(quantity)
    per = 1 if quantity in ("dry_bulk_density_g_cm3", "years") else 100

    assert window.source == printed_in
    assert window.low == (None if low is None else pytest.approx(low / per))
    assert window.high == (None if high is None else pytest.approx(high / per))


def test_windows_that_name_a_target_hold_its_figure_and_how_it_is_known():
    targets = {target.id: target for target in target_ranges()}
    named = [row for row in read_table("group_windows") if row["target"]]
    assert len(named) > 15
    for row in named:
        target = targets[row["target"]]
        assert (row["how_known"], row["source"]) == (target.how_known, target.source)
        assert (row["low"], row["high"]) == ("", "")


def test_every_window_says_where_it_comes_from():
    for group in plant_groups():
        for window in group.windows:
            kinds = {source(key).kind for key in window.source.split(";")}
            if window.how_known == "published":
                assert "published" in kinds, (group.key, window.quantity)
            if window.source == "none-common-practice":
                assert window.how_known == "common practice"


def test_the_groups_and_stages_of_a_mixed_collection_are_there():
    groups = {group.group for group in plant_groups()}
    assert {"epiphyte", "arid", "bog", "fern", "heath", "alpine", "bulbs", "palms", "general"} <= groups
    assert {g.stage for g in plant_groups() if g.group == "general"} == {
        "seed",
        "cuttings",
        "liners",
        "grown",
    }
    assert {group.stage for group in plant_groups()} == set(STAGES)


def test_a_group_without_a_figure_has_no_window_and_says_so():
    bare = [group for group in plant_groups() if not group.windows]
    assert [group.key for group in bare] == ["bromeliad-grown"]
    assert all("No published figure" in group.note for group in bare)
    assert GROUPS["bog-grown"].window("air_space") is None
    assert "No figure for air or water" in GROUPS["bog-grown"].note


@pytest.mark.parametrize("key", ["arid-grown", "alpine-grown", "bulbs-grown", "heath-cuttings", "bulbs-seed"])
def test_what_is_only_asked_of_pots_in_general_says_so(key):
    # University of California ANR, Soil mixes part 3: 10 to 25 % of air; of these only the low end.
    window = GROUPS[key].window("air_space")
    assert (window.low, window.high, window.source) == (0.1, None, "ucanr3")
    assert "No figure of this group was found" in window.note


def test_bog_plants_bear_no_lime_and_no_food():
    # "Unfertilised", no lime: printed with two mixes for them (brianscarnivorous.com, eliosgarden.com).
    bog = GROUPS["bog-grown"]
    assert bog.window("lime").allowed == ("no",)
    assert bog.window("feed").allowed == ("no",)
    assert bog.window("feed").how_known == "published"
    assert bog.window("air_space") is None


def test_each_group_names_its_pot_and_who_waters():
    for group in plant_groups():
        assert group.container.split()[0] in ("round", "tray", "cell")
        assert len(group.watered) > 8
        assert group.how_known
        assert group.plant == find_plant(group.plant).key


def test_alkalinity_of_plugs_and_packs_is_as_printed():
    # Greenhouse Management, Understanding alkalinity: 40 to 60 mg/L in plugs, up to 85 to 100 in packs.
    assert "40 to 60 mg/L" in GROUPS["general-seed"].watered
    assert "85 to 100 mg/L" in GROUPS["general-liners"].watered
    assert GROUPS["general-seed"].source == "gm-alkalinity"


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("epiphyte, grown", "epiphyte-grown"),
        ("Grown epiphytes", "epiphyte-grown"),
        ("fern-seed", "fern-seed"),
        ("orchids seedlings", "epiphyte-seedlings"),
        ("nursery stock grown", "shrubs-grown"),
        ("bromeliads", "bromeliad-grown"),
    ],
)
def test_a_group_is_found_by_its_names(text, key):
    assert find_plant_group(text).key == key


def test_a_name_that_several_have_is_asked_back_and_an_unknown_one_is_refused():
    with pytest.raises(AmbiguousName, match="say which: “fern, seed”, “fern, grown”"):
        find_plant_group("fern")
    with pytest.raises(UnknownName, match=r"No plant group is called “triffid”\. Nearest: general, "):
        find_plant_group("triffid")
    with pytest.raises(UnknownName, match="Nearest: “epiphyte, grown”"):
        find_plant_group("epiphite, grown")
    with pytest.raises(UnknownName):
        find_plant_group("")


GOOD = {
    "group": "g", "quantity": "air_space", "low": "0.1", "high": "0.2", "allowed": "", "target": "",
    "ends": "", "how_known": "memory", "source": "memory", "note": "",
}  # fmt: skip
T013 = {"target": "T013", "ends": "both", "low": "", "high": "", "how_known": "published", "source": "ucanr3"}


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"low": "0.3"}, "the low end of the window of air is 0.3"),
        ({"quantity": "mood"}, "none that a window is set for"),
        (T013 | {"target": "T999"}, "target T999 is no range of air_space"),
        (T013 | {"target": "T014"}, "target T014 is no range of air_space"),
        (T013 | {"low": "0.1"}, "a target gives the ends"),
        (T013 | {"ends": ""}, "a target gives the ends"),
        (T013 | {"source": "ucnapa"}, "target T013 is known in another way"),
    ],
)
def test_a_window_row_out_of_order_is_refused(changes, problem):
    targets = {target.id: target for target in target_ranges()}
    assert module._window(Row("group_windows", 2, GOOD), targets).high == 0.2
    assert module._window(Row("group_windows", 2, GOOD | T013), targets).high == 0.25

    with pytest.raises(LookupError, match=r"group_windows\.csv line 2: .*" + problem):
        module._window(Row("group_windows", 2, GOOD | changes), targets)


def test_a_group_of_an_unknown_stage_is_refused():
    row = read_table("plant_groups")[0]
    with pytest.raises(LookupError, match="the stage is “ripe”; it must be one of seed, seedlings"):
        module._group(replace(row, cells={**row.cells, "stage": "ripe"}), ())
