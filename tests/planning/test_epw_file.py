"""EnergyPlus weather files; the one read here is of an invented place."""

from datetime import date

import numpy as np
import pytest
from tests.planning.epw_made import HEADERS, YEAR, epw, epw_lines

from friable.errors import BadFile
from friable.planning.epw_file import looks_like_epw, read_epw
from friable.planning.weather_file import read_weather
from friable.science.evaporation import saturation_vapour_pressure_kpa

FIRST_OF_MAY = date(YEAR, 5, 1)


def refusal(text):
    with pytest.raises(BadFile) as refused:
        read_epw(text)
    return str(refused.value)


def test_a_year_is_read_by_the_numbers_of_its_fields():
    # Data dictionary of the format: fields 7 dry bulb, 9 humidity, 14 global horizontal, 22 wind, 34 rain.
    climate = read_epw(epw())

    assert (climate.days, climate.starts_on) == (365, date(YEAR, 1, 1))
    assert (climate.name, climate.latitude_deg, climate.elevation_m) == ("Quillmoor", 51.0, 80.0)
    assert climate.mean_noon_h == pytest.approx(12.2)  # 3° west of the middle of its zone: 12 minutes late
    line = 8 + 24 * 120 + 14  # 1 May, 15th hour
    cells = epw_lines()[line].split(",")
    assert cells[1:4] == ["5", "1", "15"]
    hour = 24 * 120 + 14
    assert climate.temperature_c[hour] == float(cells[6])
    assert climate.relative_humidity[hour] == float(cells[8]) / 100
    assert climate.radiation_w_m2[hour] == float(cells[13])
    # FAO-56 eq. 47 from 10 m, by hand: 4 * 4.87 / ln(672.58) = 2.9920.
    assert climate.wind_m_s[hour] == pytest.approx(2.992, abs=0.001)
    assert climate.rain_mm.sum() == pytest.approx(
        1.5 * sum(cells.split(",")[33] == "1.5" for cells in epw_lines()[8:])
    )
    assert not climate.under_glass
    assert climate.notes == ()
    assert 300 < climate.reference_mm.sum() < 1200


def test_a_leap_year_has_its_day():
    assert read_epw(epw(year=2024)).days == 366
    assert read_epw(epw(year=2024)).starts_on == date(2024, 1, 1)


def test_a_year_put_together_from_several_is_read_as_one():
    # 8,760 hours of which the first is of a leap year.
    lines = epw_lines()
    lines[8:] = ["2020" + line[4:] for line in lines[8:]]

    assert read_epw("\n".join(lines)).starts_on == date(2001, 1, 1)


def test_codes_for_missing_are_gaps_and_short_ones_are_filled_and_told():
    change = {(FIRST_OF_MAY, hour): {"f6": "99.9"} for hour in (3, 4, 5)}
    change[(FIRST_OF_MAY, 12)] = {"f13": "9999"}
    change[(FIRST_OF_MAY, 13)] = {"f33": "999"}
    climate = read_epw(epw(change=change))
    whole = read_epw(epw())

    start = 24 * 120
    filled = climate.temperature_c[start + 2 : start + 5]
    before, after = whole.temperature_c[start + 1], whole.temperature_c[start + 5]
    assert filled == pytest.approx(before + (after - before) * np.array([0.25, 0.5, 0.75]))
    assert climate.notes == (
        "3 hours without temperature were filled in from the hours around them.",
        "1 hours without light were filled in from the hours around them.",
        "1 hours without a figure for rain were taken as dry.",
    )


def test_a_longer_gap_is_refused_with_its_place():
    change = {(FIRST_OF_MAY, hour): {"f6": "99.9"} for hour in (3, 4, 5, 6)}

    assert refusal(epw(change=change)) == (
        "From 2023-05-01 02:00 to 2023-05-01 06:00 (4 hours) the weather file has no temperature; only gaps"
        " of up to 3 hours are filled. Give a file without the gap, or the part before or after."
    )


def test_missing_humidity_is_worked_out_from_the_dew_point():
    change = {(FIRST_OF_MAY, hour): {"f8": "999", "f7": "6.0"} for hour in range(1, 25)}
    climate = read_epw(epw(change=change))

    day = slice(24 * 120, 24 * 121)
    expected = saturation_vapour_pressure_kpa(6.0) / saturation_vapour_pressure_kpa(
        climate.temperature_c[day]
    )
    assert climate.relative_humidity[day] == pytest.approx(np.minimum(expected, 1))
    assert "24 hours of humidity were worked out from the dew point." in climate.notes


def test_a_file_without_light_guesses_it_and_one_without_wind_takes_the_usual():
    lines = epw_lines()
    for place, line in enumerate(lines[8:], start=8):
        cells = line.split(",")
        cells[13], cells[21], cells[33] = "9999", "999", "0"
        lines[place] = ",".join(cells)
    climate = read_epw("\n".join(lines))

    assert climate.light_known == "from temperature"
    assert climate.wind_m_s is None
    assert "The file says that it never rains; many such files leave rain out." in climate.notes
    assert np.isfinite(climate.reference_mm).all()


def test_it_is_weather_outdoors_until_it_is_brought_under_glass():
    outdoors, inside = (
        read_weather(epw()),
        read_weather(epw().encode(), under_glass=True, light_transmission=0.5),
    )

    assert looks_like_epw(epw())
    assert (outdoors.under_glass, inside.under_glass) == (False, True)
    assert inside.light_w_m2.sum() == pytest.approx(0.5 * outdoors.light_w_m2.sum())
    assert inside.rain_at_plants_mm.sum() == 0


def changed(number, text):
    lines = epw_lines()
    lines[number - 1] = text
    return "\n".join(lines)


def with_field(place, text):
    return epw(change={(date(YEAR, 1, 1), 1): {f"f{place}": text}})


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "\n".join(epw_lines()[:-24]),
            "The weather file has 8,736 hours; a year has 8,760 or 8,784. Give the whole file.",
        ),
        ("\n".join(HEADERS), "The weather file has 0 hours; a year has 8,760 or 8,784. Give the whole file."),
        (
            changed(4, "SOIL,0"),
            "Line 4 of the weather file begins with “SOIL”; it must begin with GROUND TEMPERATURES.",
        ),
        ("LOCATION,x", "Line 1 of the weather file: the latitude is “”; it must be from -89.9 to 89.9."),
        ("", "Line 1 of the weather file begins with “”; it must begin with LOCATION."),
        (
            changed(1, HEADERS[0].replace("51.00", "nan")),
            "Line 1 of the weather file: the latitude is “nan”; it must be from -89.9 to 89.9.",
        ),
        (
            changed(8, "DATA PERIODS,1,4,Data,Sunday,1/1,12/31"),
            "Line 8 of the weather file must announce one period with one line an hour (DATA PERIODS,1,1).",
        ),
        (
            with_field(6, "NaN"),
            "Line 9 of the weather file: field 7 is “NaN”; it must be from -60 to 70 °C.",
        ),
        (
            with_field(6, "-99.9"),
            "Line 9 of the weather file: field 7 is “-99.9”; it must be from -60 to 70 °C.",
        ),
        (
            with_field(8, "warm"),
            "Line 9 of the weather file: field 9 is “warm”; it must be from 0 to 110 %.",
        ),
        (
            with_field(3, "2"),
            "Line 9 of the weather file is month 1, day 1, hour 2; it must be month 1, day 1, hour 1.",
        ),
        (
            changed(9, "2023,1,1,1,0,?9,5.0"),
            "Line 9 of the weather file has 7 fields; at least 22 are needed.",
        ),
        ("LOCATION\0", "The weather file is not text; give the .epw file as it was downloaded."),
        (
            "x" * 10_000_000,
            "The weather file has 10,000,000 characters; the most is 9,000,000. Give one year.",
        ),
    ],
)
def test_what_is_no_year_of_weather_is_refused_with_the_line(text, sentence):
    if text == "LOCATION,x":
        text = "\n".join(["LOCATION,x", *HEADERS[1:]])

    assert refusal(text) == sentence
