"""The last day to use a mix, counted by hand on a calendar."""

from datetime import date

import pytest

from friable.errors import BadText
from friable.planning import units_in
from friable.planning.keeping import use_by


@pytest.mark.parametrize(
    ("made_on", "days", "last"),
    [
        (date(2026, 3, 1), 14, date(2026, 3, 15)),
        (date(2026, 12, 25), 14, date(2027, 1, 8)),
        (date(2028, 2, 28), 1, date(2028, 2, 29)),
        (date(2026, 3, 1), None, None),
    ],
)
def test_the_day_of_mixing_is_day_0(made_on, days, last):
    assert use_by(made_on, days) == last


@pytest.mark.parametrize(("text", "days"), [("14", 14), ("14 days", 14), ("2 weeks", 14), ("1 day", 1)])
def test_days_and_weeks_are_read(text, days):
    assert units_in.days(text).value == days


@pytest.mark.parametrize(
    "text", ["0", "1.5", "3651", "14 pots", "soon", "1e999", "-3", "1000000000000 weeks"]
)
def test_what_is_no_time_in_days_is_refused(text):
    with pytest.raises(BadText):
        units_in.days(text, "use within")


def test_the_refusal_says_what_to_do():
    with pytest.raises(BadText) as refused:
        units_in.days("0", "Use within")
    assert str(refused.value) == (
        "Use within “0” is not a whole number of days from 1 to 3650. Give one such as 14."
    )
