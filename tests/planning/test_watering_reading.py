"""What an answer to a watering says, from answers made up by hand."""

from dataclasses import replace

import pytest
from tests.planning.watering_asked import DRAWS, ask

from friable.planning.watering import watering_reading
from friable.science.estimate import Estimate


@pytest.fixture(scope="module")
def answer():
    return ask(DRAWS)


# --- the reading, of made-up answers ----------------------------------------------------------------


def figure(value, low=None, high=None):
    return Estimate(
        value, value if low is None else low, value if high is None else high, "computed", "by hand"
    )


def made(answer, **changes):
    plain = {
        "hours_wet": figure(0.0), "days_to_water": figure(8.3, 4.5, 17.3), "dries_within": True,
        "litres_per_watering": figure(0.259), "runs_through": figure(0.086), "litres_per_week": figure(0.2),
        "air_limit": 0.1,
    }  # fmt: skip
    return replace(answer, **plain | changes)


EVERY_8 = "Water it about every 8 days (4 to 17 days), 0.26 L at a time."
ALWAYS = "The roots always have 10 % air or more."


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({}, f"{EVERY_8} About 9 % of that runs through. {ALWAYS}"),
        ({"runs_through": figure(0.004)}, f"{EVERY_8} {ALWAYS}"),
        ({"days_to_water": figure(1.6, 1.2, 2.4), "runs_through": figure(0.0)},
         f"Water it about every 2 days (1.2 to 2 days), 0.26 L at a time. {ALWAYS}"),
        ({"days_to_water": figure(0.75, 0.5, 1.0), "runs_through": figure(0.0)},
         f"Water it about every 18 hours (12 to 24 h), 0.26 L at a time. {ALWAYS}"),
        ({"litres_per_watering": figure(0.0456), "runs_through": figure(0.0)},
         f"Water it about every 8 days (4 to 17 days), 46 mL at a time. {ALWAYS}"),
        ({"hours_wet": figure(0.4, 0.0, 5.0), "runs_through": figure(0.0)},
         f"{EVERY_8} The roots have 10 % air or more; at worst less for 5 hours after a watering."),
        ({"hours_wet": figure(12.0, 1.0, 72.0), "runs_through": figure(0.0)},
         f"{EVERY_8} After it the roots have less than 10 % air for 12 hours (1 hour to 3 days)."),
        ({"air_limit": 0.0, "hours_wet": figure(9.0), "runs_through": figure(0.0)},
         f"{EVERY_8} This plant stands it wet: no limit of air is set."),
        ({"dries_within": False, "days_to_water": figure(150.0)},
         "It never uses 50 % of its water in 150 days of this weather: watch the plant instead. " + ALWAYS),
        ({"dries_within": False, "stands_in_water": True, "days_to_water": figure(150.0),
          "litres_per_week": figure(1.234)},
         f"It needs no watering from above in 150 days; it uses 1.2 L a week. {ALWAYS}"),
    ],
)  # fmt: skip
def test_the_reading(answer, changes, sentence):
    assert watering_reading(made(answer, **changes)) == sentence
