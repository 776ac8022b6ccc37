"""Rounding once, so that what is printed adds up."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.planning.buckets import Bucket, fill
from friable.planning.rounding import add_up, rounded, step_for, whole_and_remainder

SMALL = 1e-9


def test_halves_go_up():
    assert [float(rounded(x, 0.1)) for x in (0.05, 0.15, 0.25, 0.149)] == [0.1, 0.2, 0.3, 0.1]


def test_the_largest_line_gives_way():
    # 77.74 + 15.53 + 15.53 = 108.8, while 77.7 + 15.5 + 15.5 = 108.7. By hand.
    assert add_up([77.74, 15.53, 15.53], 108.8, 0.1) == [77.8, 15.5, 15.5]


def test_thirds_add_up():
    assert sorted(add_up([10 / 3] * 3, 10, 0.1)) == [3.3, 3.3, 3.4]


@given(
    st.lists(st.floats(min_value=0, max_value=1e4), min_size=1, max_size=12),
    st.sampled_from([0.001, 0.01, 0.1, 1]),
)
def test_rounded_values_add_up_to_the_rounded_total(values, step):
    total = sum(map(rounded_exactly, values))
    printed = add_up(values, total, step)

    assert sum(printed) == pytest.approx(float(rounded(total, step)), abs=SMALL * max(1, float(total)))
    for value, print_ in zip(values, printed, strict=True):
        assert abs(value - print_) < step + SMALL


def rounded_exactly(value):
    return rounded(value, 1e-12)


@given(st.floats(min_value=0, max_value=1e5), st.floats(min_value=0.1, max_value=500))
def test_buckets_and_remainder_are_the_whole(volume, bucket):
    step = step_for(volume)
    whole, rest = whole_and_remainder(volume, bucket, step)

    assert 0 <= rest < bucket
    assert whole * bucket + rest == pytest.approx(volume, abs=step / 2 + SMALL * volume)


@pytest.mark.parametrize(
    ("volume", "words"),
    [
        (77.7, "6 and 5.7 L (half)"),
        (72, "6 to the line"),
        (71.96, "6 to the line"),
        (3, "3 L (a quarter)"),
        (73, "6 to the line, the last one 1 L above it"),
        (4.4, "4.4 L (3/8)"),
    ],
)
def test_a_volume_is_said_in_buckets(volume, words):
    # A bucket of 12 L to the line and 13.5 L to the brim; remainders by hand.
    assert fill(volume, Bucket("grey", 12, 13.5), 0.1).words == words


def test_a_brim_is_not_below_the_line():
    with pytest.raises(
        Exception, match=r"the bucket's brim is 10 L; it must be at least the line \(12 L\)\."
    ):
        Bucket("grey", 12, 10)
