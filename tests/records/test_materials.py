"""Materials, aliases and packs: one set of names, figures never copied."""

import pytest
from tests import cast

from friable.errors import AmbiguousName, BadQuantity, BadText, Refused, UnknownName
from friable.records import actions
from friable.records.models import Material
from friable.records.queries import material_named, materials_in_use, packs_of
from friable.reference.materials import all_materials

pytestmark = pytest.mark.django_db


def test_a_material_of_the_table_is_stored_once_at_its_first_use():
    first = actions.use_material("pine bark nursery", by=cast.KEEPER)
    again = actions.use_material("nursery pine bark", by=cast.HELPER)

    assert first == again
    assert (first.table_key, first.is_own) == ("BKP_M", False)


def test_every_material_of_the_table_can_be_stored():
    for material in all_materials():
        actions.use_material(material.key, by=cast.KEEPER)

    assert Material.objects.filter(is_own=False).count() == len(all_materials())


def test_our_own_material_rests_on_a_row_and_has_other_words():
    ours = actions.add_material("Moorside bark", by=cast.KEEPER, table_key="BKP_M", aliases=["MB 12"])

    assert material_named("moorside BARK") == ours
    assert material_named("mb 12") == ours
    assert material_named("Moorside") is None


@pytest.mark.parametrize("taken", ["MOORSIDE bark", "Mb 12", "Pine Bark nursery 0-12 mm", "potting-on BARK"])
def test_a_name_is_taken_whatever_its_capitals(taken):
    actions.add_material("Moorside bark", by=cast.KEEPER, aliases=["MB 12"])
    cast.potting_on()

    with pytest.raises(Refused, match=r"is the name of .* already; choose another"):
        actions.add_material(taken, by=cast.KEEPER)


def test_capitals_of_other_alphabets_count_as_well():
    actions.add_material("Äste, gehäckselt", by=cast.KEEPER)

    with pytest.raises(Refused, match="already"):
        actions.add_material("ÄSTE, GEHÄCKSELT", by=cast.KEEPER)


def test_a_name_is_kept_in_one_normal_form():
    composed = actions.add_material("  tou\u0308f   grit ", by=cast.KEEPER)

    assert composed.name == "toüf grit"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("", "Name is missing; fill it in."),
        ("x" * 121, "has 121 characters; it may have 120"),
        ("bark\u202efine", r"has a character that cannot be seen \(U\+202E, character 5\); type it again"),
        ("bark\x00", r"cannot be seen \(U\+0000, character 5\)"),
        ("bark\nfine", r"cannot be seen \(U\+000A, character 5\)"),
    ],
)
def test_an_unfit_name_is_refused_with_a_sentence(name, said):
    with pytest.raises((BadText, Refused), match=said) as refusal:
        actions.add_material(name, by=cast.KEEPER)

    assert refusal.value.field == "name"


def test_120_characters_are_enough_for_a_name():
    assert actions.add_material("x" * 120, by=cast.KEEPER).pk


def test_an_unknown_row_of_the_table_is_refused():
    with pytest.raises(UnknownName, match="No row of the material table is called “NOPE”"):
        actions.add_material("mystery", by=cast.KEEPER, table_key="NOPE")


def test_a_name_that_several_have_is_refused_with_the_choices():
    with pytest.raises(AmbiguousName, match="perlite coarse 2-6 mm"):
        actions.use_material("perlite", by=cast.KEEPER)


def test_a_material_of_the_table_keeps_its_name():
    with pytest.raises(Refused, match="keeps its name; add an alias"):
        actions.change_material(cast.bark(), by=cast.KEEPER, name="other")


def test_what_an_act_does_not_change_is_refused():
    with pytest.raises(Refused, match="is_own cannot be changed here"):
        actions.change_material(cast.bark(), by=cast.KEEPER, is_own=True)


@pytest.mark.parametrize("by", ["", "  ", "M K", "ABCDEFG", "M\u202eK", "<b>"])
def test_an_act_needs_initials(by):
    with pytest.raises((Refused, BadText), match="nitials"):
        actions.add_material("mystery", by=by)

    assert not Material.objects.exists()


def test_a_pack_carries_its_range_until_one_is_measured():
    peat = actions.use_material("sphagnum peat medium", by=cast.BUYER)
    actions.add_pack(peat, "bale, 3.8 cu ft", by=cast.BUYER, declared_l=107.6, yield_low=1.34, yield_high=2.0)

    [pack] = packs_of(peat)
    assert pack.measured is None

    measured = actions.measure_pack_yield(pack, by=cast.HELPER, loose_l=198, lot="Q-7")
    [pack] = packs_of(peat)
    assert pack.measured == measured


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"declared_l": float("nan")}, "declared volume is not a number; it must be above 0"),
        ({"declared_l": 1e308}, "declared volume is 1e[+]308 L; it must be above 0 and at most 100000"),
        ({"declared_l": 0}, "declared volume is 0 L; it must be above 0"),
    ],
)
def test_an_impossible_volume_is_refused(values, said):
    with pytest.raises(BadQuantity, match=said):
        actions.add_pack(cast.bark(), "bag", by=cast.BUYER, **values)


def test_a_yield_needs_both_ends_in_order():
    with pytest.raises(Refused, match="give both or neither"):
        actions.add_pack(cast.bark(), "bag", by=cast.BUYER, declared_l=70, yield_low=2, yield_high=1)
    with pytest.raises(Refused, match="give both or neither"):
        actions.add_pack(cast.bark(), "bag", by=cast.BUYER, declared_l=70, yield_low=2)


def test_a_retired_material_is_no_longer_offered():
    bark = cast.bark()

    actions.retire(bark, by=cast.KEEPER)

    assert bark not in materials_in_use()
    assert Material.objects.filter(pk=bark.pk).exists()
