"""What the sixty materials say of themselves holds together."""

import subprocess
import sys

import numpy as np
import pytest

from friable.reference.load import read_table
from friable.reference.materials import GROUPS, all_materials, find_material
from friable.reference.plausible import water_left
from friable.reference.sources import TABLES, source
from friable.science.retention import saturation

MATERIALS = all_materials()
EACH = pytest.mark.parametrize("material", MATERIALS, ids=lambda material: material.key)


def water(material, suction_cm):
    """Water left at suctions, by the arrays of the science. [m³ m⁻³]"""
    p = material.physics
    outer = p.void_fraction * saturation(suction_cm, p.alpha_ext_per_cm, p.n_ext)
    inner = (1 - p.void_fraction) * p.internal_porosity * saturation(suction_cm, p.alpha_int_per_cm, p.n_int)
    return outer + inner


@EACH
def test_pores_are_voids_and_pores_inside_grains(material):
    # three figures printed to 0.001-0.005
    assert material.physics.total_porosity == pytest.approx(material.total_porosity.value, abs=0.003)


@EACH
def test_water_never_rises_with_suction_nor_exceeds_the_pores(material):
    held = water(material, np.logspace(-2, 5, 200))

    assert np.all(np.diff(held) <= 0)
    assert held[0] <= material.physics.total_porosity
    assert held[-1] >= 0


@EACH
def test_the_curve_meets_the_table(material):
    # the fit was left off by up to 0.003 to 100 cm, and 0.0045 at 15,000 cm, where most figures are memory
    assert water(material, 10) == pytest.approx(material.water_at_10cm.value, abs=0.003)
    assert water(material, 100) == pytest.approx(material.water_at_100cm.value, abs=0.003)
    assert water(material, 15000) == pytest.approx(material.water_at_15000cm.value, abs=0.0045)


@EACH
def test_container_capacity_is_the_mean_of_the_curve_over_a_drained_core(material):
    # A drained core of height H: suction at height z is z. Midpoints of 2000 slices. Printed to 0.001.
    curve = next(row for row in read_table("retention") if row["key"] == material.key)
    for height_cm, column in ((3.8, "3p8"), (7.6, "7p6"), (15.2, "15p2")):
        heights = (np.arange(2000) + 0.5) * height_cm / 2000
        mean = float(np.mean(water(material, heights)))
        assert mean == pytest.approx(curve.number(f"container_capacity_{column}cm"), abs=0.0016)
    heights = (np.arange(2000) + 0.5) * 7.6 / 2000
    assert np.mean(water(material, heights)) == pytest.approx(
        material.container_capacity_7p6cm.value, abs=0.0016
    )


@EACH
def test_water_and_air_make_the_pores(material):
    held = material.container_capacity_7p6cm.value + material.air_space_7p6cm.value

    assert held == pytest.approx(material.total_porosity.value, abs=0.003)


@EACH
def test_every_range_holds_its_value_and_every_figure_its_source(material):
    for estimate in (
        material.dry_bulk_density_g_cm3, material.total_porosity, material.water_at_10cm,
        material.water_at_100cm, material.water_at_15000cm, material.container_capacity_7p6cm,
        material.air_space_7p6cm,
    ):  # fmt: skip
        assert estimate.low <= estimate.value <= estimate.high
        assert estimate.low < estimate.high
        for key in estimate.source.split(";"):
            assert source(key)
    assert [origin.group for origin in material.origins] == list(GROUPS)


@EACH
def test_grain_sizes_rise_and_stay_near_their_band(material):
    sizes = material.physics.sub_sizes_mm

    assert list(sizes) == sorted(sizes)
    assert material.size_low_mm <= material.d50_mm <= material.size_high_mm
    assert sizes[2] == pytest.approx(material.d50_mm)  # the middle of five equal shares is the median


def test_the_check_without_arrays_agrees_with_the_science():
    for row in read_table("retention"):
        material = find_material(row["key"])
        for suction_cm in (0.0, 1.0, 10.0, 316.0, 15000.0):
            assert water_left(row, suction_cm) == pytest.approx(float(water(material, suction_cm)), rel=1e-12)


def test_keys_and_titles_are_unique_and_can_stand_in_a_recipe():
    assert (
        len({material.key for material in MATERIALS}) == len({material.title for material in MATERIALS}) == 60
    )
    for material in MATERIALS:
        assert not set("+,=%;") & set(material.title)


def test_how_much_is_only_remembered_is_told_in_the_readme_of_the_tables():
    known = [origin.how_known for material in MATERIALS for origin in material.origins]

    assert len(known) == 540
    assert known.count("memory") == 311
    assert known.count("estimated") == 97
    assert known.count("published") == 96
    assert known.count("common practice") == 36
    readme = (TABLES / "README.md").read_text(encoding="utf-8")
    assert "311 are from memory" in readme
    assert "96 published" in readme


def test_looking_a_name_up_does_not_load_numpy():
    code = (
        "import sys; from friable.reference.materials import find_material; "
        "find_material('BKP_M'); print('numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "False"
