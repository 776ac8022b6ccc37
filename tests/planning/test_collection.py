"""Collections as people keep them in spreadsheets, and what is wrong with those that are refused."""

import pytest

from friable.errors import BadFile, FriableError
from friable.planning.collection import COLUMNS, read_collection
from friable.planning.collection_cells import read_habit, read_place, read_use
from friable.planning.collection_table import MOST_CHARACTERS, LinesRefused
from friable.planning.collection_values import EVERY_DAYS, GLASS, NOBODY, ON_NEED, OUTDOORS, Mix, Place

BARK = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = "round 17/12/13 cm"


def test_lines_alike_in_all_that_matters_are_one_kind_whoever_owns_them():
    read = read_collection(
        "group,mix,container,count,plant\n"
        f"north bench,{BARK},{POT},12,shrubs\n"
        f"south bench,1 perlite coarse + 5 pine bark nursery + 1 sphagnum peat medium,{POT},30,shrub\n"
        f"south bench,{BARK},{POT},8,ferns\n"
    )

    assert read.pots == 50
    assert read.groups == ("north bench", "south bench")
    assert [(line.kind, line.count) for line in read.lines] == [(0, 12), (0, 30), (1, 8)]


def test_a_spreadsheet_s_export_with_mark_semicolons_and_decimal_commas_is_read():
    read = read_collection(
        "\ufeffGroup;Mix;Container;Count;Water use;Place;Watering;Headspace;Drainage layer;;\r\n"
        f"bog;2 sphagnum peat medium + 1,5 perlite coarse;{POT};60;0,8;glass;standing water 2 cm;1,5;;;\r\n"
        ";;;;;;;;;;\r\n"
        f'trays;"{BARK}";"tray 50x30x4,5 cm";3;0,6 to 1,2;outdoors;daily;;1,5 cm gravel;;\r\n'
    )

    bog, tray = read.kinds
    assert bog.container.headspace_cm == 1.5
    assert (bog.use.low, bog.use.high, bog.place) == (0.8, 0.8, Place(GLASS))
    assert (bog.habit.by, bog.habit.base.kind, bog.habit.base.depth_cm) == (NOBODY, "standing water", 2.0)
    assert (tray.container.height_cm, tray.container.drainage_layer_cm) == (4.5, 1.5)
    assert tray.layer_material is not None
    assert "gravel" in tray.layer_material.title
    assert (tray.use.low, tray.use.high, tray.place) == (0.6, 1.2, Place(OUTDOORS))
    assert read.lines[1].number == 4


def test_a_pot_without_a_plant_runs_over_the_wide_range_of_uses():
    kind = read_collection(f"mix,container,count\n{BARK},{POT},1\n").kinds[0]

    assert (kind.use.low, kind.use.high) == (0.3, 1.2)
    assert kind.plant.without_plant


def test_names_of_stored_mixes_come_before_published_ones():
    own = Mix("bog mix", read_collection(f"mix,container,count\n{BARK},{POT},1\n").kinds[0].mix.parts)

    read = read_collection(
        f"mix,container,count\nbog mix,{POT},2\nJohn Innes No. 2,{POT},2\n",
        stored_mix=lambda name: own if name == "bog mix" else None,
    )

    assert read.kinds[0].mix is own
    assert read.groups[0] == "bog mix"
    assert read.kinds[1].mix.title == "John Innes No. 2"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("no such thing at all,{pot},3,,,,", "No mix is called"),
        ("{mix},{pot},0,,,,", "count"),
        ("{mix},{pot},2.5,,,,", "whole number"),
        ("{mix},round 17 cm,2,,,,", "three inside sizes"),
        ("{mix},{pot},2,unicorns,,,", "unicorns"),
        ("{mix},{pot},2,,nan,,", "finite"),
        ("{mix},{pot},2,,-1,,", "above 0"),
        ("{mix},{pot},2,,1.2 to 0.6,,", "low to high"),
        ("{mix},{pot},2,,,attic,", "attic"),
        ("{mix},{pot},2,,,shade 0 %,", "above 0"),
        ("{mix},{pot},2,,,,every 0 days", "1 to 366"),
        ("{mix},{pot},2,,,,whenever", "watering"),
        ("{mix},{pot},2,,,,standing water", "all that it needs"),
        ("{mix},{pot},2,,,,,surplus", "cells under"),
    ],
)
def test_each_line_that_cannot_be_read_is_refused_with_its_number(line, said):
    text = "mix,container,count,plant,water_use,place,watering\n" + line.format(mix=BARK, pot=POT)

    with pytest.raises(LinesRefused, match="Line 2 of the collection") as refused:
        read_collection(text)

    assert said in str(refused.value)


def test_every_bad_line_has_its_own_sentence_and_the_first_five_are_shown():
    text = "mix,container,count\n" + f"{BARK},{POT},x\n" * 9

    with pytest.raises(LinesRefused) as refused:
        read_collection(text)

    assert [number for number, _sentence in refused.value.sentences] == list(range(2, 11))
    assert "4 more lines" in str(refused.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("mix,container\n1 perlite coarse,round 9/7/8 cm\n", "no column “count”"),
        ("mix,container,count,colour\n", "colour"),
        ("mix,mix,container,count\n", "two columns"),
        ("mix,container,count\n", "no pots below"),
        ("mix,container,count\n\0", "not text"),
        ("x" * (MOST_CHARACTERS + 1), "characters"),
    ],
)
def test_a_table_that_is_none_is_refused_in_one_sentence(text, said):
    with pytest.raises(BadFile, match=said):
        read_collection(text)


def test_the_columns_are_those_that_are_told():
    assert COLUMNS[1:4] == ("mix", "container", "count")


def test_twenty_thousand_lines_of_few_kinds_are_read_within_seconds():
    text = "group,mix,container,count\n" + f"bench,{BARK},{POT},1\n" * 12_000

    read = read_collection(text)

    assert (read.pots, len(read.kinds)) == (12_000, 1)


@pytest.mark.parametrize(
    ("typed", "by", "days", "share", "base"),
    [
        ("", ON_NEED, 1, None, "open holes"),
        ("On need", ON_NEED, 1, None, "open holes"),
        ("on need 40 %", ON_NEED, 1, 0.4, "open holes"),
        ("daily", EVERY_DAYS, 1, None, "open holes"),
        ("every 3 days", EVERY_DAYS, 3, None, "open holes"),
        ("weekly", EVERY_DAYS, 7, None, "open holes"),
        ("every 2 days; saucer 1 L", EVERY_DAYS, 2, None, "saucer"),
        ("rain only", NOBODY, 1, None, "open holes"),
        ("mat 5 cm", NOBODY, 1, None, "mat"),
        ("saucer 0.5 L", ON_NEED, 1, None, "saucer"),
    ],
)
def test_habits_are_read_as_people_say_them(typed, by, days, share, base):
    habit = read_habit(typed)

    assert (habit.by, habit.every_days, habit.used_share, habit.base.kind) == (by, days, share, base)


def test_places_and_uses_are_read_as_people_say_them():
    assert read_place("Glass, shade 50 %") == Place(GLASS, 0.5)
    assert read_place("shade 1/2") == Place("as recorded", 0.5)
    assert read_use("") is None
    use = read_use("80 %")
    assert use is not None
    assert use.middle == pytest.approx(0.8)


@pytest.mark.parametrize("cell", ["\u202e", "a" * 500, "=1+1", "1e999", "glass; glass; attic"])
def test_rubbish_in_a_cell_is_refused_and_never_crashes(cell):
    for read in (read_habit, read_place, read_use):
        with pytest.raises(FriableError):
            read(cell)
