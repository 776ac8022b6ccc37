"""The calendar of a season: real rows and cells, a number on each day, and words beside every mark."""

import datetime
import re
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

import pytest

from friable.drawing.season_calendar import season_calendar
from friable.errors import BadQuantity

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Figure:
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Day:
    date: datetime.date
    litres: Figure
    pots_to_water: Figure
    too_wet: Figure
    too_dry: Figure


def exact(value):
    return Figure(value, value, value)


def days(first="2026-01-01", count=365, pots=100.0, wet=0.0, dry=0.0):
    begins = datetime.date.fromisoformat(first)
    return [
        Day(
            begins + datetime.timedelta(days=i),
            Figure(pots / 4, pots / 5, pots / 2),
            Figure(pots, 0.8 * pots, 1.5 * pots),
            exact(wet),
            exact(dry),
        )
        for i in range(count)
    ]


def cells_of(calendar):
    return [c for m in calendar.months for w in m.weeks for c in w.cells if c]


def test_a_year_has_twelve_months_and_every_day_once():
    calendar = season_calendar(days())
    assert [m.name for m in calendar.months][::11] == ["January 2026", "December 2026"]
    assert [m.begins.month for m in calendar.months] == list(range(1, 13))
    assert [c.date for c in cells_of(calendar)] == [d.date for d in days()]
    assert all(len(w.cells) == 7 for m in calendar.months for w in m.weeks)


def test_weeks_begin_on_monday_and_bear_their_number():
    # 1 January 2026 is a Thursday in week 1 (ISO 8601); 1 January 2027 a Friday in week 53 of 2026.
    calendar = season_calendar(days(count=400))
    first = calendar.months[0].weeks[0]
    assert first.number == 1
    assert [c.day if c else None for c in first.cells] == [None, None, None, "1", "2", "3", "4"]
    assert calendar.months[12].weeks[0].number == 53
    assert calendar.weekdays[0] == ("Mon", "Monday")
    assert all(
        c.date.weekday() == i for m in calendar.months for w in m.weeks for i, c in enumerate(w.cells) if c
    )


def test_a_day_says_its_number_its_range_and_what_stands_wrong():
    season = days(count=31, pots=120, wet=0.124, dry=0.006)
    cell = cells_of(season_calendar(season, today=datetime.date(2026, 1, 3)))[2]
    assert (cell.figure, cell.range) == ("120", "96 to 180")
    assert [(m.kind, m.words) for m in cell.marks] == [("too wet", "wet 12 %"), ("too dry", "dry <1 %")]
    assert cell.is_today
    assert cell.spoken == (
        "today, Saturday 3 January 2026: 120 pots to water, 96 to 180, 12 % of the pots too wet, "
        "<1 % of the pots too dry."
    )


def test_a_day_on_which_nothing_is_wrong_bears_no_mark():
    cell = cells_of(season_calendar(days(count=3, wet=0.004)))[0]
    assert cell.marks == ()
    assert "wet" not in cell.spoken
    assert not cell.is_today


def test_litres_can_be_counted_instead():
    calendar = season_calendar(days(count=31), counts="litres")
    assert cells_of(calendar)[0].figure == "25"
    assert calendar.counted == "litres"
    # By hand: 31 days of 25 L.
    assert calendar.months[0].summed == "775 litres in the month"
    assert season_calendar(days(count=31)).months[0].summed == "3,100 waterings of a pot in the month"


@pytest.mark.parametrize(
    ("value", "pots", "litres"),
    [
        (0, "0", "0"),
        (0.04, "<1", "<0.1"),
        (0.26, "<1", "0.3"),
        (3.4, "3", "3.4"),
        (9.96, "10", "10"),
        (123.4, "123", "123"),
        (1234, "1,230", "1,230"),
        (99960, "100,000", "100,000"),
    ],
)
def test_numbers_have_no_more_figures_than_they_deserve(value, pots, litres):
    one = replace(days(count=1)[0], pots_to_water=exact(value), litres=exact(value))
    assert cells_of(season_calendar([one]))[0].figure == pots
    assert cells_of(season_calendar([one], counts="litres"))[0].figure == litres


def test_bars_are_to_one_scale_and_hold_the_range():
    season = [
        replace(days(count=1)[0], pots_to_water=Figure(50, 25, 100)),
        replace(days(count=2)[1], pots_to_water=Figure(100, 50, 200)),
        replace(days(count=3)[2], pots_to_water=Figure(300, 0, 0)),  # a mean may lie above its range
    ]
    widths = []
    for cell in cells_of(season_calendar(season)):
        root = ET.fromstring(cell.bar_svg)  # noqa: S314 - our own drawing
        bar = next(r for r in root.iter(SVG + "rect"))
        widths.append(float(bar.get("width")))
        for path in root.iter(SVG + "path"):
            xs = [float(x) for x in re.findall(r"[ML](-?[\d.]+)", path.get("d"))]
            assert all(0 <= x <= float(root.get("width")) for x in xs)
    assert widths[1] == pytest.approx(2 * widths[0], rel=0.01)
    assert widths[2] == pytest.approx(6 * widths[0], rel=0.01)
    assert widths[2] <= 64


def test_marks_are_hidden_from_screen_readers_need_no_id_and_no_colour():
    calendar = season_calendar(days(count=2, wet=0.2, dry=0.2), black_and_white=True)
    drawings = [svg for svg, words in calendar.key if words]
    drawings += [c.bar_svg for c in cells_of(calendar)] + [m.svg for c in cells_of(calendar) for m in c.marks]
    assert len(drawings) == 3 + 2 + 4
    for text in drawings:
        root = ET.fromstring(text)  # noqa: S314 - our own drawing
        assert root.get("aria-hidden") == "true"
        for element in root.iter():
            assert not {"id", "style"} & set(element.attrib)
            assert {element.get(a) for a in ("fill", "stroke")} <= {None, "#000000", "#ffffff", "none"}
    wet, dry = (m.svg for m in cells_of(calendar)[0].marks)
    assert "<path" in wet
    assert "<circle" not in wet
    assert "<circle" in dry


def test_a_year_without_water_is_drawn_too():
    calendar = season_calendar(days(count=2, pots=0))
    assert cells_of(calendar)[0].figure == "0"
    assert cells_of(calendar)[0].range == ""


def test_gaps_no_days_and_impossible_values_are_refused():
    season = days(count=5)
    with pytest.raises(BadQuantity, match="days of a calendar is 0"):
        season_calendar([])
    with pytest.raises(BadQuantity, match="days of a calendar is 1200"):
        season_calendar(days(count=1200))
    with pytest.raises(BadQuantity, match="between two days"):
        season_calendar([season[0], season[2]])
    for change, said in (
        ({"litres": exact(float("nan"))}, "litres of a day is not a number"),
        ({"pots_to_water": Figure(1, -1, 2)}, "pots to water is -1"),
        ({"too_wet": exact(12)}, "pots too wet is 12"),
        ({"too_dry": exact(float("nan"))}, "pots too dry is not a number"),
    ):
        with pytest.raises(BadQuantity, match=said):
            season_calendar([replace(season[0], **change)])
    with pytest.raises(BadQuantity, match="is marked"):
        season_calendar(season, told_from=0)
    with pytest.raises(ValueError, match="pots or litres"):
        season_calendar(season, counts="buckets")
