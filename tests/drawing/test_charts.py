"""Charts carry names as data, tell mixes apart without colour, and keep bands around values."""

import json

import pytest

from friable.drawing.charts import ChartPoint, Series, air_by_height_spec, retention_spec
from friable.errors import BadQuantity


def falling(name, wettest):
    """A made-up curve that halves with every tenfold suction."""
    suctions = [0, 1, 10, 100, 1000, 15000, 20000]
    values = [wettest / 2**i for i in range(len(suctions))]
    return Series(
        name, tuple(ChartPoint(s, v, 0.9 * v, 1.1 * v) for s, v in zip(suctions, values, strict=True))
    )


def layers(spec):
    return {layer["mark"]["type"]: layer["encoding"] for layer in spec["layer"] if "mark" in layer}


def test_retention_runs_from_1_to_15000_cm_on_a_log_axis_in_per_cent():
    spec = retention_spec([falling("bark", 0.8)])
    x = layers(spec)["line"]["x"]
    assert x["scale"] == {"type": "log", "domain": [1.0, 15000.0], "nice": False}
    rows = spec["data"]["values"]
    assert [r["at"] for r in rows] == [1, 10, 100, 1000, 15000]
    assert rows[0]["value"] == pytest.approx(40)
    assert all(r["low"] <= r["value"] <= r["high"] for r in rows)


def test_mixes_differ_by_dash_and_by_shape_not_by_colour_alone():
    spec = retention_spec([falling(n, 0.8) for n in ("a", "b", "c", "d", "e", "f")])
    dashes = layers(spec)["line"]["strokeDash"]["scale"]
    shapes = layers(spec)["point"]["shape"]["scale"]
    assert dashes["domain"] == shapes["domain"] == ["a", "b", "c", "d", "e", "f"]
    assert len({json.dumps(d) for d in dashes["range"]}) == 6
    assert len(set(shapes["range"])) == 6


def test_two_mixes_of_one_name_stay_two():
    rows = retention_spec([falling("bark", 0.8), falling("bark", 0.6)])["data"]["values"]
    assert {r["mix"] for r in rows} == {"bark", "bark (2)"}


def test_air_by_height_shows_band_and_threshold_in_words():
    points = tuple(ChartPoint(h, h / 100, h / 200, h / 50) for h in (4, 10, 20))
    spec = air_by_height_spec([Series("bark", points)], wet_below=0.1)
    assert layers(spec)["area"]["y2"] == {"field": "high"}
    rule = spec["layer"][-1]["data"]["values"][0]
    assert rule == {"air": 10.0, "words": "stays wet below 10 % air"}
    assert len(air_by_height_spec([Series("bark", points)], wet_below=None)["layer"]) == 3


def test_a_name_is_only_data_and_stands_in_the_description():
    name = '{"expr": "alert(1)"}</script>'
    spec = retention_spec([falling(name, 0.8)])
    assert name in spec["description"]
    assert "expr" not in json.dumps(
        {k: v for k, v in spec.items() if k not in ("data", "layer", "description")}
    )
    assert layers(spec)["line"]["color"]["scale"]["domain"] == [name]
    assert layers(spec)["line"]["color"]["field"] == "mix"


def test_too_many_mixes_no_points_and_a_share_above_1_are_refused():
    with pytest.raises(BadQuantity, match="number of mixes on a chart is 7"):
        retention_spec([falling("a", 0.8)] * 7)
    with pytest.raises(BadQuantity, match="number of points"):
        retention_spec([Series("a", ())])
    with pytest.raises(BadQuantity, match="a share on a chart is 40"):
        retention_spec([Series("a", (ChartPoint(1, 40, 30, 50),))])
    with pytest.raises(BadQuantity, match="not a number"):
        retention_spec([Series("a", (ChartPoint(1, float("nan"), 0, 0),))])
