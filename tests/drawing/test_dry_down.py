"""Dry-downs carry names as data, tell choices apart without colour, and ring "water now" on the line."""

import json
from dataclasses import replace
from itertools import pairwise

import pytest

from friable.drawing.dry_down import (
    air_spec,
    dry_down_table,
    hour_of_falling_to,
    kilograms,
    mass_spec,
    water_and_air_spec,
)
from friable.drawing.time_chart import LEAST_BETWEEN_LABELS
from friable.errors import BadQuantity

from .pots import drying

HOSTILE = '{"expr": "alert(1)"}</script> \u202eevil'


def flat(layer_list):
    for layer in layer_list:
        yield from flat(layer["layer"]) if "layer" in layer else [layer]


def marks(spec, kind):
    return [one for one in flat(spec["layer"]) if one["mark"]["type"] == kind]


def words(spec):
    return [
        row["words"]
        for layer in spec["layer"]
        for row in layer.get("data", {}).get("values", [])
        if "words" in row
    ]


def test_mass_is_drawn_in_days_with_its_range_its_full_weight_and_its_target():
    spec = mass_spec([drying()])
    rows = spec["data"]["values"]
    assert (rows[0]["at"], rows[-1]["at"]) == (0, 5)  # 120 h
    # By hand: 0.5 kg of dry mix and 2 L at 70 %, falling to 30 %.
    assert (rows[0]["value"], rows[-1]["value"]) == pytest.approx((1.9, 1.1))
    assert (rows[0]["low"], rows[0]["high"]) == pytest.approx((1.84, 1.95))
    assert {"full: 1.90 kg", "water now: 1.30 kg"} <= set(words(spec))
    (line,) = marks(spec, "line")
    assert line["encoding"]["x"]["title"] == "days after watering"
    assert line["encoding"]["color"]["legend"] is None


def test_the_ring_stands_where_the_line_reaches_the_target():
    # By hand: 1.9 kg falls to 1.1 kg in 5 days, so 1.42 kg is reached after 3 days.
    spec = mass_spec([drying(target_mass_kg=1.42)])
    (ring,) = [m for m in marks(spec, "point") if not m["mark"]["filled"]]
    assert ring["data"]["values"] == [{"at": pytest.approx(3), "value": 1.42}]
    assert "water now at 1.42 kg, 3 days after" in spec["description"]


def test_a_target_that_is_not_reached_is_said_and_not_drawn():
    spec = mass_spec([drying(target_mass_kg=1.0)])
    assert not [m for m in marks(spec, "point") if not m["mark"]["filled"]]
    assert "not reached in this time" in spec["description"]


@pytest.mark.parametrize(
    ("target", "hour"), [(10, 0.0), (9, 1.0), (5, 4.0), (4.5, 4.5), (2.0, 7.0), (1.9, None), (11, 0.0)]
)
def test_the_first_fall_counts(target, hour):
    # By hand; the curve rises between 2 and 3 hours and after 7.
    curve = [(0, 10), (1, 9), (2, 6), (3, 7), (4, 5), (5, 4), (7, 2), (8, 3)]
    assert hour_of_falling_to(curve, target) == (None if hour is None else pytest.approx(hour))


def test_a_pot_that_was_dry_when_watered_wants_water_when_it_is_dry_again():
    # By hand: dry at 0 h, full at 1 h, then 0.1 kg less every 10 h; 0.85 kg lies half way from 11 to 21 h.
    curve = [(0, 0.8), (1, 1.0), (11, 0.9), (21, 0.8)]
    assert hour_of_falling_to(curve, 0.85) == pytest.approx(16)
    assert hour_of_falling_to(curve, 0.7995) == 21  # as good as reached
    assert hour_of_falling_to(curve, 0.75) is None


@pytest.mark.parametrize(
    ("mass", "said"), [(0.7349, "0.735"), (0.9996, "1.00"), (1.304, "1.30"), (9.996, "10.0"), (23.04, "23.0")]
)
def test_masses_have_three_figures(mass, said):
    assert kilograms(mass) == said


def test_short_spells_are_told_in_hours():
    spec = air_spec([drying(hours=48)])
    (line,) = marks(spec, "line")
    assert line["encoding"]["x"]["title"] == "hours after watering"
    assert line["encoding"]["x"]["axis"]["values"] == [0, 6, 12, 18, 24, 30, 36, 42, 48]


def test_choices_differ_by_letter_dash_and_shape_not_by_colour_alone():
    choices = [drying(n, hours) for n, hours in (("a", 120), ("b", 100), ("c", 80), ("d", 140))]
    for make in (mass_spec, air_spec):
        spec = make(choices)
        (line,) = marks(spec, "line")
        shapes = next(m for m in marks(spec, "point") if m["mark"]["filled"])["encoding"]["shape"]["scale"]
        dashes = line["encoding"]["strokeDash"]["scale"]
        assert dashes["domain"] == shapes["domain"]
        assert [d.split(":")[0] for d in dashes["domain"]] == ["A", "B", "C", "D"]
        assert len({json.dumps(d) for d in dashes["range"]}) == 4
        assert len(set(shapes["range"])) == 4
        assert {"A", "B", "C", "D"} <= set(words(spec))


def test_letters_at_lines_that_end_together_stand_apart():
    spec = air_spec([drying(n) for n in ("a", "b", "c", "d")])
    labels = next(layer["data"]["values"] for layer in spec["layer"] if "label_at" in str(layer.get("data")))
    low, high = marks(spec, "line")[0]["encoding"]["y"]["scale"]["domain"]
    heights = sorted(row["label_at"] for row in labels)
    least = min(b - a for a, b in pairwise(heights))
    assert least >= 0.999 * LEAST_BETWEEN_LABELS * (high - low)
    assert low <= heights[0] <= heights[-1] <= high


def test_the_air_limit_is_a_line_with_words_where_all_have_the_same():
    assert words(air_spec([drying(), drying("b")])).count("too wet below 10 % air") == 1
    other = air_spec([drying(), drying("b", air_limit=0.2)])
    assert not [w for w in words(other) if "too wet" in w]
    assert "too wet below 20 % air" in words(water_and_air_spec(drying(air_limit=0.2)))


def test_water_and_air_stand_on_one_chart_in_per_cent():
    spec = water_and_air_spec(drying())
    lines = {r["line"] for r in spec["data"]["values"]}
    assert lines == {"water in the mix", "air in the root zone"}
    first = [r for r in spec["data"]["values"] if r["at"] == 0]
    assert [r["value"] for r in first] == pytest.approx([70, 10])
    assert {"water in the mix", "air in the root zone"} <= set(words(spec))


def test_a_name_is_only_data():
    spec = mass_spec([drying(HOSTILE), drying("b")])
    assert "\u202e" not in json.dumps(spec, ensure_ascii=False)
    outside = {k: v for k, v in spec.items() if k not in ("data", "layer", "description")}
    assert "alert" not in json.dumps(outside)
    expressions = {
        one["encoding"]["color"]["legend"]["labelExpr"]
        for one in flat(spec["layer"])
        if one["encoding"].get("color")
    }
    assert expressions == {"split(datum.label, '\\n')"}


def test_two_choices_of_one_name_stay_two():
    lines = {r["line"] for r in air_spec([drying(), drying()])["data"]["values"]}
    assert lines == {"A: bark", "B: bark (2)"}


def test_the_table_has_round_times_and_the_same_values():
    table = dry_down_table(drying(hours=240, step=1))
    assert table.headings[0] == "after watering"
    assert [row[0] for row in table.rows][:6] == [
        "at watering", "1 h after", "2 h after", "6 h after", "12 h after", "24 h after",
    ]  # fmt: skip
    assert table.rows[-1][0] == "10 days after"
    # By hand: half way 50 % water of 2 L is 1.0 L, with half a kilogram of mix 1.5 kg; 30 % air.
    half = next(row for row in table.rows if row[0] == "5 days after")
    assert half[1:] == ("1.50 (1.44 to 1.55)", "1.0 L", "50 (47 to 52)", "30 (25 to 35)")
    assert all(len(row) == len(table.headings) for row in table.rows)


def test_a_long_dry_down_keeps_to_the_rows_asked_for():
    table = dry_down_table(drying(hours=2400, step=1), most_rows=12)
    assert len(table.rows) <= 12
    assert len({row[0] for row in table.rows}) == len(table.rows)
    coarse = dry_down_table(drying(hours=96, step=24))
    assert [row[0] for row in coarse.rows] == [
        "at watering",
        "24 h after",
        "2 days after",
        "3 days after",
        "4 days after",
    ]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"water": 1.4}, "a share on a chart is 1.4"),
        ({"air_low": float("nan")}, "a share on a chart is not a number"),
        ({"mass_kg": -1.0}, "mass is -1"),
        ({"mass_high_kg": float("nan")}, "mass is not a number"),
        ({"hour": 500.0}, "hours since watering"),
    ],
)
def test_impossible_hours_are_refused(change, said):
    one = drying()
    broken = replace(one, series=(replace(one.series[0], **change), *one.series[1:]))
    for made in (lambda: mass_spec([broken]), lambda: air_spec([broken]), lambda: dry_down_table(broken)):
        with pytest.raises(BadQuantity, match=said):
            made()


def test_no_choice_five_choices_and_bare_figures_are_refused():
    for count in (0, 5):
        with pytest.raises(BadQuantity, match=f"number of choices is {count}"):
            mass_spec([drying()] * count)
    for change, said in (
        ({"series": drying().series[:1]}, "number of hours"),
        ({"medium_volume_l": 0.0}, "volume of the medium"),
        ({"target_mass_kg": float("nan")}, "weight at which to water"),
        ({"full_mass_kg": -2.0}, "full weight"),
        ({"air_limit": 10.0}, "air limit is 10"),
    ):
        with pytest.raises(BadQuantity, match=said):
            mass_spec([replace(drying(), **change)])
    with pytest.raises(BadQuantity, match="rows of a table"):
        dry_down_table(drying(), most_rows=2)
