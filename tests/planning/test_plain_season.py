"""Built-in seasons and years, and the variants of a year."""

from datetime import date

import numpy as np
import pytest

from friable.errors import AmbiguousName, BadQuantity, UnknownName
from friable.planning.plain_season import plain_season, plain_year
from friable.planning.weather_variants import SPELL_DAYS, WITHIN_DAYS, spells, year_of_weathers
from friable.reference.seasons import all_seasons, find_season, houses


@pytest.mark.parametrize("season", all_seasons(), ids=lambda season: season.name)
def test_every_season_gives_the_figures_of_its_row(season):
    climate = plain_season(season.name, days=30)

    assert climate.days == 30
    assert climate.temperature_c.mean() == pytest.approx(season.mean_c)
    swing = climate.temperature_c.max() - climate.temperature_c.min()
    assert swing == pytest.approx(season.daily_range_c * np.cos(np.pi / 24), abs=1e-6)
    assert climate.light_w_m2.sum() * 0.0036 / 30 == pytest.approx(season.light_mj_m2)
    assert climate.rain_at_plants_mm.sum() == pytest.approx(
        season.rain_mm_a_month, abs=8
    )  # within one wet day
    assert climate.under_glass is season.under_glass
    assert climate.how_known == "memory"
    assert climate.notes[0].startswith("A built-in season from memory, of no real place: ")


def test_every_house_has_four_seasons_and_loses_more_in_summer():
    for house in houses():
        lost = {
            season: plain_season(f"{house} {season}").reference_mm.sum()
            for season in ("winter", "spring", "summer")
        }

        assert lost["winter"] < lost["spring"] < lost["summer"]


def test_a_summer_outdoors_loses_about_what_a_mild_moist_place_does():
    # Reference evapotranspiration in July near 51° north in a mild climate: 3 to 4 mm a day (from memory).
    assert 2.7 < plain_season("outdoors summer").reference_mm.sum() / 14 < 4.3
    # A year: 500 to 650 mm (from memory).
    assert 450 < plain_year("outdoors").reference_mm.sum() < 700


def test_names_are_read_in_any_order():
    assert find_season("Summer, cold glasshouse").name == "cold glasshouse summer"
    assert find_season("cold greenhouse fall").name == "cold glasshouse autumn"
    assert find_season("tropical winter").name == "tropical house winter"
    with pytest.raises(
        AmbiguousName, match="“winter” can mean more than one season; say which: cold glasshouse winter"
    ):
        find_season("winter")
    with pytest.raises(UnknownName, match="No season is called “moon winter”"):
        find_season("moon winter")
    with pytest.raises(UnknownName, match="No house is called “submarine”"):
        plain_year("submarine")


def test_the_days_of_a_plain_season_are_all_alike_but_for_rain():
    climate = plain_season("outdoors winter", days=60, starts_on=date(2026, 1, 1))
    days = climate.temperature_c.reshape(60, 24)

    assert np.ptp(days, axis=0).max() == 0
    assert climate.starts_on == date(2026, 1, 1)
    wet = np.flatnonzero(climate.rain_mm.reshape(60, 24).sum(axis=1))
    assert np.ptp(np.diff(wet)) <= 1  # evenly spaced
    for days in (0, 367):
        with pytest.raises(BadQuantity, match=r"^days of a season is \d+; it must be from 1 to 366\.$"):
            plain_season("outdoors winter", days=days)


def test_a_year_has_its_days_and_is_the_same_each_time():
    year = plain_year("temperate glasshouse", 2028)

    assert (year.days, year.starts_on) == (366, date(2028, 1, 1))
    assert (year.temperature_c == plain_year("temperate glasshouse", 2028).temperature_c).all()
    assert (year.temperature_c != plain_year("temperate glasshouse", 2028, seed=2).temperature_c).any()


def test_a_year_runs_through_its_seasons():
    # Mean of the 30 days about mid-season, within what ten or so independent spells of days leave open.
    for house in ("cold glasshouse", "outdoors"):
        many = [plain_year(house, seed=seed) for seed in range(1, 25)]
        for season, middle in (("winter", 14), ("spring", 105), ("summer", 196), ("autumn", 287)):
            row = find_season(f"{house} {season}")
            window = slice(24 * (middle - 14), 24 * (middle + 15))
            warm = np.mean([year.temperature_c[window].mean() for year in many])
            light = np.mean([year.light_w_m2[window].mean() for year in many]) * 0.0864

            assert warm == pytest.approx(row.mean_c, abs=0.6)
            assert light == pytest.approx(row.light_mj_m2, rel=0.12)


def test_the_first_weather_is_the_climate_itself_and_variants_do_not_depend_on_their_number():
    year = plain_year("outdoors")
    three, five = year_of_weathers(year, 3, seed=7), year_of_weathers(year, 5, seed=7)

    assert three[0] is year
    for ours, theirs in zip(three, five, strict=False):
        assert (ours.temperature_c == theirs.temperature_c).all()
    assert (three[1].temperature_c != three[2].temperature_c).any()
    assert three[1].starts_on == year.starts_on
    assert three[1].name == "outdoors, built-in year, weather 2"


@pytest.mark.parametrize("days", [1, 3, 14, 90, 365, 366])
def test_days_are_moved_in_whole_spells_within_their_season(days):
    chance = np.random.default_rng(3)
    for _ in range(50):
        picked = spells(days, chance)
        moved = (picked - np.arange(days) + days // 2) % days - days // 2

        assert ((picked >= 0) & (picked < days)).all()
        assert (np.abs(moved) <= WITHIN_DAYS).all()
        for first in range(0, days, SPELL_DAYS):
            spell = picked[first : first + SPELL_DAYS]
            assert (np.diff(spell) % days == 1 % days).all()


def test_a_variant_keeps_whole_days_together():
    year = plain_year("outdoors")
    variant = year_of_weathers(year, 2)[1]
    known = {tuple(day) for day in year.temperature_c.reshape(-1, 24)}

    assert {tuple(day) for day in variant.temperature_c.reshape(-1, 24)} <= known
    # Monthly means drift by no more than the season does in three weeks.
    months = [c.temperature_c[: 364 * 24].reshape(13, -1).mean(axis=1) for c in (year, variant)]
    assert np.abs(months[0] - months[1]).max() < 4


def test_impossible_numbers_of_weathers_are_refused():
    with pytest.raises(BadQuantity, match=r"^number of weathers is 0; it must be from 1 to 1000\.$"):
        year_of_weathers(plain_season("outdoors summer"), 0)
    with pytest.raises(BadQuantity, match=r"^seed is -1; it must be 0 or more\.$"):
        year_of_weathers(plain_season("outdoors summer"), 1, seed=-1)
