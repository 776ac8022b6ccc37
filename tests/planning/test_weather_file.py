"""Records of loggers, with whatever columns; all invented."""

from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import refusal as sentence_of

from friable.errors import BadFile
from friable.planning.logger_columns import guessed_columns
from friable.planning.logger_times import Unreadable, likelier_order, possible_orders, read_stamp
from friable.planning.weather_file import ColumnsWanted, read_logger_csv, read_weather, weather_text

START = datetime(2026, 7, 13)
PLAIN = "time,temperature (°C),humidity (%)"


def record(
    hours=48, *, header=PLAIN, start=START, step=60, stamp="%Y-%m-%d %H:%M", row="{t},{temp},{rh}", skip=()
):
    """A logger's file of our own making: temperature is the hour of the day, humidity 50 and the hour."""
    lines = [header]
    for number in range(hours * 60 // step):
        time = start + timedelta(minutes=number * step)
        if (time - start) // timedelta(hours=1) in skip:
            continue
        lines.append(
            row.format(t=time.strftime(stamp), temp=time.hour, rh=50 + time.hour, f=time.hour * 1.8 + 32)
        )
    return "\n".join(lines) + "\n"


def refusal(text, columns=None):
    with pytest.raises(BadFile) as refused:
        read_logger_csv(text, columns)
    return str(refused.value)


def test_a_plain_record_is_read_without_a_question():
    climate = read_logger_csv(record(), name="house 2", latitude_deg=51)

    assert (climate.name, climate.starts_on, climate.days) == ("house 2", START.date(), 2)
    assert climate.temperature_c.tolist() == list(range(24)) * 2
    assert climate.relative_humidity[5] == pytest.approx(0.55)
    assert (climate.how_known, climate.under_glass, climate.light_known) == (
        "measured",
        True,
        "from temperature",
    )
    assert climate.light_transmission == 0.6  # clean glass, by the table
    assert climate.notes == (
        "Read: time from “time”, temperature from “temperature (°C)” (°C), humidity from “humidity (%)”.",
    )


def test_readings_every_five_minutes_become_hourly_means():
    lines = [PLAIN]
    for number in range(24 * 12):
        time = START + timedelta(minutes=5 * number)
        lines.append(f"{time:%Y-%m-%dT%H:%M:%S},{time.hour + time.minute / 60:.4f},60")
    climate = read_logger_csv("\n".join(lines))

    # Minutes 0, 5, ... 55 of an hour average 27.5 minutes past.
    assert climate.temperature_c == pytest.approx(np.arange(24) + 27.5 / 60, abs=1e-4)


@pytest.mark.parametrize(
    ("header", "row"),
    [
        ("Zeitstempel;Temperatur [°C];Feuchte [%]", "{t};{temp},0;{rh},0"),
        ("Timestamp\tAir Temp (C)\tRH %\tDew point (C)", "{t}\t{temp}\t{rh}\t5"),
        ('"#","Date Time","Temp, °F","RH, %","Host Connected"', "1,{t},{f},{rh},"),
        ("id,recorded_at,temp_c,rh_pct", "7,{t},{temp},{rh}"),
    ],
)
def test_columns_are_recognised_by_what_they_are_called(header, row):
    climate = read_logger_csv(record(header=header, row=row))

    assert climate.temperature_c == pytest.approx(list(range(24)) * 2)
    assert climate.relative_humidity[:3] == pytest.approx([0.50, 0.51, 0.52])


@pytest.mark.parametrize(
    ("headers", "meant"),
    [
        ("Date/Time|Temperature_Celsius(℃)|Relative_Humidity(%)", (0, 1, 2)),
        ("Index|Time|Celsius(°C)|Humidity(%rh)|Dew Point(°C)", (1, 2, 3)),
        ("created_at|Air temperature °C|Soil temperature °C|RH %", (0, 1, 3)),
        ("time|max temp °C|min temp °C|mean temp °C|rh %", (0, 3, 4)),
        ("Fecha y hora|Temperatura|Humedad relativa", (0, 1, 2)),
        ("ts|TempOut|OutHum|battery", (0, 1, 2)),
    ],
)
def test_headers_of_many_makes_are_understood(headers, meant):
    columns = headers.split("|")
    guess, unsure = guessed_columns(columns)

    assert unsure == []
    assert tuple(columns.index(guess[key]) for key in ("time", "temperature", "humidity")) == meant


def test_lines_above_the_header_are_passed_over_and_date_and_clock_may_stand_apart():
    text = record(
        header="Serial number: 0001\nHouse 2, bench 4\n\nDate,Time,Temp (°C),RH (%)",
        stamp="%Y-%m-%d,%H:%M:%S",
    )

    assert read_logger_csv(text).days == 2


def test_what_the_headers_do_not_say_is_asked_once():
    text = record(header="when,value 1,value 2", stamp="%d/%m/%Y %H:%M", start=datetime(2026, 7, 3))
    with pytest.raises(ColumnsWanted) as asked:
        read_logger_csv(text)

    assert asked.value.headers == ("when", "value 1", "value 2")
    assert asked.value.asked == ("time", "temperature", "humidity")
    assert asked.value.sample[0] == ("03/07/2026 00:00", "0", "50")
    assert str(asked.value) == (
        "The weather file has the columns “when”, “value 1”, “value 2”; say which holds date and time;"
        " which holds the temperature of the air; which holds the relative humidity."
    )

    named = {"time": "when", "temperature": "value 1", "humidity": "value 2"}
    with pytest.raises(ColumnsWanted) as asked:
        read_logger_csv(text, named)
    assert asked.value.asked == ("temperature_unit", "date_order")
    assert asked.value.guess["date_order"] == "dmy"  # the other way round the readings would leap by months

    climate = read_logger_csv(text, asked.value.guess)
    assert climate.starts_on == date(2026, 7, 3)
    assert read_logger_csv(text, named | {"temperature_unit": "F", "date_order": "dmy"}).temperature_c[
        0
    ] == pytest.approx(-17.78, abs=0.005)


def test_two_columns_that_could_be_meant_are_asked():
    with pytest.raises(ColumnsWanted) as asked:
        read_logger_csv(record(header="time,temp in (°C),temp out (°C),RH (%)", row="{t},{temp},9,{rh}"))

    assert asked.value.asked == ("temperature",)
    assert asked.value.guess["temperature"] == "temp in (°C)"


def test_light_is_read_in_its_unit():
    # From memory: about 120 lux, or 2.06 micromoles of photons, for a watt per square metre of daylight.
    for header, value, watts in (
        ("light (lux)", 24_000, 200),
        ("PPFD µmol", 412, 200),
        ("solar W/m2", 200, 200),
    ):
        climate = read_logger_csv(record(header=f"{PLAIN},{header}", row="{t},{temp},{rh}," + str(value)))

        assert climate.light_w_m2 == pytest.approx(np.full(48, watts))
        assert (climate.light_known, climate.light_transmission) == ("measured", 1)


def test_short_gaps_are_filled_and_told_and_longer_ones_refused_with_their_place():
    climate = read_logger_csv(record(skip=(10, 11, 12)))

    assert climate.temperature_c[9:14] == pytest.approx([9, 10, 11, 12, 13])
    assert "3 hours without temperature were filled in from the hours around them." in climate.notes
    assert refusal(record(skip=(10, 11, 12, 13))) == (
        "From 2026-07-13 10:00 to 2026-07-13 14:00 (4 hours) the weather file has no temperature; only gaps"
        " of up to 3 hours are filled. Give a file without the gap, or the part before or after."
    )


def test_readings_that_failed_are_gaps():
    lines = record().splitlines()
    lines[4] = "2026-07-13 03:00,NaN,--"

    climate = read_logger_csv("\n".join(lines))
    assert climate.temperature_c[3] == pytest.approx(3)
    assert climate.relative_humidity[3] == pytest.approx(0.53)


def test_part_days_at_the_ends_are_left_out_and_told():
    climate = read_logger_csv(record(hours=60, start=datetime(2026, 7, 12, 16, 7)))

    assert (climate.starts_on, climate.days) == (date(2026, 7, 13), 2)
    assert "Part days at the ends were left out: 2 whole days from 2026-07-13 are used." in climate.notes
    assert refusal(record(hours=20)) == (
        "The weather file runs from 2026-07-13 00:00 to 2026-07-13 19:00, which holds no whole day;"
        " give at least one."
    )


def test_a_clock_put_back_an_hour_is_averaged_and_told_and_a_jumble_refused():
    lines = record(hours=72).splitlines()
    again = [*lines[:28], lines[27].replace(",2,52", ",4,52"), *lines[28:]]

    climate = read_logger_csv("\n".join(again))
    assert climate.temperature_c[26] == pytest.approx(3)
    assert "Where a time stands twice or the clock went back, the readings were averaged." in climate.notes

    lines[5], lines[40] = lines[40], lines[5]
    assert refusal("\n".join(lines)) == (
        "Line 7 of the weather file: the time goes back from 2026-07-14 15:00 to 2026-07-13 05:00;"
        " sort it by time."
    )


def test_humidity_a_little_over_100_is_taken_as_100_and_told():
    text = record().replace(",73\n", ",103\n")

    climate = read_logger_csv(text)
    assert climate.relative_humidity.max() == 1
    assert "2 readings of humidity above 100 % were taken as 100 %." in climate.notes


def test_humidity_as_a_share_is_asked_when_the_header_does_not_say_per_cent():
    text = record(header="time,temp (°C),humidity", row="{t},{temp},0.5")
    with pytest.raises(ColumnsWanted) as asked:
        read_logger_csv(text)

    assert asked.value.asked == ("humidity_unit",)
    assert read_logger_csv(text, {"humidity_unit": "share"}).relative_humidity.max() == 0.5


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "The weather file is empty; give a table with time, temperature and humidity."),
        (
            "2026-07-13 00:00,20,50\n2026-07-13 01:00,20,50\n",
            "The weather file has no header above its readings; its first line names the columns.",
        ),
        (
            "only words here\n",
            "The weather file has no header above its readings; its first line names the columns.",
        ),
        (
            f"{PLAIN}\n",
            "The weather file has no header above its readings; its first line names the columns.",
        ),
        (
            record().replace(",5,55", ",warm,55"),
            "Line 7 of the weather file: the temperature “warm” is no number.",
        ),
        (
            record().replace("2026-07-13 05:00", "2026-02-30 05:00"),
            "Line 7 of the weather file: “2026-02-30 05:00” is no date with a time;"
            " write it as 2026-07-01 13:05.",
        ),
        (
            record().replace("2026-07-13 05:00", "2026-07-13"),
            "Line 7 of the weather file: “2026-07-13” is no date with a time; write it as 2026-07-01 13:05.",
        ),
        (
            record().replace(",5,55", ",inf,55"),
            "Line 7 of the weather file: the temperature “inf” is no number.",
        ),
        (
            record().replace(",5,55", ",500,55"),
            "Line 7 of the weather file: a temperature of 500 °C; it must be from -60 to 70.",
        ),
        (
            record().replace(",5,55", ",5,140"),
            "Line 7 of the weather file: a humidity of 140 %; it must be from 0 to 105.",
        ),
        (
            "x" * 10_000_000,
            "The weather file has 10,000,000 characters; the most is 9,000,000. Give one year.",
        ),
        (f"{PLAIN}\n\0", "The weather file is not text; save it as CSV."),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_line(text, sentence):
    assert refusal(text) == sentence


def test_answers_that_do_not_fit_are_refused():
    assert refusal(record(), {"temperature": "thermometer"}) == (
        "The weather file has no column “thermometer”; it has: time, temperature (°C), humidity (%)."
    )
    assert refusal(record(), {"mood": "time"}).startswith(
        "“mood” is no column of the weather; known are: time, "
    )
    assert refusal(record(), {"date_order": "ydm"}) == "date_order is “ydm”; it must be one of: dmy, mdy."


def test_bytes_are_read_as_text_or_refused():
    assert read_weather(record().encode("utf-16")).days == 2
    assert read_weather(record().encode("cp1252")).days == 2
    assert read_weather(b"\xef\xbb\xbf" + record().encode()).days == 2
    for junk in (bytes(range(256)), b"\x89PNG\r\n\x1a\n\0\0", b"PK\x03\x04" * 9, b"\xff\xfe\0"):
        with pytest.raises(
            BadFile, match=r"^The weather file is not text; give a logger's CSV or an EnergyPlus"
        ):
            weather_text(junk)
    with pytest.raises(BadFile, match=r"^The weather file has 10\.0 MB; the most is 9 MB\. Give one year\.$"):
        weather_text(b"x" * 10_000_000)


@pytest.mark.parametrize(
    ("stamp", "order", "time"),
    [
        ("2026-07-01T13:05:30Z", "dmy", datetime(2026, 7, 1, 13, 5, 30)),
        ("2026/7/1 3:05", "mdy", datetime(2026, 7, 1, 3, 5)),
        ("01/07/2026 13:05", "dmy", datetime(2026, 7, 1, 13, 5)),
        ("01/07/2026 13:05", "mdy", datetime(2026, 1, 7, 13, 5)),
        ("1.7.26 13:05", "dmy", datetime(2026, 7, 1, 13, 5)),
        ("07/01/26 01:05:00 PM", "mdy", datetime(2026, 7, 1, 13, 5)),
        ("07/01/26 12:05 am", "mdy", datetime(2026, 7, 1, 0, 5)),
        ("1-Jul-2026 13:05", "dmy", datetime(2026, 7, 1, 13, 5)),
        ("July 1, 2026 13:05", "dmy", datetime(2026, 7, 1, 13, 5)),
        ("31/12/2026 24:00", "dmy", datetime(2027, 1, 1)),
        ("2026-07-01 13:05:30.250+02:00", "dmy", datetime(2026, 7, 1, 13, 5, 30)),
    ],
)
def test_dates_are_read_as_loggers_write_them(stamp, order, time):
    assert read_stamp(stamp, order) == time


@pytest.mark.parametrize(
    "stamp",
    [
        "",
        "13:05",
        "2026-13-01 00:00",
        "1/1/2026",
        "2026-07-01 25:00",
        "1/1/2026 13:00 pm",
        "x" * 99,
        "1 Foo 2026 1:00",
    ],
)
def test_what_is_no_time_is_not_read(stamp):
    with pytest.raises(Unreadable):
        read_stamp(stamp)


def test_the_order_of_day_and_month_is_known_when_one_number_exceeds_12():
    assert possible_orders(["01/02/2026 00:00", "13/02/2026 00:00"]) == {"dmy"}
    assert possible_orders(["01/02/2026 00:00", "01/13/2026 00:00"]) == {"mdy"}
    assert possible_orders(["01/02/2026 00:00"]) == {"dmy", "mdy"}
    assert possible_orders(["01.02.2026 00:00"]) == {"dmy"}
    assert possible_orders(["2026-01-02 00:00"]) == set()
    assert likelier_order(["01/02/2026 00:00", "01/03/2026 00:00", "01/04/2026 00:00"]) == "mdy"


def test_a_year_of_five_minutes_is_within_the_limits():
    text = record(hours=24 * 365, start=datetime(2026, 1, 1), step=5)

    assert len(text) < 9_000_000
    assert read_logger_csv(text).days == 365


@given(
    st.text(max_size=300) | st.lists(st.text(",;\t0123456789.:/- temphuidy°C%\n", max_size=30)).map("\n".join)
)
def test_anything_at_all_is_read_or_refused_in_a_sentence(text):
    said = sentence_of(read_weather, text)

    assert said == "" or said.endswith(".")
    assert "\n" not in said


@given(st.binary(max_size=300))
def test_any_bytes_are_text_or_refused(data):
    said = sentence_of(weather_text, data)

    assert said == "" or "is not text" in said


def test_answering_one_question_leaves_the_other_columns_as_guessed():
    text = record(header="time,temp,RH %,light (lux)", row="{t},{temp},{rh},12000")

    climate = read_logger_csv(text, {"temperature_unit": "C"})
    assert climate.radiation_w_m2[0] == pytest.approx(100)
    named = {"time": "time", "temperature": "temp", "humidity": "RH %", "temperature_unit": "C"}
    assert read_logger_csv(text, named).radiation_w_m2 is None
