"""Sub-grades of a size band."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.grading import sub_grades_mm
from friable.science.packing import COMPACTION_INDEX, pair_tables, single_size_packing
from strategies_science import MATERIALS

bands = st.lists(st.floats(min_value=0.01, max_value=100), min_size=3, max_size=3).map(sorted)


def test_a_band_by_hand():
    # low 1, middle 4, high 16: sigma = ln 4/1.645 = 0.84274 on both sides; 0.75 × 0.84274 × 0.5244 = 0.33145,
    # × 1.2816 / 0.5244: 0.81003. 4 e^±0.33145 = 2.8715 and 5.5720; 4 e^±0.81003 = 1.7794 and 8.9919.
    assert sub_grades_mm(1, 4, 16) == pytest.approx((1.7794, 2.8715, 4.0, 5.5720, 8.9919), abs=2e-4)


@given(bands)
def test_sizes_rise_and_stay_inside_the_band(band):
    low, middle, high = band
    sizes = sub_grades_mm(low, middle, high)

    assert list(sizes) == sorted(sizes)
    assert sizes[2] == middle
    assert low * (1 - 1e-12) <= sizes[0] <= sizes[-1] <= high * (1 + 1e-12)


@given(bands, st.floats(min_value=0.1, max_value=10))
def test_a_band_scaled_is_its_sizes_scaled(band, by):
    scaled = sub_grades_mm(*(by * size for size in band))

    assert scaled == pytest.approx([by * d for d in sub_grades_mm(*band)], rel=1e-9)


@pytest.mark.parametrize("key", MATERIALS)
def test_the_table_holds_what_the_band_gives(key):
    material = MATERIALS[key]
    sizes = sub_grades_mm(material.size_low_mm, material.d50_mm, material.size_high_mm)
    tables = pair_tables((sizes,))
    beta = float(single_size_packing(material.physics.void_fraction, tables))

    assert material.physics.sub_sizes_mm == pytest.approx(sizes, abs=6e-4)  # printed to 0.001 mm
    assert material.physics.void_fraction_single_size == pytest.approx(
        1 - beta * COMPACTION_INDEX / (COMPACTION_INDEX + 1), abs=1.1e-4
    )  # printed to four digits


@pytest.mark.parametrize(
    ("band", "sentence"),
    [
        ((0, 1, 2), "lower particle size is 0 mm; it must be above 0."),
        ((math.nan, 1, 2), "lower particle size is not a number mm; it must be above 0."),
        ((2, 1, 3), "middle particle size is 1 mm; it must be at least the lower size (2 mm)."),
        ((1, 3, 2), "upper particle size is 2 mm; it must be at least the middle size (3 mm)."),
        ((1, 3, math.inf), "upper particle size is inf mm; it must be at least the middle size (3 mm)."),
    ],
)
def test_impossible_bands_are_refused(band, sentence):
    with pytest.raises(BadQuantity) as refused:
        sub_grades_mm(*band)

    assert str(refused.value) == sentence
