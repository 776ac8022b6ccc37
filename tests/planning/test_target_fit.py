"""What sources ask for, held against a forecast."""

from dataclasses import replace

import pytest

from friable.planning.forecast import forecast
from friable.planning.notation import parse_container
from friable.planning.target_fit import COMPARED, fits, uses
from friable.reference.materials import find_material
from friable.science.estimate import Estimate


@pytest.fixture(scope="module")
def found():
    return forecast([(find_material("perlite coarse"), 1.0)], parse_container("round 17/12/13 cm"), samples=0)


def with_air(found, value, low, high):
    return replace(found, air_space=Estimate(value, low, high, "computed", "test"))


def air_fit(figures, use):
    return next(fit for fit in fits(figures, use) if fit.target.quantity == "air_space")


# Air of 10 to 25 % for general pots: UC ANR, Soil mixes part 3 (ucanr3 in the bibliography).
@pytest.mark.parametrize(
    ("value", "low", "high", "verdict", "is_sure"),
    [
        (0.09, 0.06, 0.13, "below", False),
        (0.05, 0.02, 0.09, "below", True),
        (0.18, 0.13, 0.24, "within", True),
        (0.18, 0.08, 0.24, "within", False),
        (0.40, 0.30, 0.50, "above", True),
    ],
)
def test_a_forecast_lies_below_within_or_above_a_published_range(found, value, low, high, verdict, is_sure):
    fit = air_fit(with_air(found, value, low, high), "general pots")

    assert (fit.asked, fit.verdict, fit.is_sure) == ("10 to 25 %", verdict, is_sure)
    assert "Soil mixes part 3" in fit.where


def test_a_range_without_an_upper_end_has_no_above(found):
    fit = air_fit(with_air(found, 0.6, 0.5, 0.7), "retail potting mix")

    assert (fit.asked, fit.verdict) == ("at least 13 %", "within")


def test_nothing_is_asked_for_a_use_that_no_source_names(found):
    assert fits(found, "window boxes on the moon") == ()


def test_only_figures_that_are_forecast_are_compared(found):
    for use in uses():
        asked = fits(found, use)
        assert asked, use
        for fit in asked:
            assert fit.target.quantity in COMPARED
            assert fit.label
            assert fit.here
            assert fit.words
