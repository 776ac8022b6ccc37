"""The flow of water against published series of containers that drain and dry; nothing is tuned on them."""

import re
import sys
from pathlib import Path

import numpy as np
import pytest

from friable.reference.water_series import find_series

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "docs" / "science"))

import make_series

NUMBER = re.compile(r"\d+(?:\.\d+)?")


@pytest.fixture(scope="module")
def sand():
    return make_series.sand_that_dries()


@pytest.mark.parametrize("key", ["waltz-sand", "waltz-peat"])
def test_greens_drain_as_fast_as_was_published(key):
    # Waltz et al. 2003, abstract: about 75 % in the first 15 minutes, 65 % with peat.
    published = find_series(key).values[0]
    middle, low, high = make_series.range_of(make_series.drained_in_a_quarter_hour(key))

    assert low < published < high
    assert middle == pytest.approx(published, abs=0.10)


def test_with_its_own_curve_the_sand_dries_when_it_did(sand):
    # Iden et al. 2021: their data, and the curve they fitted to it.
    (half, lost), (half_here, lost_here) = sand["published"][0], sand["fitted"][0]

    assert half_here == pytest.approx(half, rel=0.10)
    assert lost_here[72] == pytest.approx(lost[72], rel=0.05)


def test_what_leaves_as_vapour_is_not_carried(sand):
    # Water under the fitted residual (0.0448 of 100 mm) leaves the published column, not ours.
    lost, lost_here = sand["published"][0][1], sand["fitted"][0][1]

    assert lost_here[-1] <= 100 * (0.2797 - 0.0448) < lost[-1] < 100 * 0.2797


def test_a_sand_with_more_pores_dries_later_and_weighing_puts_that_right(sand):
    published = sand["published"][0][0]
    unweighed = make_series.range_of([half for half, _lost in sand["ours"]])
    weighed = make_series.range_of([half for half, _lost in sand["weighed"]])

    assert unweighed[1] > published  # 44 % pores against 28 %: outside the range, as the page says
    assert weighed[1] < published < weighed[2]
    assert weighed[0] == pytest.approx(published, rel=0.15)


@pytest.mark.parametrize("key", ["poe-spring", "poe-summer"])
def test_trays_lose_as_much_in_four_weeks_as_was_published(key):
    # Poë et al. 2015, abstract: 0.6 to 1.0 mm a day in spring, 0.7 to 1.25 in summer, over nine trays.
    low, high = make_series.MEAN_LOSS_MM_D[key]
    mean = [course.lost_mm[-1] / make_series.DAYS_OF_TRAYS for course in make_series.trays_that_dry(key)]

    assert low < mean[0] < high


@pytest.mark.parametrize("key", ["poe-spring", "poe-summer"])
def test_trays_dry_more_abruptly_than_was_published(key):
    # Full demand until the surface is dry, then less than the mean of nine trays, some with plants.
    series = find_series(key)
    ran = make_series.trays_that_dry(key)
    start, week, fortnight = ([course.rate_mm_d(hour) for course in ran] for hour in series.hours)

    assert start[0] == pytest.approx(series.values[0], rel=0.01)
    assert np.min(week) < series.values[1] < np.max(week)
    assert make_series.range_of(fortnight)[2] < series.values[2]


def test_with_roots_the_spring_comes_right():
    series = find_series("poe-spring")
    ran = make_series.trays_that_dry("poe-spring", "succulents")
    _middle, low, high = make_series.range_of([course.rate_mm_d(series.hours[2]) for course in ran])

    assert low < series.values[2] < high


def test_the_page_shows_these_tables():
    # To a tenth, or one in the last place: machines differ there. Otherwise run docs/science/make_series.py.
    page = make_series.PAGE.read_text(encoding="utf-8")
    written, worked = page.partition(make_series.BEGIN)[2].partition(make_series.END)[0], make_series.tables()

    assert NUMBER.sub("0", written).split() == NUMBER.sub("0", worked).split()
    assert [float(x) for x in NUMBER.findall(written)] == pytest.approx(
        [float(x) for x in NUMBER.findall(worked)], rel=0.1, abs=1
    )
