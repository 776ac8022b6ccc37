"""Lines against time after watering in the Vega-Lite 6 grammar: told apart by letter, dash and shape."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from friable.drawing.charts import COLOURS, DASHES, SCHEMA, SHAPES, TYPEFACE
from friable.drawing.ink import COLOURED
from friable.drawing.legible import wrapped
from friable.wording import gettext as _

HOURS_TOLD = 72.0  # longer spells are told in days
LEAST_BETWEEN_LABELS = 0.07  # of the height of the chart
NEAR = 0.12  # of the length of the axis; labels further apart do not touch
LABELS_WITHIN = (0.28, 0.72)  # of the length of the axis, so that words stay on a narrow chart
LEGEND_WIDTH = 280.0  # px; a name wraps at it, so that it fits a narrow screen
MARKED = 8
MOST_TICKS = 10
TYPE = 14


@dataclass(frozen=True, slots=True)
class Line:
    """One line: what stands at its end, what stands in the legend, and (hour, value, low, high)."""

    label: str
    words: str
    points: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Rule:
    """A level with words, at one end of it and above or below it."""

    at: float
    words: str
    end: str  # "left" or "right"
    above: bool


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on a line that is ringed."""

    hour: float
    value: float


def time_chart(
    lines: Sequence[Line],
    *,
    title: str,
    description: str,
    rules: Sequence[Rule] = (),
    marks: Sequence[Mark] = (),
    from_zero: bool,
    has_legend: bool = True,
) -> dict[str, Any]:
    """Return the description of a chart; hours up to 72, days beyond.

    The values are taken as checked. All names are data; nothing typed becomes an expression.
    """
    longest = max(line.points[-1][0] for line in lines)
    in_days = longest > HOURS_TOLD
    unit = 24.0 if in_days else 1.0
    low, high = _domain(lines, rules, from_zero)
    across = {
        "field": "at",
        "type": "quantitative",
        "title": _("days after watering") if in_days else _("hours after watering"),
        "scale": {"domain": [0, longest / unit], "nice": False},
        "axis": {"values": _ticks(longest / unit, in_days)},
    }
    up = {
        "type": "quantitative",
        "title": title,
        "scale": {"domain": [low, high], "nice": True, "zero": False},
    }
    legend = _legend() if has_legend and len(lines) > 1 else None
    keys = ["\n".join(wrapped(line.words, TYPE, LEGEND_WIDTH, most_lines=6)) for line in lines]

    def by_line(values: Sequence[Any]) -> dict[str, Any]:
        scale = {"domain": keys, "range": list(values[: len(lines)])}
        return {"field": "line", "type": "nominal", "sort": keys, "scale": scale, "legend": legend}

    rows = [
        {"line": key, "at": hour / unit, "value": value, "low": lowest, "high": highest}
        for key, line in zip(keys, lines, strict=True)
        for hour, value, lowest, highest in line.points
    ]
    shapes = {"color": by_line(COLOURS), "shape": by_line(SHAPES)}
    return {
        "$schema": SCHEMA,
        "description": description,
        "width": "container",
        "height": 320,
        "data": {"values": rows},
        "layer": [
            {
                "mark": {"type": "area", "opacity": 0.14},
                "encoding": {
                    "x": across,
                    "y": {"field": "low", **up},
                    "y2": {"field": "high"},
                    "color": by_line(COLOURS),
                },
            },
            *(_rule(rule) for rule in rules),
            {
                "mark": {"type": "line", "strokeWidth": 2.5},
                "encoding": {
                    "x": across,
                    "y": {"field": "value", **up},
                    "color": by_line(COLOURS),
                    "strokeDash": by_line(DASHES),
                },
            },
            {
                "data": {"values": _spaced(rows, keys)},
                "mark": {"type": "point", "filled": True, "size": 60, "opacity": 1},
                "encoding": {"x": across, "y": {"field": "value", **up}, **shapes},
            },
            *_ringed(marks, unit, across, up),
            *_labels(
                _at_ends(lines, unit, low, high) if has_legend else _at_widest(lines, unit, low, high),
                across,
                up,
            ),
        ],
        "config": _config(),
    }


def _ticks(longest: float, in_days: bool) -> list[int]:
    steps = (1, 2, 5, 10, 20, 50, 100) if in_days else (1, 2, 3, 6, 12)
    step = next((s for s in steps if longest / s <= MOST_TICKS), steps[-1])
    return list(range(0, int(longest) + 1, step))


def _domain(lines: Sequence[Line], rules: Sequence[Rule], from_zero: bool) -> tuple[float, float]:
    lowest = min([p[2] for line in lines for p in line.points] + [rule.at for rule in rules])
    highest = max([p[3] for line in lines for p in line.points] + [rule.at for rule in rules])
    span = max(highest - lowest, 1e-3)
    return (0.0 if from_zero else max(0.0, lowest - 0.12 * span), highest + 0.08 * span)


def _legend() -> dict[str, Any]:
    return {
        "title": None,
        "orient": "top",
        "direction": "vertical",
        "columns": 1,
        "symbolStrokeWidth": 0,
        "symbolSize": 160,
        "symbolOpacity": 1,
        "symbolDash": [1, 0],
        "labelLimit": 0,
        "labelExpr": "split(datum.label, '\\n')",
        "rowPadding": 6,
    }


def _rule(rule: Rule) -> dict[str, Any]:
    at = {"field": "level", "type": "quantitative"}
    return {
        "data": {"values": [{"level": rule.at, "words": rule.words}]},
        "layer": [
            {"mark": {"type": "rule", "strokeDash": [2, 2], "strokeWidth": 1.5}, "encoding": {"y": at}},
            *_with_halo(
                {
                    "align": rule.end,
                    "dx": 6 if rule.end == "left" else -6,
                    "baseline": "bottom" if rule.above else "top",
                    "dy": -4 if rule.above else 5,
                },
                {"x": {"value": 0 if rule.end == "left" else "width"}, "y": at, "text": {"field": "words"}},
            ),
        ],
    }


def _spaced(rows: Sequence[dict[str, Any]], keys: Sequence[str]) -> list[dict[str, Any]]:
    """Take about eight points of each line at even times, so that a shape tells the lines apart in print."""
    taken: list[dict[str, Any]] = []
    for key in keys:
        mine = [r for r in rows if r["line"] == key]
        last = mine[-1]["at"]
        wanted = [last * (place + 0.5) / MARKED for place in range(MARKED)]
        gaps = [[abs(r["at"] - at) for r in mine] for at in wanted]
        taken += [mine[i] for i in dict.fromkeys(g.index(min(g)) for g in gaps)]
    return taken


def _ringed(
    marks: Sequence[Mark], unit: float, across: dict[str, Any], up: dict[str, Any]
) -> list[dict[str, Any]]:
    if not marks:
        return []
    rows = [{"at": m.hour / unit, "value": m.value} for m in marks]
    place = {"x": across, "y": {"field": "value", **up}}
    ring = {"type": "point", "filled": False, "size": 260, "strokeWidth": 2.5, "opacity": 1}
    return [{"data": {"values": rows}, "mark": {**ring, "color": COLOURED.line}, "encoding": place}]


def _labels(
    rows: Sequence[dict[str, Any]], across: dict[str, Any], up: dict[str, Any]
) -> list[dict[str, Any]]:
    if not rows:
        return []
    align = rows[0]["align"]  # the same for all
    layers = _with_halo(
        {"align": align, "dx": -2 if align == "right" else 0, "fontWeight": "bold"},
        {"x": across, "y": {"field": "label_at", **up}, "text": {"field": "words"}},
    )
    return [{"data": {"values": list(rows)}, **layer} for layer in layers]


def _at_ends(lines: Sequence[Line], unit: float, low: float, high: float) -> list[dict[str, Any]]:
    """Place what a line is called at its end, moved apart where lines end close together."""
    if len(lines) < 2:
        return []
    span, longest = high - low, max(line.points[-1][0] for line in lines)
    rows: list[dict[str, Any]] = []
    for line in sorted(lines, key=lambda line: line.points[-1][1]):
        hour, end = line.points[-1][:2]
        falls = end < line.points[max(0, len(line.points) - 1 - len(line.points) // 8)][1]
        at = max(low + 0.02 * span, end + (-0.08 if falls else 0.08) * span)
        near = [r["label_at"] for r in rows if abs(r["at"] * unit - hour) < NEAR * longest]
        at = max([at, *(y + LEAST_BETWEEN_LABELS * span for y in near)])
        rows.append({"at": hour / unit, "label_at": at, "words": line.label, "align": "right"})
    for place in range(len(rows) - 1, -1, -1):  # from the top down, so that none leaves the chart
        row = rows[place]
        near = [r["label_at"] for r in rows[place + 1 :] if abs(r["at"] - row["at"]) * unit < NEAR * longest]
        row["label_at"] = min([row["label_at"], high, *(y - LEAST_BETWEEN_LABELS * span for y in near)])
    return rows


def _at_widest(lines: Sequence[Line], unit: float, low: float, high: float) -> list[dict[str, Any]]:
    """Place what two lines of the same hours are called where they lie furthest apart, outside of both."""
    first, second = (line.points for line in lines)
    last = first[-1][0]
    inner = [i for i, p in enumerate(first) if LABELS_WITHIN[0] * last <= p[0] <= LABELS_WITHIN[1] * last]
    place = max(inner or range(len(first)), key=lambda i: abs(first[i][1] - second[i][1]))
    rows = []
    for line, other in zip(lines, reversed(lines), strict=True):
        value = line.points[place][1]
        side = 1 if value >= other.points[place][1] else -1
        at = min(high, max(low + 0.03 * (high - low), value + side * 0.08 * (high - low)))
        rows.append({"at": first[place][0] / unit, "label_at": at, "words": line.label, "align": "center"})
    return rows


def _with_halo(text: dict[str, Any], encoding: dict[str, Any]) -> list[dict[str, Any]]:
    """Return words twice: a rim of paper, then the ink."""
    mark = {"type": "text", "fontSize": TYPE, "color": COLOURED.line, **text}
    rim = {**mark, "color": COLOURED.paper, "stroke": COLOURED.paper, "strokeWidth": 5, "strokeJoin": "round"}
    return [{"mark": rim, "encoding": encoding}, {"mark": mark, "encoding": encoding}]


def _config() -> dict[str, Any]:
    return {
        "font": TYPEFACE,
        "background": COLOURED.paper,
        "axis": {
            "labelFontSize": TYPE,
            "titleFontSize": TYPE,
            "titleFontWeight": "normal",
            "gridColor": "#e4e2dc",
        },
        "legend": {"labelFontSize": TYPE},
        "view": {"stroke": None},
    }
