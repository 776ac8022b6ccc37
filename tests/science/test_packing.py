"""Room that grains take together: what must hold for any sizes, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity
from friable.science.packing import (
    COMPACTION_INDEX,
    furnas_void_fraction,
    linear_packing_void_fraction,
    packed_volume,
    pair_tables,
    single_size_packing,
    sub_grade_demand,
    threshold_coarse_share,
)

# Grains from silt to lumps, voids from tight mineral packing to open bark.
sizes_mm = st.floats(min_value=0.01, max_value=50)
voids = st.floats(min_value=0.25, max_value=0.8)
envelopes = st.floats(min_value=0.01, max_value=10)
grades = st.lists(st.tuples(envelopes, voids, sizes_mm), min_size=1, max_size=6)


@given(grades)
def test_a_mix_packs_no_looser_than_its_parts_side_by_side(parts):
    envelope, void, size = (np.array(column) for column in zip(*parts, strict=True))
    apart = (envelope / (1 - void)).sum()

    together = envelope.sum() / (1 - linear_packing_void_fraction(envelope, void, size))
    assert together <= apart * (1 + 1e-9)
    assert together >= envelope.sum()


@given(grades)
def test_the_root_solves_the_packing_and_lies_above_what_any_grade_needs(parts):
    envelope, void, size = (np.array(column) for column in zip(*parts, strict=True))
    tables = pair_tables(tuple((d,) for d in size))
    beta = (1 + 1 / COMPACTION_INDEX) * (1 - void)
    volume = packed_volume(envelope, beta, tables)
    demand = sub_grade_demand(envelope, beta, tables)

    assert np.all(volume > demand)
    assert float((envelope / beta / (volume - demand)).sum()) == pytest.approx(COMPACTION_INDEX, rel=1e-9)


@given(voids, sizes_mm, st.floats(min_value=1.01, max_value=4))
def test_one_size_packing_gives_the_whole_grade_back(void, middle, step):
    tables = pair_tables((tuple(middle * step**k for k in (-2, -1, 0, 1, 2)),))
    beta = single_size_packing(void, tables)

    packed = packed_volume(np.array([1 - void]), np.array([beta]), tables)
    assert float(packed) == pytest.approx(1.0, abs=1e-9)  # the voids of 1 L are those given


def test_many_mixes_at_once_are_the_mixes_one_by_one():
    random = np.random.default_rng(5)
    tables = pair_tables(((0.1, 0.2, 0.3), (2.0, 3.0, 5.0)))
    envelope, beta = random.uniform(0, 1, (50, 2)) + 1e-3, np.array([0.7, 0.6])

    together = packed_volume(envelope, beta, tables)
    assert together == pytest.approx([float(packed_volume(row, beta, tables)) for row in envelope], rel=1e-12)


@pytest.mark.parametrize(
    ("envelope", "void", "size", "sentence"),
    [
        ([1, 1], [0.4, 1.0], [1, 2], "void fraction is 1; it must be between 0 and 1."),
        ([1, 1], [float("nan"), 0.4], [1, 2], "void fraction is not a number; it must be between 0 and 1."),
        ([1, 1], [0.4, 0.4], [1, 0], "grain size is 0 mm; it must be above 0."),
        ([1, -1], [0.4, 0.4], [1, 2], "envelope volume is -1 L; it must be 0 or more, and above 0 in all."),
        ([0, 0], [0.4, 0.4], [1, 2], "envelope volume is 0 L; it must be 0 or more, and above 0 in all."),
    ],
)
def test_impossible_grains_are_refused(envelope, void, size, sentence):
    with pytest.raises(BadQuantity) as refused:
        linear_packing_void_fraction(envelope, void, size)

    assert str(refused.value) == sentence


@pytest.mark.parametrize("coarse_share", [-0.1, 1.1, float("nan")])
def test_a_share_outside_nought_to_one_is_refused(coarse_share):
    with pytest.raises(BadQuantity, match=r"coarse share is .*; it must be from 0 to 1\."):
        furnas_void_fraction(coarse_share, 0.4, 0.5)


@pytest.mark.parametrize("void", [0.0, 1.0, float("nan")])
def test_impossible_voids_are_refused_everywhere(void):
    with pytest.raises(BadQuantity, match=r"must be between 0 and 1"):
        furnas_void_fraction(0.5, void, 0.5)
    with pytest.raises(BadQuantity, match=r"must be between 0 and 1"):
        furnas_void_fraction(0.5, 0.5, void)
    with pytest.raises(BadQuantity, match=r"void fraction of the coarse material is"):
        threshold_coarse_share(void)
    with pytest.raises(BadQuantity, match=r"must be .*between 0 and 1|above 0"):
        single_size_packing(void, pair_tables(((1.0, 2.0),)))
