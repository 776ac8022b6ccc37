"""What materials bring besides air and water; each flag says how it is known."""

from dataclasses import replace

import pytest

from friable.reference import material_flags as module
from friable.reference.load import read_table
from friable.reference.material_flags import material_flags
from friable.reference.materials import all_materials, find_material
from friable.reference.sources import source
from friable.reference.windows import HYGIENE, YES_OR_NO

DUSTY = ("dust", "mineral fibre")


def flags(name):
    return material_flags(find_material(name))


def test_every_material_of_the_tables_has_a_row_and_no_other_has():
    assert [row["key"] for row in read_table("material_flags")] == [m.key for m in all_materials()]
    assert len(all_materials()) == 60


def test_every_flag_is_one_of_its_words_with_a_source_of_its_own():
    for material in all_materials():
        found = material_flags(material)
        assert {found.lime, found.feed, found.dust, found.draws_nitrogen} <= set(YES_OR_NO)
        assert found.hygiene in HYGIENE
        for flag in ("lime", "feed", "dust", "hygiene", "draws_nitrogen", "years"):
            origin = found.origin(flag)
            assert origin is not None
            assert origin.how_known
            assert all(source(key) for key in origin.source.split(";"))
            assert set(origin.source.split(";")) <= set(found.source.split(";"))


def test_a_row_is_only_as_well_known_as_its_weakest_flag():
    sawdust = flags("softwood sawdust")
    assert sawdust.origin("draws_nitrogen").how_known == "published"
    assert sawdust.how_known == "memory"


@pytest.mark.parametrize(
    ("name", "flag", "word", "key"),
    [
        # Index of peat 1.02 and 1.05: near 1, none of the nitrogen was drawn down (Acta Horticulturae 401).
        ("PEAT_M", "draws_nitrogen", "no", "acta401-37"),
        # Sand 1, bark 1, sawdust 8: index 0 at 30 °C, all of it gone (Sharman and others).
        ("SAWD", "draws_nitrogen", "yes", "sharman-ndi"),
        # Wood held back most nitrogen, then pine bark, then peat with vermiculite (Jackson and others 2009).
        ("BKP_M", "draws_nitrogen", "sometimes", "jackson2009"),
        # "Vermiculite and perlite in sealed bags count as clean" (nursery practice manual, 2016).
        ("PERL_C", "hygiene", "clean", "phytobmp4"),
        ("VERM_F", "hygiene", "clean", "phytobmp4"),
        # A grower throws away 15 to 20 % of bagged perlite as dust.
        ("PERL_M", "dust", "yes", "perlitedust"),
    ],
)
def test_what_is_published_stands_in_the_rows_that_name_it(name, flag, word, key):
    found = flags(name)
    assert getattr(found, flag) == word
    assert found.origin(flag).source == key
    assert found.origin(flag).how_known == "published"


def test_wood_is_read_from_chipped_pine_and_says_that_it_is_estimated():
    # Jackson and others 2009 measured ground pine trees, not refined fibre.
    assert flags("WOODF").draws_nitrogen == "yes"
    assert flags("WOODF").origin("draws_nitrogen").how_known == "estimated"


def test_lime_follows_from_the_carbonate_of_the_material():
    assert [flags(key).lime for key in ("PEAT_F", "LIMG", "OYST", "SAND_M")] == [
        "no", "yes", "yes", "sometimes",
    ]  # fmt: skip
    fizzed = replace(find_material("SAND_M"), carbonate="yes")
    assert material_flags(fizzed).lime == "yes"
    assert material_flags(replace(fizzed, carbonate="?")).lime == "unknown"


def test_a_material_whose_hazards_name_dust_is_never_called_free_of_it():
    for material in all_materials():
        named = any(word in material.hazards for word in DUSTY)
        assert (material_flags(material).dust != "no") == named, material.key


def test_peat_is_peat_and_moss_is_not():
    peat = [m.key for m in all_materials() if material_flags(m).peat]
    assert peat == ["PEAT_F", "PEAT_M", "PEAT_C"]


def test_rock_wool_and_loam_count_as_mineral_and_charcoal_does_not():
    assert flags("ROCKW").mineral
    assert flags("LOAM").mineral
    assert not flags("CHAR_S").mineral
    assert not flags("FOAM").mineral
    stated = {m.key for m in all_materials() if m.kind == "mineral"}
    assert {m.key for m in all_materials() if material_flags(m).mineral} == stated | {"ROCKW"}


def test_years_are_those_of_the_material_table():
    years = {row["key"]: row for row in read_table("materials")}
    for material in all_materials():
        found = material_flags(material)
        assert found.years_low == years[material.key].number("breaks_down_low_years")
        assert found.years_high == years[material.key].number("breaks_down_high_years")


def test_what_could_carry_seed_or_rot_is_treated_first():
    # Weed seed stands among the hazards of composted green waste and leaf mould: nothing killed it.
    for material in all_materials():
        if "weed seed" in material.hazards:
            assert material_flags(material).hygiene == "treat first"


def test_an_own_material_is_unknown_in_what_it_does_not_say():
    own = replace(find_material("GRIT"), key="OWN", name="rubble from the yard", grade="", carbonate="maybe")
    found = material_flags(own)

    assert (found.feed, found.dust, found.hygiene, found.draws_nitrogen) == ("unknown",) * 4
    assert (found.years_low, found.years_high) == (None, None)
    assert found.mineral
    assert found.lime == "sometimes"


@pytest.mark.parametrize(
    ("name", "is_peat"),
    [
        ("peat from the north", True),
        ("peatmoss lot 3", True),
        ("peat-free blend", False),
        ("cocopeat", False),
    ],
)
def test_an_own_material_is_peat_by_its_name(name, is_peat):
    own = replace(find_material("COIR_P"), key="OWN", name=name, grade="")
    assert material_flags(own).peat is is_peat


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"dust": "maybe"}, "dust is “maybe”; it must be one of no, sometimes, unknown, yes"),
        ({"hygiene": "dirty"}, "hygiene is “dirty”; it must be one of clean, usually clean"),
        ({"peat": ""}, "peat is “”; it must be yes or no"),
    ],
)
def test_a_row_with_other_words_is_refused(monkeypatch, changes, problem):
    row = next(row for row in read_table("material_flags") if row["key"] == "GRIT")
    bad = replace(row, cells={**row.cells, **changes})
    monkeypatch.setattr(module, "_rows", lambda: {"GRIT": bad})

    with pytest.raises(LookupError, match=problem):
        material_flags(find_material("GRIT"))
