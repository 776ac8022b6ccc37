"""A trade name is a first guess: sizes where they are printed, else a range of volumes."""

import math

import pytest

from friable.errors import AmbiguousName, UnknownName
from friable.reference.containers import find_container, known_containers


@pytest.mark.parametrize(
    ("typed", "name"),
    [("2 L", "2 L"), ("C2", "2 L"), ("2 litre", "2 L"), ("P9", "9 cm"), ("9 cm", "9 cm"), ("#1", "#1"),
     ("trade gallon", "#1"), ("1 gallon", "#1"), ("4 inch", "4 in"), ("72 plug", "72 plug"),
     ("60s", "sixty (English cast)")],
)  # fmt: skip
def test_a_trade_name_is_found(typed, name):
    assert find_container(typed).name == name


def test_sizes_that_are_printed_make_a_container():
    two_litres = find_container("2 L")

    assert two_litres.container.describe() == "round 17/12/13 cm"
    # frustum: pi/12 x 13 x (17² + 17 x 12 + 12²) cm3
    assert two_litres.container.brim_volume_l == pytest.approx(math.pi / 12 * 13 * (289 + 204 + 144) / 1000)
    assert "Outside" in two_litres.note


def test_a_name_without_sizes_gives_the_range_of_all_its_sources_and_asks_for_one_to_be_weighed():
    gallon = find_container("#1")

    assert gallon.container is None
    # 2.37, 2.78, 2.84, 2.95 and 3.0 L published; 4.51 L is more than its own printed sizes can hold
    assert (gallon.volume_low_l, gallon.volume_high_l) == (2.37, 3.0)
    assert "more than its own sizes" in gallon.note
    assert "fill line" in gallon.advice


def test_printed_sizes_that_cannot_be_right_make_no_container():
    # 33/25.5/30 cm holds 20.3 L by geometry
    assert find_container("15 L").container is None


def test_plug_cells_are_marked_as_memory():
    assert find_container("288 plug").how_known == "memory"


def test_one_nominal_size_comes_in_many_volumes():
    assert (find_container("20 cm").volume_low_l, find_container("20 cm").volume_high_l) == (3.1, 5)


def test_a_name_of_several_is_asked_back_and_an_unknown_one_refused():
    with pytest.raises(AmbiguousName):
        find_container("gallon")
    with pytest.raises(UnknownName):
        find_container("bathtub")


def test_every_container_has_a_source_and_an_order():
    for known in known_containers():
        assert known.source
        assert known.volume_low_l is None or 0 < known.volume_low_l <= known.volume_high_l
        assert find_container(known.name) is known
