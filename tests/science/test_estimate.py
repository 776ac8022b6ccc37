"""A figure with its range and its origin."""

import math

import pytest

from friable.errors import BadQuantity
from friable.science.estimate import Estimate


def test_a_figure_goes_out_under_five_names():
    figure = Estimate(0.3, 0.2, 0.4, "measured", "here")

    assert figure.to_json() == {
        "value": 0.3, "low": 0.2, "high": 0.4, "how_known": "measured", "source": "here",
    }  # fmt: skip
    assert Estimate.exact(0.3, "published", "x").low == 0.3


@pytest.mark.parametrize(
    ("value", "low", "high", "sentence"),
    [
        (0.5, 0.6, 0.7, "an estimate is 0.5; it must be between 0.6 and 0.7."),
        (math.nan, 0.1, 0.2, "an estimate is not a number; it must be a finite number."),
        (0.1, 0.0, math.inf, "an estimate is not a number; it must be a finite number."),
    ],
)
def test_a_figure_outside_its_range_is_refused(value, low, high, sentence):
    with pytest.raises(BadQuantity) as refused:
        Estimate(value, low, high, "measured", "here")

    assert str(refused.value) == sentence


def test_an_origin_nobody_knows_is_a_bug():
    with pytest.raises(ValueError, match="how_known is 'guessed'"):
        Estimate(0.3, 0.2, 0.4, "guessed", "here")
