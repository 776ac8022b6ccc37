"""Windows in words, held against the figures of a mix; the flags of a mix by hand."""

from dataclasses import replace
from datetime import date

import pytest

from friable.errors import BadQuantity, BadRecipe
from friable.planning.windows import asked, figure_said, mix_flags, said, side, verdicts, where
from friable.reference.material_flags import material_flags
from friable.reference.materials import find_material
from friable.reference.plant_groups import find_plant_group, plant_groups
from friable.reference.windows import Window


def window(**told):
    return Window(**{"quantity": "air_space", "how_known": "memory", "source": "memory"} | told)


def parts(**amounts):
    return [(find_material(key), amount) for key, amount in amounts.items()]


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"low": 0.2, "high": 0.35}, "20 to 35 %"),
        ({"low": 0.2}, "at least 20 %"),
        ({"high": 0.075}, "at most 7.5 %"),
        ({"high": 0.0}, "at most 0 %"),
        ({"quantity": "years", "low": 1.0}, "at least 1 year"),
        ({"quantity": "years", "low": 1.5, "high": 3}, "1.5 to 3 years"),
        ({"quantity": "wet_density_kg_l", "high": 0.8}, "at most 0.8 kg/L"),
        ({"quantity": "cost_per_l", "high": 0.2}, "at most 0.2 per litre"),
        ({"quantity": "lime", "allowed": ("no", "sometimes")}, "no or sometimes"),
    ],
)
def test_a_window_is_asked_in_the_unit_in_which_it_is_read(told, words):
    assert asked(window(**told)) == words


def test_a_window_is_said_with_its_origin():
    general = find_plant_group("general, grown")
    assert said(general.window("air_space")) == (
        "air 10 to 25 % [Soil mixes part 3. University of California Agriculture and Natural Resources]"
    )
    assert where(window(low=0.1)) == "memory"
    assert (
        where(window(low=0.1, how_known="common practice", source="none-common-practice"))
        == "common practice"
    )
    assert where(find_plant_group("shrubs, grown").window("air_space")).startswith("from memory: Yeager.")
    assert where(find_plant_group("fern, seed").window("container_capacity")).startswith("estimated from: ")
    keeper = window(low=0.1, how_known="keeper", source="keeper")
    assert where(keeper) == "set by the keeper"
    dated = window(low=0.1, how_known="keeper", source="keeper", set_on=date(2026, 3, 1))
    assert where(dated) == "set by the keeper on 2026-03-01"


def test_every_window_of_the_tables_can_be_said():
    for group in plant_groups():
        for one in group.windows:
            assert said(one).endswith("]")
            assert where(one)


def test_each_figure_lies_within_below_above_or_is_not_known():
    windows = (
        window(low=0.2, high=0.35),
        window(quantity="container_capacity", low=0.4),
        window(quantity="lime", allowed=("no",)),
        window(quantity="years", low=2),
        window(quantity="cost_per_l", high=0.2),
    )
    figures = {"air_space": 0.12, "container_capacity": 0.4, "lime": "sometimes", "years": None}
    found = verdicts(windows, figures)

    assert [one.side for one in found] == ["below", "within", "outside", "unknown", "unknown"]
    assert [one.is_within for one in found] == [False, True, False, False, False]
    assert [one.words for one in found] == [
        "air 12 %, below 20 to 35 %",
        "water held 40 %, within at least 40 %",
        "lime: sometimes, asked no",
        "life: no figure, asked at least 2 years",
        "cost: no figure, asked at most 0.2 per litre",
    ]
    assert side(window(high=0.2), 0.21) == "above"
    assert side(window(high=0.2), float("nan")) == "unknown"
    assert figure_said("dry_bulk_density_g_cm3", 0.41) == "0.41 g/cm3"


def test_shares_and_flags_of_a_mix_by_hand():
    # 5 bark + 3 peat + 2 perlite: two tenths mineral, three tenths peat.
    found = mix_flags(parts(BKP_M=5, PEAT_M=3, PERL_C=2))

    assert found["mineral_share"] == pytest.approx(0.2)
    assert found["peat_share"] == pytest.approx(0.3)
    assert (found["lime"], found["feed"], found["hygiene"]) == ("no", "no", "usually clean")
    assert found["draws_nitrogen"] == "sometimes"
    assert found["dust"] == "yes"


def test_the_worst_part_decides_however_small_it_is():
    found = mix_flags(parts(PERL_C=99, LIMG=1))
    assert found["lime"] == "yes"
    assert mix_flags(parts(PERL_C=99, GWC=1))["hygiene"] == "treat first"
    assert mix_flags(parts(PERL_C=99, SAND_M=1))["lime"] == "sometimes"


def test_the_shortest_life_of_a_fifth_and_more_counts():
    # Years at least: sawdust 0.5, peat 1, bark 2, perlite 3, granite 50.
    assert mix_flags(parts(BKP_M=8, SAWD=2))["years"] == 0.5
    assert mix_flags(parts(BKP_M=81, SAWD=19))["years"] == 2
    assert mix_flags(parts(GRIT=1, PERL_C=1))["years"] == 3
    tenths = parts(
        GRIT=10, PERL_C=10, BKP_M=10, PUM_S=10, PUM_M=10, SCO_F=10, SCO_M=10, CCL_M=10, ZEO=10, LOAM=10
    )
    assert mix_flags(tenths)["years"] == 2


def test_flags_known_otherwise_stand_in_the_place_of_the_tables():
    sand = find_material("SAND_M")
    tested = {"SAND_M": replace(material_flags(sand), lime="no", years_low=None)}
    assert mix_flags([(sand, 1.0)], tested)["lime"] == "no"
    assert mix_flags([(sand, 1.0)], tested)["years"] is None


def test_nothing_and_less_than_nothing_are_refused():
    with pytest.raises(BadRecipe, match="The mix has no components"):
        mix_flags([])
    with pytest.raises(BadQuantity, match="the part of perlite coarse 2-6 mm is 0; it must be above 0"):
        mix_flags(parts(PERL_C=0))
