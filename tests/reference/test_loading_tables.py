"""A table refuses what has no source and what cannot be."""

import csv
import shutil

import pytest

from friable.reference.load import read_table
from friable.reference.sources import TABLES


@pytest.fixture
def tables(tmp_path):
    """A copy of the tables that a test may spoil: spoil(name, key, column, value)."""
    folder = tmp_path / "tables"
    shutil.copytree(TABLES, folder)

    def spoil(name, line, **cells):
        path = folder / f"{name}.csv"
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        rows[line - 2].update(cells)
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, rows[0].keys(), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
        return folder

    return spoil


def refusal(name, folder):
    with pytest.raises(LookupError) as refused:
        read_table(name, folder)
    return str(refused.value)


def test_a_row_without_a_source_is_refused(tables):
    assert refusal("targets", tables("targets", 4, source="")) == "targets.csv line 4: no source."


def test_a_row_with_an_unknown_source_is_refused(tables):
    folder = tables("targets", 4, source="ansorena1994;someone1850")

    assert refusal("targets", folder) == "targets.csv line 4: unknown source “someone1850”."


def test_a_group_of_figures_without_a_source_is_refused(tables):
    folder = tables("materials", 3, chemistry_source="")

    assert refusal("materials", folder) == "materials.csv line 3: no source."


def test_an_unknown_way_of_knowing_is_refused(tables):
    folder = tables("targets", 2, how_known="hearsay")

    assert refusal("targets", folder) == (
        "targets.csv line 2: how_known is “hearsay”; it must be one of: computed, measured, published, "
        "estimated, memory, common practice."
    )


def test_memory_cannot_pass_for_published(tables):
    folder = tables("targets", 2, how_known="published", source="memory")

    assert refusal("targets", folder) == "targets.csv line 2: “published” needs a source that was read."


def test_an_unknown_unit_is_refused(tables):
    assert refusal("targets", tables("targets", 2, unit="furlong")) == (
        "targets.csv line 2: unknown unit “furlong”."
    )


def test_a_row_with_a_cell_too_many_is_refused(tmp_path):
    shutil.copy(TABLES / "sources.toml", tmp_path)
    (tmp_path / "odd.csv").write_text("name,how_known,source\na,memory,memory\nb,x,memory,memory\n")

    assert refusal("odd", tmp_path) == "odd.csv line 3: 4 cells, but the header has 3."


def test_a_table_without_a_source_column_is_refused(tmp_path):
    shutil.copy(TABLES / "sources.toml", tmp_path)
    (tmp_path / "odd.csv").write_text("name,value\na,1\n")

    assert refusal("odd", tmp_path) == "odd.csv line 2: no source."


def test_a_table_that_does_not_exist_is_refused(tmp_path):
    assert refusal("nothing", tmp_path) == "There is no table nothing.csv."


# Line 3 is the nursery grade of pine bark: 0.18 g/cm3, pores 0.79, water 0.345 at 10 cm, 0.235 at 100 cm.
@pytest.mark.parametrize(
    ("cells", "problem"),
    [
        (
            {"total_porosity": "0.83"},
            "total_porosity is 0.83, but the voids and the pores inside grains make 0.79",
        ),
        ({"water_at_100cm": "0.36"}, "water_at_100cm (0.36) is above water_at_10cm (0.345)"),
        (
            {"container_capacity_7p6cm": "0.8"},
            "container_capacity_7p6cm (0.8) is above total_porosity (0.79)",
        ),
        ({"dry_bulk_density_g_cm3": "-0.18"}, "dry_bulk_density_g_cm3 is -0.18; it must be above 0"),
        ({"dry_bulk_density_g_cm3": "nan"}, "dry_bulk_density_g_cm3 is “nan”; it must be a number"),
        ({"water_at_10cm": ""}, "water_at_10cm is “”; it must be a number"),
        ({"water_at_10cm_low": "1.2"}, "water_at_10cm_low is 1.2; it must be from 0 to below 1"),
        ({"size_low_mm": "13"}, "size_low_mm (13) is above d50_mm (3)"),
        (
            {"dry_bulk_density_g_cm3": "0.25"},
            "dry_bulk_density_g_cm3 (0.25) is above dry_bulk_density_high_g_cm3 (0.22)",
        ),
        ({"air_space_7p6cm": "0.4"}, "water and air in a 7.6 cm core make 0.867, not 0.79"),
        ({"dry_bulk_density_g_cm3": "0.2"}, "total_porosity is 0.79, but density leaves 0.7666"),
        (
            {"true_solid_density_g_cm3": "0.8"},
            "effective_solid_density_g_cm3 (0.857) is above true_solid_density_g_cm3 (0.8)",
        ),
        (
            {"total_porosity_high": "0.95"},
            "total_porosity_high is 0.95, above what its solids leave (0.8966)",
        ),
        ({"kind": "liquid"}, "kind is “liquid”; it must be one of: mineral, organic, fibrous, filler"),
        ({"ph_low": "6"}, "ph_low (6) is above ph_high (5.5)"),
    ],
)
def test_a_material_that_cannot_exist_is_refused(tables, cells, problem):
    assert refusal("materials", tables("materials", 3, **cells)) == f"materials.csv line 3: {problem}."


@pytest.mark.parametrize(
    ("cells", "problem"),
    [
        (
            {"alpha_ext_per_cm": "4"},
            "the curve holds 0.3014 at 10 cm, not 0.345; 0.003 is allowed",
        ),
        ({"key": "NOTHING"}, "no material has the key “NOTHING”"),
        ({"void_fraction": "0.7"}, "void_fraction is 0.7, but the material has 0.625"),
        (
            {"void_fraction_single_size": "0.6"},
            "void_fraction_single_size must be from void_fraction to below 1",
        ),
        ({"sub_size_2_mm": "9"}, "the five sub-grade sizes must be above 0 and rise"),
        ({"n_ext": "1"}, "n_ext must be above 1"),
        ({"alpha_int_per_cm": "0"}, "alpha_int_per_cm must be above 0"),
        ({"overlap_loss": "1.5"}, "overlap_loss must be from 0 to 1"),
    ],
)
def test_a_curve_off_its_material_is_refused(tables, cells, problem):
    # The curve worked by hand, alpha 4 and 0.000571, n 1.412 and 1.1234, s = 10 cm:
    # 0.625 (1 + 182.86)^-0.29178 + 0.375 x 0.44 (1 + 0.00302)^-0.10985 = 0.1365 + 0.1649 = 0.3014
    assert refusal("retention", tables("retention", 3, **cells)) == f"retention.csv line 3: {problem}."


def test_every_row_of_every_table_is_accepted():
    counts = {path.stem: len(read_table(path.stem)) for path in TABLES.glob("*.csv")}

    assert counts["materials"] == counts["retention"] == 60
    assert counts["recipes"] == 56
    assert counts["containers"] == 95
    assert all(counts.values())
