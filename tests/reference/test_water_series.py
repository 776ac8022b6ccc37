"""Published series of drying and draining: what stands in them, and what is refused."""

import pytest

from friable.errors import UnknownName
from friable.reference import water_series
from friable.reference.row import Row
from friable.reference.water_series import all_series, find_series

GOOD = {
    "series": "waltz-sand", "kind": "drainage", "medium": "sand", "parts": "SAND_M 1", "height_cm": "30",
    "height_given": "no", "demand_mm_d": "", "demand_given": "", "base": "open", "how_known": "published",
    "source": "waltz2003", "remark": "",
}  # fmt: skip


def test_the_series_say_what_was_given_and_what_was_not():
    given = {series.key: (series.height_given, series.demand_given) for series in all_series()}

    assert given == {
        "iden-sand": (True, False),
        "poe-spring": (True, True),
        "poe-summer": (True, True),
        "waltz-sand": (False, False),
        "waltz-peat": (False, False),
    }


def test_the_sand_lost_what_its_scale_showed():
    # Iden et al. 2021, data set: 1.00 cm/d at the first reading, 0.0101 cm/d at the last, after 13.9 days.
    sand = find_series("iden-sand")

    assert (sand.height_cm, sand.base) == (10, "sealed")
    assert (sand.values[0], sand.values[-1]) == pytest.approx((10.05, 0.101), rel=1e-3)
    assert sand.hours[-1] / 24 == pytest.approx(13.9, abs=0.01)


def test_the_demand_of_the_sand_is_its_loss_while_wet():
    # Trapezoids over the published points from the sixth to the thirtieth hour.
    sand = find_series("iden-sand")
    inside = [value for hour, value in zip(sand.hours, sand.values, strict=True) if 6 <= hour <= 30]

    assert sand.demand_mm_d == pytest.approx(sum(inside) / len(inside), rel=0.02)


def test_trays_and_greens_are_as_their_abstracts_say():
    # Poë et al. 2015: 2.0, 1.4, 1.0 and 3.4, 1.0, 0.5 mm a day at the start, after 7 and 14 days, 80 mm deep.
    # Waltz et al. 2003: about 75 % of the water in the first 15 minutes, 65 % with peat.
    spring, summer = find_series("poe-spring"), find_series("poe-summer")

    assert (spring.values, summer.values) == ((2.0, 1.4, 1.0), (3.4, 1.0, 0.5))
    assert spring.hours == summer.hours == (0, 168, 336)
    assert spring.height_cm == 8
    assert (find_series("waltz-sand").values[0], find_series("waltz-peat").values[0]) == (0.75, 0.65)
    assert find_series("waltz-peat").hours[0] == 0.25


def test_an_unknown_series_is_refused():
    with pytest.raises(UnknownName, match=r"No series is called “waltz-sond”\. Nearest: waltz-sand"):
        find_series("waltz-sond")


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"kind": "wetting"}, "kind is “wetting”; it must be one of: drying, drainage"),
        ({"base": "shut"}, "base is “shut”; it must be one of: open, sealed"),
        ({"series": "none"}, "it has no points, or their hours do not rise"),
        ({"demand_mm_d": "3"}, "a drying series needs a demand above 0, a drainage series none"),
        ({"kind": "drying", "series": "poe-spring"}, "a drying series needs a demand above 0"),
        ({"height_cm": "0"}, "height_cm must be above 0"),
        ({"parts": "moon dust 1"}, "“moon dust 1” is no part: a material and a volume above 0"),
        ({"parts": "SAND_M 0"}, "“SAND_M 0” is no part: a material and a volume above 0"),
        ({"parts": "SAND_M"}, "“SAND_M” is no part: a material and a volume above 0"),
    ],
)
def test_a_series_that_cannot_be_is_refused(changes, problem):
    assert water_series._series(Row("series", 2, GOOD)).hours == (0.25, 24)

    with pytest.raises(LookupError, match=f"series.csv line 2: {problem}"):
        water_series._series(Row("series", 2, GOOD | changes))


@pytest.mark.parametrize(
    ("points", "problem"),
    [
        (((0.0, 0.0), (1.0, 1.0)), "it has no points, or their hours do not rise"),
        (((-1.0, 1.0), (1.0, 1.0)), "an hour or a value is below 0"),
        (((0.0, 1.0), (1.0, -1.0)), "an hour or a value is below 0"),
    ],
)
def test_points_out_of_order_are_refused(points, problem, monkeypatch):
    monkeypatch.setattr(water_series, "_points", lambda _row: points)

    with pytest.raises(LookupError, match=problem):
        water_series._series(Row("series", 2, GOOD))
