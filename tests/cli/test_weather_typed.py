"""The weather of a command: by name or from a file, with what has to be asked asked once."""

from datetime import date

import pytest

from friable.cli.weather_typed import read_climate, read_columns, read_date, starting_on
from friable.errors import BadFile, BadText, UnknownName
from friable.planning.plain_season import plain_season


def season(name):
    return plain_season(name, 30)


def logger(header, days=3, start="2026-07-01"):
    """A logger's record: one reading an hour, warm by day."""
    rows = [header]
    for hour in range(24 * days + 1):
        day = date.fromisoformat(start).toordinal() + hour // 24
        clock = f"{date.fromordinal(day).isoformat()} {hour % 24:02d}:00"
        rows.append(f"{clock},{15 + 8 * (6 < hour % 24 < 20)},{60 + hour % 24}")
    return "\n".join(rows) + "\n"


@pytest.fixture
def file(tmp_path):
    """Return a function that writes a file and gives its name."""

    def write(text, name="shade.csv"):
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_a_season_by_its_name():
    climate = read_climate("winter cold glasshouse", season)

    assert climate.name == "cold glasshouse winter"
    assert climate.days == 30


def test_a_file_is_read_and_called_by_its_name(file):
    climate = read_climate(file(logger("Time,Temperature (°C),RH (%)")), season)

    assert climate.name == "shade.csv"
    assert climate.days == 3
    assert climate.under_glass
    assert climate.temperature_c[12] == 23


def test_a_file_may_stand_outdoors_under_a_net(file):
    climate = read_climate(
        file(logger("Time,Temperature (°C),RH (%)")), season, glass="no", light="40%", latitude="33.9 S"
    )

    assert not climate.under_glass
    assert climate.light_transmission == 0.4
    assert climate.latitude_deg == -33.9


def test_what_the_header_does_not_say_is_asked_once_and_then_read(file):
    name = file(logger("when,a,b"))
    with pytest.raises(BadFile) as refused:
        read_climate(name, season)

    sentence = str(refused.value)
    assert sentence.startswith("The weather file has the columns “when”, “a”, “b”; say ")
    assert "Answer once with --columns “" in sentence

    columns = "time=when, temperature=a, humidity=b, temperature_unit=C"
    assert read_climate(name, season, columns=columns).days == 3


def test_headers_may_hold_commas_and_equal_signs():
    said = read_columns("time=Date, Time; temperature=T = air, °C, humidity=RH")

    assert said == {"time": "Date, Time", "temperature": "T = air, °C", "humidity": "RH"}
    assert read_columns("") is None


def test_the_first_day_may_be_named_in_this_or_any_year(file):
    climate = read_climate(file(logger("Time,Temperature (°C),RH (%)")), season)

    assert starting_on(climate, date(2026, 7, 2), "--from").starts_on == date(2026, 7, 2)
    assert starting_on(climate, date(2031, 7, 3), "--from").days == 1
    with pytest.raises(BadText) as refused:
        starting_on(climate, date(2026, 8, 1), "--from")
    assert str(refused.value) == (
        "--from “2026-08-01” lies outside the weather. It runs from 2026-07-01 to 2026-07-03."
    )


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"columns": "x"}, "--columns “x” belongs to a weather file. Name one, or leave it out."),
        ({"glass": "yes"}, "--glass “yes” belongs to a weather file. Name one, or leave it out."),
        ({"light": "50%"}, "--light “50%” belongs to a weather file. Name one, or leave it out."),
        ({"latitude": "51"}, "--latitude “51” belongs to a weather file. Name one, or leave it out."),
    ],
)
def test_options_of_files_are_not_dropped_unsaid(options, sentence):
    with pytest.raises(BadText) as refused:
        read_climate("cold glasshouse winter", season, **options)

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (
            {"glass": "maybe"},
            "--glass “maybe” is neither yes nor no. Write yes for a house, no for the open.",
        ),
        ({"light": "120%"}, "--light “120%” is out of range. It must be from 0 to 100 %."),
        (
            {"latitude": "91"},
            "--latitude “91” is no latitude. Write it as 51.5, or 33.9 S, within 90 degrees.",
        ),
        (
            {"columns": "heat=a"},
            "--columns “heat=a” does not say which column is which. Write it as “time=Date Time, "
            "temperature=Temp, humidity=RH”; known are: time, temperature, humidity, date, clock, light, "
            "date_order, temperature_unit, humidity_unit, light_unit.",
        ),
        (
            {"columns": "time=nothing"},
            "The weather file has no column “nothing”; it has: Time, Temperature (°C), RH (%).",
        ),
    ],
)
def test_what_cannot_be_read_is_refused(file, options, sentence):
    with pytest.raises((BadText, BadFile)) as refused:
        read_climate(file(logger("Time,Temperature (°C),RH (%)")), season, **options)

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        (
            "none.csv",
            BadFile,
            "The weather file “none.csv” does not exist; check its name and folder.",
        ),
        ("north pole winter", UnknownName, "No season is called “north pole winter”. Nearest: "),
        ("", BadText, "--climate “” is empty. Fill it in, or leave it out."),
    ],
)
def test_weather_that_is_not_there_is_refused(text, kind, sentence):
    with pytest.raises(kind) as refused:
        read_climate(text, season)

    assert str(refused.value).startswith(sentence)


def test_a_folder_is_no_weather(tmp_path):
    with pytest.raises(BadFile, match="is a folder; name a file in it"):
        read_climate(str(tmp_path), season)


def test_ten_megabytes_are_refused(file):
    with pytest.raises(BadFile) as refused:
        read_climate(file("Time,T\n" + "x" * 9_000_001), season)

    assert str(refused.value).endswith("is larger than 9 MB; give one year.")


@pytest.mark.parametrize("text", ["1 July 2026", "2026-13-01", "2026-7-1", "2026-07-01T00:00", "🌱"])
def test_what_is_no_date_is_refused(text):
    with pytest.raises(BadText) as refused:
        read_date(text, "--from")

    assert str(refused.value) == f"--from “{text}” is no date. Write it as 2026-07-01."


def test_a_date():
    assert read_date("2026-07-01", "--from") == date(2026, 7, 1)
