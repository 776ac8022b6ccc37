"""Chart descriptions in the Vega-Lite 6 grammar: plain dictionaries, all names carried as data."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from friable.drawing.ink import COLOURED
from friable.drawing.legible import plain_text
from friable.errors import BadQuantity
from friable.wording import gettext as _

SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json"  # the name of the grammar; nothing is fetched
LOWEST_SUCTION_CM, HIGHEST_SUCTION_CM = 1.0, 15000.0
MOST_SERIES = 6
DASHES = ([1, 0], [9, 4], [2, 3], [12, 4, 2, 4], [5, 5], [16, 5])
SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down")
COLOURS = (COLOURED.line, COLOURED.leaf, COLOURED.earth, "#5b5b5b", "#1f4a5c", "#8a6d1f")
TYPEFACE = "Atkinson Hyperlegible Next, sans-serif"


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One point with its range: `at` is the suction or height [cm], the rest shares of bulk volume."""

    at: float
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Series:
    """One mix on a chart."""

    name: str
    points: tuple[ChartPoint, ...]


def retention_spec(series: Sequence[Series]) -> dict[str, Any]:
    """Return water against suction, suction on a logarithmic axis from 1 to 15,000 cm.

    Points below 1 cm have no place on the axis and are left out.
    """
    rows = _rows(series, lambda at: LOWEST_SUCTION_CM <= at <= HIGHEST_SUCTION_CM)
    across = {
        "field": "at",
        "type": "quantitative",
        "title": _("suction, cm of water"),
        "scale": {"type": "log", "domain": [LOWEST_SUCTION_CM, HIGHEST_SUCTION_CM], "nice": False},
        "axis": {"values": [1, 10, 50, 100, 1000, 15000], "format": ",d"},
    }
    names = ", ".join(dict.fromkeys(r["mix"] for r in rows))
    return _spec(
        rows,
        across,
        _("water, % of volume"),
        _("Water held against suction, with its range, for {names}.").format(names=names),
        [],
    )


def air_by_height_spec(series: Sequence[Series], wet_below: float | None = 0.10) -> dict[str, Any]:
    """Return air space against the height of the container; a rule marks the air below which it stays wet."""
    rows = _rows(series, lambda at: at >= 0)
    across = {
        "field": "at",
        "type": "quantitative",
        "title": _("height of the medium, cm"),
        "scale": {"zero": True, "nice": True},
        "axis": {"tickMinStep": 1},
    }
    names = ", ".join(dict.fromkeys(r["mix"] for r in rows))
    rules = [] if wet_below is None else [_rule(100 * wet_below)]
    return _spec(
        rows,
        across,
        _("air space, % of volume"),
        _("Air space against the height of the medium, with its range, for {names}.").format(names=names),
        rules,
    )


def _rows(series: Sequence[Series], is_on_axis: Callable[[float], bool]) -> list[dict[str, Any]]:
    if not 1 <= len(series) <= MOST_SERIES:
        raise BadQuantity(_("the number of mixes on a chart"), len(series), "", _("from 1 to 6"))
    rows: list[dict[str, Any]] = []
    for number, one in enumerate(series, start=1):
        name = plain_text(one.name, 60)
        if any(r["mix"] == name for r in rows):
            name = f"{name} ({number})"
        for p in one.points:
            for share in (p.value, p.low, p.high):
                if not -1e-6 <= share <= 1 + 1e-6:
                    raise BadQuantity(_("a share on a chart"), share, "", _("from 0 to 1"))
            if is_on_axis(p.at):
                rows.append(
                    {
                        "mix": name,
                        "at": p.at,
                        "value": 100 * p.value,
                        "low": 100 * p.low,
                        "high": 100 * p.high,
                    }
                )
    if not rows:
        raise BadQuantity(_("the number of points on a chart"), 0, "", _("1 or more"))
    return rows


def _spec(
    rows: list[dict[str, Any]],
    across: dict[str, Any],
    title: str,
    description: str,
    rules: list[dict[str, Any]],
) -> dict[str, Any]:
    names = list(dict.fromkeys(r["mix"] for r in rows))
    legend = {
        "title": None,
        "orient": "top",
        "symbolStrokeWidth": 0,
        "symbolSize": 160,
        "symbolOpacity": 1,
        "symbolDash": [1, 0],
        "labelLimit": 420,
        "columns": 2,
    }

    def by_mix(values: Sequence[Any]) -> Mapping[str, Any]:
        return {
            "field": "mix",
            "type": "nominal",
            "sort": names,
            "scale": {"domain": names, "range": list(values[: len(names)])},
            "legend": legend,
        }

    up = {"type": "quantitative", "title": title, "scale": {"zero": True}}
    marked = [r for index, r in enumerate(rows) if _is_marked(rows, index)]
    return {
        "$schema": SCHEMA,
        "description": description,
        "width": "container",
        "height": 320,
        "data": {"values": rows},
        "layer": [
            {
                "mark": {"type": "area", "opacity": 0.14, "interpolate": "monotone"},
                "encoding": {
                    "x": across,
                    "y": {"field": "low", **up},
                    "y2": {"field": "high"},
                    "color": by_mix(COLOURS),
                },
            },
            {
                "mark": {"type": "line", "strokeWidth": 2.5, "interpolate": "monotone"},
                "encoding": {
                    "x": across,
                    "y": {"field": "value", **up},
                    "color": by_mix(COLOURS),
                    "strokeDash": by_mix(DASHES),
                },
            },
            {
                "data": {"values": marked},
                "mark": {"type": "point", "filled": True, "size": 70, "opacity": 1},
                "encoding": {
                    "x": across,
                    "y": {"field": "value", **up},
                    "color": by_mix(COLOURS),
                    "shape": by_mix(SHAPES),
                },
            },
            *rules,
        ],
        "config": {
            "font": TYPEFACE,
            "background": COLOURED.paper,
            "axis": {
                "labelFontSize": 14,
                "titleFontSize": 14,
                "titleFontWeight": "normal",
                "gridColor": "#e4e2dc",
            },
            "legend": {"labelFontSize": 14},
            "view": {"stroke": None},
        },
    }


def _is_marked(rows: Sequence[Mapping[str, Any]], index: int) -> bool:
    """Mark about eight points of each mix, so that a shape tells the lines apart in print."""
    mine = [i for i, r in enumerate(rows) if r["mix"] == rows[index]["mix"]]
    every = max(1, len(mine) // 8)
    return (index - mine[0]) % every == every // 2


def _rule(per_cent_air: float) -> dict[str, Any]:
    words = _("stays wet below {number} % air").format(number=f"{per_cent_air:g}")
    return {
        "data": {"values": [{"air": per_cent_air, "words": words}]},
        "layer": [
            {
                "mark": {"type": "rule", "strokeDash": [2, 2], "strokeWidth": 1.5},
                "encoding": {"y": {"field": "air", "type": "quantitative"}},
            },
            {
                "mark": {"type": "text", "align": "right", "dy": -8, "fontSize": 14},
                "encoding": {
                    "x": {"value": "width"},
                    "y": {"field": "air", "type": "quantitative"},
                    "text": {"field": "words"},
                },
            },
        ],
    }
