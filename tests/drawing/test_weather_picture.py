"""The picture of a climate: three panels, every spell in each, no style and no script."""

from datetime import date, timedelta
from xml.etree import ElementTree as ET

import pytest

from friable.drawing.weather_picture import Spell, weather_picture_svg
from friable.errors import BadQuantity

SVG = "{http://www.w3.org/2000/svg}"


def spells(count, **changes):
    values = {
        "coldest_c": 4.0,
        "mean_c": 11.0,
        "warmest_c": 19.0,
        "relative_humidity": 0.8,
        "reference_mm": 1.2,
    }
    first = date(2026, 1, 1)
    return [Spell(first + timedelta(days=7 * n), **{**values, **changes}) for n in range(count)]


def test_each_week_has_its_span_and_its_loss():
    root = ET.fromstring(weather_picture_svg(spells(52), title="house 2"))  # noqa: S314 - our own

    assert root.get("aria-label") == "house 2"
    assert len(root.findall(f"{SVG}rect")) == 52
    words = [one.text for one in root.iter(f"{SVG}text")]
    assert {"Jan", "Jul", "Dec", "100", "Humidity, %: mean"} <= set(words)
    text = weather_picture_svg(spells(52), title="a<b")
    assert "style" not in text
    assert "<script" not in text


def test_a_degree_stands_where_its_scale_says():
    # 4 to 19 degrees on an axis from 0 to 20: by hand, 104 px for 20 degrees, 26 px above the panel.
    root = ET.fromstring(weather_picture_svg(spells(1), title="one day"))  # noqa: S314 - our own
    span = next(one for one in root.findall(f"{SVG}line") if one.get("x1") == one.get("x2"))

    assert float(span.get("y2")) == pytest.approx(26 + 104 * (1 - 19 / 20))
    assert float(span.get("y1")) == pytest.approx(26 + 104 * (1 - 4 / 20))


@pytest.mark.parametrize(
    "changes", [{"coldest_c": 7.0, "mean_c": 7.0, "warmest_c": 7.0}, {"reference_mm": 0.0}]
)
def test_flat_weather_can_be_drawn(changes):
    assert "nan" not in weather_picture_svg(spells(10, **changes), title="flat")


@pytest.mark.parametrize("count", [0, 401])
def test_no_weather_and_too_much_are_refused(count):
    with pytest.raises(BadQuantity, match="days or weeks in a picture"):
        weather_picture_svg(spells(count), title="x")
