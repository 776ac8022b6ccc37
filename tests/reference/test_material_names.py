"""A name finds one material, or is asked back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.materials import all_materials, find_material, search


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("BKP_M", "BKP_M"),
        ("bkp_m", "BKP_M"),
        ("pine bark nursery", "BKP_M"),
        ("nursery pine bark", "BKP_M"),
        ("  Pine   BARK, nursery 0-12 mm ", "BKP_M"),
        ("sphagnum peat medium", "PEAT_M"),
        ("Sphagnum Péat Medium", "PEAT_M"),
        ("perlite coarse", "PERL_C"),
        ("coarse perlite", "PERL_C"),
        ("perlite super-coarse", "PERL_X"),
        ("coir pith", "COIR_P"),
        ("wood fibre", "WOODF"),
        ("wood fiber", "WOODF"),
        ("horticultural sand medium", "SAND_M"),
        ("pumice 4-6 mm", "PUM_M"),
        ("pumice 4–6mm", "PUM_M"),
        ("long fibre sphagnum", "MOSS"),
        ("cocopeat", "COIR_P"),
        ("coco peat", "COIR_P"),
        ("coir dust", "COIR_P"),
        ("sponge rock", "PERL_X"),
        ("akadama type", "VCLAY"),
        ("sharp sand", "SAND_C"),
        ("chicken grit", "GRIT"),
        ("GRIT", "GRIT"),
        ("leaf mold", "LEAFM"),
        ("rice hulls", "RHP"),
        ("biochar", "BIOCH"),
    ],
)
def test_a_name_finds_its_material(typed, key):
    assert find_material(typed).key == key


@pytest.mark.parametrize(
    "typed",
    ["grit", "sand", "perlite", "bark", "coir", "bark fines", "lava", "lava rock", "pine bark", "peat",
     "compost", "builders sand", "orchid bark", "sphagnum", "pumice", "expanded clay", "charcoal", "coarse"],
)  # fmt: skip
def test_a_word_of_several_grades_is_asked_back(typed):
    with pytest.raises(AmbiguousName) as asked:
        find_material(typed)

    assert len(asked.value.choices) > 1
    titles = {material.title for material in all_materials()}
    assert set(asked.value.choices) <= titles


def test_the_question_names_the_choices():
    with pytest.raises(AmbiguousName) as asked:
        find_material("perlite")

    assert str(asked.value) == (
        "“perlite” can mean more than one material; say which: perlite fine 0-1.5 mm, perlite medium 1-4 mm, "
        "perlite coarse 2-6 mm, perlite super-coarse 6-12 mm."
    )


def test_every_choice_and_title_and_key_leads_to_its_material():
    for material in all_materials():
        assert find_material(material.title) is material
        assert find_material(material.key) is material


def test_every_alias_resolves_or_asks_back():
    meant = {}
    for row in read_table("aliases"):
        meant.setdefault(row["alias"], set()).add(row["key"])
    for alias, keys in meant.items():
        try:
            assert find_material(alias).key in keys, alias
        except AmbiguousName as asked:
            assert len(asked.choices) >= max(2, len(keys)), alias  # noqa: PT017 - either outcome is right


@pytest.mark.parametrize(
    ("typed", "nearest"),
    [
        ("perlit corse", "perlite coarse 2-6 mm"),
        ("vermicullite fine", "vermiculite fine 0.7-2 mm"),
        ("coir pithe", "coir pith 0-5 mm"),
        ("zeolyte", "zeolite 2-5 mm"),
        ("akadma", "granular volcanic clay 2-6 mm"),
    ],
)
def test_a_misspelling_is_answered_with_the_nearest_names(typed, nearest):
    with pytest.raises(UnknownName) as refused:
        find_material(typed)

    assert nearest in refused.value.near
    assert nearest in str(refused.value)


@pytest.mark.parametrize("typed", ["", "   ", "???", "unobtainium"])
def test_what_nothing_is_called_is_refused(typed):
    with pytest.raises(UnknownName):
        find_material(typed)


@given(st.text(max_size=300))
def test_any_text_is_answered_or_refused_by_name(typed):
    try:
        assert find_material(typed) in all_materials()
    except (UnknownName, AmbiguousName) as refused:
        assert refused.args  # noqa: PT017 - a refusal is the other right outcome


def test_an_own_material_stands_in_place_of_the_table():
    from dataclasses import replace

    ours = replace(find_material("BKP_M"), note="measured here")
    other = replace(
        find_material("BKP_M"), key="own-1", name="heather clippings", grade="shredded", aliases=()
    )

    assert find_material("pine bark nursery", extra=[ours]) is ours
    assert find_material("heather clippings", extra=[ours, other]) is other
    assert find_material("shredded heather clippings", extra=[other]) is other


def test_search_finds_by_the_beginnings_of_words():
    assert {material.key for material in search("perl")} >= {"PERL_F", "PERL_M", "PERL_C", "PERL_X"}
    assert [material.key for material in search("akad")] == ["VCLAY"]
    assert len(search("")) == 60
    assert search("unobtainium") == []
