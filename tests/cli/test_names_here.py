"""Names that the tables don't hold: our own records are asked, and only if there are any."""

import os
import subprocess
import sys

import pytest
from tests import cast

from friable.cli import names_here
from friable.errors import BadFile, BadRecipe, UnknownName
from friable.records import actions
from friable.records.models import Container, Material, MaterialAlias


@pytest.fixture
def records(db, monkeypatch):
    """Records with a bark, an odd thing nobody knows anything of, and a pot."""
    monkeypatch.setattr(names_here, "records_exist", lambda: True)
    names_here._materials_here.cache_clear()
    names_here._containers_here.cache_clear()
    bark = Material.objects.create(name="Quillmoor bark", table_key="BKP_M")
    MaterialAlias.objects.create(material=bark, name="house bark")
    Material.objects.create(name="odd stuff")
    Container.objects.create(
        name="house pot", shape="round", top_length_cm=17, top_width_cm=17, bottom_length_cm=12,
        bottom_width_cm=12, height_cm=13, headspace_cm=1.5,
    )  # fmt: skip


@pytest.mark.parametrize("name", ["Quillmoor bark", "quillmoor  BARK", "house bark"])
def test_our_own_material_is_found_by_its_name_and_alias(records, name):
    assert names_here.find_material(name).title == "Quillmoor bark"


def test_our_own_container_keeps_its_headspace(records):
    pot = names_here.read_container("House pot")

    assert (pot.top_length_cm, pot.headspace_cm) == (17, 1.5)


def test_a_material_of_which_nothing_is_known_says_so(records):
    with pytest.raises(BadRecipe, match="Nothing is known of odd stuff"):
        names_here.find_material("odd stuff")


def test_our_own_mix_is_found_in_its_newest_version(records):
    version = actions.write_mix(cast.recipe("house mix", (3, "Quillmoor bark")), by=cast.KEEPER)
    actions.new_mix_version(
        version.mix, cast.recipe("house mix", (1, "Quillmoor bark"), (1, "perlite coarse")), by=cast.KEEPER
    )

    mix = names_here.find_mix("House  mix")

    assert mix.title == "house mix, version 2"
    assert sorted((material.title, share) for material, share in mix.parts) == [
        ("Quillmoor bark", pytest.approx(0.5)),
        ("perlite coarse 2-6 mm", pytest.approx(0.5)),
    ]
    assert names_here.find_mix("none such") is None


def test_without_records_there_are_no_mixes_of_our_own(monkeypatch):
    monkeypatch.setattr(names_here, "records_exist", lambda: False)

    assert names_here.find_mix("house mix") is None


def test_what_nobody_has_is_unknown(records):
    with pytest.raises(UnknownName, match="No material is called “none such”"):
        names_here.find_material("none such")
    with pytest.raises(UnknownName, match="No container is called “none such”"):
        names_here.read_container("none such")


def test_a_database_that_cannot_be_read_is_told(tmp_path):
    (tmp_path / "friable.sqlite3").write_text("not a database")
    done = friable_with(tmp_path, "mix", "3 none such", "--container", "2 L")

    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "“none such” is not in the tables, and the database in" in done.stderr
    assert "cannot be read; run friable check." in done.stderr


def test_without_records_nothing_is_opened_or_made(tmp_path):
    folder = tmp_path / "nothing-here"
    done = friable_with(folder, "mix", "3 none such", "--container", "2 L")

    assert done.stderr.startswith("No material is called “none such”. Look at the list")
    assert not folder.exists()


def friable_with(folder, *arguments):
    """Run `friable` in a process of its own with this data folder."""
    return subprocess.run(
        [sys.executable, "-m", "friable.cli.main", *arguments],
        capture_output=True,
        text=True,
        env=os.environ | {"FRIABLE_DATA": str(folder)},
    )


def test_a_broken_database_is_not_asked_for_what_the_tables_hold(monkeypatch):
    def refuse(_asked):
        raise BadFile("opened")

    monkeypatch.setattr(names_here, "records_exist", lambda: True)
    monkeypatch.setattr(names_here, "_materials_here", refuse)

    assert names_here.find_material("perlite coarse").key == "PERL_C"
    with pytest.raises(BadFile):
        names_here.find_material("none such")
