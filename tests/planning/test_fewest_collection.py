"""Collections by groups of plants, as people keep them in spreadsheets, and what is wrong with some."""

import pytest

from friable.errors import BadFile, FriableError
from friable.planning.collection_table import LinesRefused
from friable.planning.collection_values import Mix
from friable.planning.fewest_collection import COLUMNS, read_stands
from friable.planning.fewest_given import mixes_given

BARK = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = "round 13/10/11 cm"


def test_pots_of_one_group_in_one_container_are_one_stand_whatever_they_stand_in():
    read = read_stands(
        "group,stage,container,count,mix\n"
        f"epiphyte,grown,{POT},12,{BARK}\n"
        f'"epiphyte, grown",,{POT},30,1 perlite coarse\n'
        f"epiphyte,grown,round 17/12/13 cm,8,{BARK}\n"
    )

    assert read.pots == 50
    assert [(line.number, line.stand, line.count) for line in read.lines] == [
        (2, 0, 12),
        (3, 0, 30),
        (4, 1, 8),
    ]
    assert [stand.title for stand in read.stands] == [
        f"epiphyte, grown, in {POT}",
        "epiphyte, grown, in round 17/12/13 cm",
    ]
    assert read.stands[0].windows


def test_a_recipe_written_in_another_order_is_the_same_mix():
    read = read_stands(
        f"group,stage,count,mix\nfern,grown,1,{BARK}\n"
        "fern,grown,1,1 perlite coarse + 5 pine bark nursery + 1 sphagnum peat medium\n"
    )

    assert read.lines[0].mix is read.lines[1].mix


def test_columns_that_may_be_missing_and_cells_that_may_be_empty():
    read = read_stands(
        'group;count;mix;headspace\n"epiphyte, grown";12;;\nfern grown;3;bark;1,5\n', stored_mix=ours
    )

    orchid, fern = read.stands
    assert (read.lines[0].mix, read.lines[1].mix.title) == (None, "bark")
    assert orchid.container_as_typed == orchid.group.container  # the pot that its windows are meant for
    assert (orchid.container.headspace_cm, fern.container.headspace_cm) == (0, 1.5)


def ours(name):
    return Mix("bark", read_stands(f"group,count,mix\nfern grown,1,{BARK}\n").lines[0].mix.parts)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "The collection is empty; its first line is group,stage,container,count,mix,headspace."),
        ("group,mix\nfern grown,x\n", "no column “count”"),
        ("group,count,colour\nfern grown,1,red\n", "column “colour”, which is not known"),
        ("group,count,count\nfern grown,1,1\n", "two columns “count”"),
        ("group,count\n", "a header and no pots below it"),
        ("group,count\nfern grown,1\0\n", "is not text"),
    ],
)
def test_what_is_no_such_table_is_refused(text, said):
    with pytest.raises(BadFile, match=said):
        read_stands(text)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("moon flower,grown,,1,", "No plant group is called “moon flower, grown”"),
        ("epiphyte,,,1,", "“epiphyte” can mean more than one plant group"),
        ("fern,grown,,-1,", "count"),
        ("fern,grown,,0,", "count"),
        ("fern,grown,,1e400,", "count"),
        ("fern,grown,,many,", "count"),
        ("fern,grown,round,1,", "does not give its inside sizes"),
        ("fern,grown,,1,moon dust", "No mix is called “moon dust”"),
        ("fern,grown,,1,5 moon dust", "No material is called “moon dust”"),
        (",grown,,1,", "group “” is empty"),
        ("fern,grown,,1,,,7", "7 cells under 5 columns"),
    ],
)
def test_a_line_that_cannot_be_read_is_named_by_its_number(line, said):
    with pytest.raises(LinesRefused) as refused:
        read_stands(f"group,stage,container,count,mix\nfern,grown,,1,\n{line}\n")

    [(number, sentence)] = refused.value.sentences
    assert number == 3
    assert said in sentence
    assert str(refused.value).startswith("Line 3 of the collection: ")


def test_every_column_is_read():
    read_stands(f"{','.join(COLUMNS)}\nfern,grown,{POT},1,{BARK},1 cm\n")


def test_mixes_to_choose_from_are_those_that_no_other_contains():
    given = mixes_given(
        '[mix."base"]\nparts = [["coir pith", 3], ["perlite coarse", 1]]\n'
        '[mix."with grit"]\nparts = [["base", 3], ["crushed granite grit", 1]]\n'
        '[mix."plain"]\nparts = [["pine bark nursery", 1]]\n'
        '[mix."half heard"]\nparts = [["pine bark nursery", 1]]\nincomplete = true\n'
    )

    assert [mix.title for mix in given] == ["with grit", "plain"]
    shares = {material.name: share for material, share in given[0].parts}
    assert shares["coir pith"] == pytest.approx(9 / 16)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[mix.a]\n",
        '[mix.a]\nparts = [["pine bark nursery", 1]]\nincomplete = true\n',
        "[mix.a]\nparts = 3\n",
    ],
)
def test_a_file_without_a_mix_to_choose_is_refused(text):
    with pytest.raises(FriableError):
        mixes_given(text)
