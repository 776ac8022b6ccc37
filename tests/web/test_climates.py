"""Climates in a browser without scripts: a file is read, its columns are asked for once, nothing is lost."""

import html
from io import BytesIO

import pytest
from django.urls import reverse
from tests import cast
from tests.web.conftest import text_of
from tests.web.hostile import MARKUP, TEMPLATE

from friable.records import actions
from friable.records.models import ClimateFile
from friable.records.weather import climate

pytestmark = pytest.mark.django_db

SAID = {"name": "house 2", "place": "glass", "light": "55 %"}


def logger(header="Time,Temp °C,RH %", days=3):
    """A logger's file: 10 °C by night and 20 by day, 80 % humidity."""
    lines = [header]
    for day in range(1, days + 1):
        for hour in range(24):
            celsius = 20 if 8 <= hour < 20 else 10
            lines.append(f"2026-03-{day:02d} {hour:02d}:00,{celsius},80")
    return "\n".join(lines) + "\n"


def add(client, text="", **said):
    return client.post("/climates/add", {**SAID, "text": text, **said})


def test_a_loggers_file_is_kept_and_shown(helper):
    given = BytesIO(logger().encode())
    given.name = "house.csv"
    answer = helper.post("/climates/add", {**SAID, "file": given})

    row = ClimateFile.objects.get()
    assert answer["Location"] == f"/climates/{row.pk}/"
    assert (row.kind, row.days, row.under_glass, row.added_by) == ("logger", 3, True, "JO")
    assert row.light_transmission == 0.55
    page = text_of(helper.get(f"/climates/{row.pk}/"))
    assert "house 2 is kept: 3 whole days." in page
    assert "Mean temperature" in page
    assert ">15&nbsp;<small>°C" in page  # 12 hours of 10 and 12 of 20
    assert "<svg" in page


def test_columns_are_asked_for_once_and_stay_with_the_file(helper):
    text = logger("when,sensor one,sensor two,rel. hum.").replace(",80", ",99,80")

    asked = add(helper, text)

    page = text_of(asked)
    assert asked.status_code == 422
    assert "Which column holds what" in page
    assert "sensor one" in page
    assert not ClimateFile.objects.exists()
    chosen = {
        "column-time": "when", "column-temperature": "sensor one", "column-humidity": "rel. hum.",
        "column-temperature_unit": "C", "column-humidity_unit": "%",
    }  # fmt: skip
    assert add(helper, text, **chosen).status_code == 302
    row = ClimateFile.objects.get()
    assert row.columns.get(holds="temperature").answer == "sensor one"
    assert climate(row).temperature_c.max() == 20
    assert helper.get(f"/climates/{row.pk}/").status_code == 200


def test_a_stored_climate_reads_as_it_did_when_it_was_given(helper):
    add(helper, logger("Time,Temp °C,RH %,Light W/m2").replace(",80", ",80,120"))

    assert climate(ClimateFile.objects.get()).radiation_w_m2.max() == 120


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"text": ""}, "There is no weather yet"),
        ({"text": "x" * 50}, "has no header"),
        ({"text": logger().replace("00,10,80", "00,warm,80", 1)}, "warm"),
        ({"name": ""}, "The climate has no name"),
        ({"place": ""}, "Say where the pots stand"),
        ({"light": "5"}, "Write per cent with its sign"),
        ({"light": "NaN"}, "is not a finite number"),
        ({"latitude": "north"}, "is not a plain number; write it such as 52.5"),
        ({"latitude": "91"}, "latitude is 91"),
        ({"elevation": "1e308"}, "is not a plain number"),
        ({"heated": "12"}, "Only a house that stands in the weather of a file is heated"),
        ({"text": MARKUP}, "no header"),
        ({"text": TEMPLATE}, "no header"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence_and_stays(helper, said, sentence):
    answer = add(helper, **{"text": logger(), "note": "kept note", **said})

    page = text_of(answer)
    assert answer.status_code == 422
    assert sentence in html.unescape(page)
    assert "kept note" in page
    assert "Time,Temp" in page or "text" in said
    assert "alert(1)</script>" not in page
    assert not ClimateFile.objects.exists()


def test_a_picture_is_no_weather(helper):
    given = BytesIO(b"\x89PNG\r\n\x1a\n\x00\x00")
    given.name = "leaf.png"

    answer = helper.post("/climates/add", {**SAID, "file": given})

    assert answer.status_code == 422
    assert "The weather file is not text" in text_of(answer)


def test_what_is_larger_than_a_weather_file_is_refused(helper):
    answer = helper.post("/climates/add", {**SAID, "text": "x" * 10_000_000})

    assert answer.status_code == 413
    assert "it must be at most 5 MB" in text_of(answer)
    too_long = add(helper, "x" * 4_000_001)
    assert too_long.status_code == 422
    assert "it may have 4000000. Give one year." in text_of(too_long)


def test_two_climates_have_two_names(helper):
    add(helper, logger())

    answer = add(helper, logger(), name="HOUSE 2")

    assert answer.status_code == 422
    assert "Another climate has this name" in text_of(answer)


def test_what_is_said_of_a_climate_is_changed_and_its_file_is_not(helper):
    add(helper, logger())
    row = ClimateFile.objects.get()

    helper.post(f"/climates/{row.pk}/change", {"name": "house two", "place": "outdoors", "note": "moved"})

    row.refresh_from_db()
    assert (row.name, row.under_glass, row.light_transmission) == ("house two", False, None)
    assert climate(row).under_glass is False
    helper.post(f"/climates/{row.pk}/change", {"name": "house two", "place": "glass", "retire": "1"})
    assert "house two" not in text_of(helper.get("/climates/")).split("Kept here")[1]


def test_a_stranger_looks_and_is_asked_for_initials_before_anything_is_kept(stranger):
    assert "cold glasshouse winter" in text_of(stranger.get("/climates/"))

    answer = add(stranger, logger())

    assert answer.status_code == 422
    assert "Initials are missing" in text_of(answer)
    assert add(stranger, logger(), signed_by="mk").status_code == 302
    assert ClimateFile.objects.get().added_by == "MK"


def test_nobody_may_what_the_guard_does_not_let_them(helper, monkeypatch):
    said = {"kind": "logger", "text": logger(), "starts_on": "2026-03-01", "hours": 72}
    kept = actions.add_climate("north", by=cast.KEEPER, **said)
    monkeypatch.setattr("friable.web.guard.local_person_may", lambda _act: False)

    of_it = [kept.pk]
    for name, args in (
        ("climate-list", []), ("climate-add", []), ("climate-detail", of_it), ("climate-change", of_it),
    ):  # fmt: skip
        assert helper.get(reverse(name, args=args)).status_code == 403, name
        assert helper.post(reverse(name, args=args), SAID).status_code == 403, name
    kept.refresh_from_db()
    assert kept.name == "north"


def test_a_form_from_elsewhere_is_not_taken(strict):
    assert strict.post("/climates/add", SAID).status_code == 403


def test_a_weather_file_is_carried_into_a_heated_house(helper):
    from tests.planning.epw_made import epw

    given = BytesIO(epw().encode())
    given.name = "year.epw"
    answer = helper.post(
        "/climates/add", {"name": "house in that weather", "place": "glass", "heated": "12 °C", "file": given}
    )

    row = ClimateFile.objects.get()
    assert answer["Location"] == f"/climates/{row.pk}/"
    assert (row.kind, row.days, row.heated_to_c) == ("EPW", 365, 12.0)
    kept = climate(row)
    assert kept.under_glass
    assert kept.temperature_c.min() >= 12
    assert helper.get(f"/climates/{row.pk}/").status_code == 200
    again = helper.get("/watering/", {"climate": f"stored-{row.pk}"})
    assert "house in that weather" in text_of(again)


def test_a_climate_that_a_restored_backup_put_in_its_place_is_read_afresh(helper):
    from friable.web.climates.known import climate_of

    add(helper, logger())
    first = ClimateFile.objects.get()
    assert climate_of(first).days == 3
    number, change = first.pk, first.history.get()
    first.delete()
    ClimateFile.history.all().delete()
    other = ClimateFile(pk=number, name="other", kind="logger", text=logger(days=2), starts_on="2026-03-01")
    other.hours, other.added_by, other.under_glass = 48, "MK", True
    other.save()
    other.history.update(history_id=change.history_id)

    assert climate_of(other).days == 2
