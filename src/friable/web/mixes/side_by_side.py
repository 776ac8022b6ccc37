"""Mixes side by side: figures, pot sections and charts for each mix in each pot."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString

from friable.drawing.charts import ChartPoint, Series, air_by_height_spec, retention_spec
from friable.errors import FriableError
from friable.planning.forecast_values import Forecast
from friable.science.containers import Container
from friable.web.mixes import forecasts
from friable.web.mixes.answers import NARROW, drawing
from friable.web.mixes.compare_forms import Compared

HEIGHTS_CM = (2.0, 4.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 30.0)


@dataclass(frozen=True, slots=True)
class Cell:
    """One mix in one pot, or why it cannot be forecast."""

    pot: Container
    forecast: Forecast | None
    drawing: SafeString | str
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart with its data as rows, so that nothing has to be read off a picture."""

    key: str
    spec: dict[str, Any]
    series: Sequence[Series]


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Rows of cells, one a mix, one column a pot; and the charts of all of them."""

    rows: Sequence[tuple[Compared, Sequence[Cell]]]
    charts: Sequence[Chart]


def side_by_side(mixes: Sequence[Compared], pots: Sequence[Container]) -> SideBySide:
    """Return every mix in every pot, and the charts that stand below them."""
    rows = [
        (mix, [_cell(mix, pot, f"m{row}p{column}") for column, pot in enumerate(pots)])
        for row, mix in enumerate(mixes)
    ]
    return SideBySide(rows, [*_retention(rows), *_air_by_height(mixes, pots)])


def air_by_height(mixes: Sequence[Compared], pot: Container, key: str = "air") -> Chart:
    """Return the chart of air against the height of a pot of this shape."""
    series = [
        Series(
            mix.name,
            tuple(
                ChartPoint(*row)
                for row in forecasts.air_against_height(
                    mix.poured.parts, pot, HEIGHTS_CM, losses=mix.poured.losses
                )
            ),
        )
        for mix in mixes
    ]
    return Chart(key, air_by_height_spec(series), series)


def _cell(mix: Compared, pot: Container, key: str) -> Cell:
    try:
        found = forecasts.forecast(mix.poured.parts, pot, losses=mix.poured.losses)
        return Cell(pot, found, drawing(found, name=mix.name, key=key, width=NARROW))
    except FriableError as problem:
        return Cell(pot, None, "", str(problem))


def _retention(rows) -> list[Chart]:
    found = [(mix, cells[0].forecast) for mix, cells in rows if cells and cells[0].forecast]
    if not found:
        return []
    series = [
        Series(
            mix.name,
            tuple(ChartPoint(p.suction_cm, p.water, p.water_low, p.water_high) for p in forecast.curve),
        )
        for mix, forecast in found
    ]
    return [Chart("retention", retention_spec(series), series)]


def _air_by_height(mixes, pots) -> list[Chart]:
    return [air_by_height(mixes, pots[0])] if mixes and pots else []
