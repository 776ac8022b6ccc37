"""Forecasts for the pages, kept for a while: the same mix in the same pot is asked for again and again.

A forecast carries sentences, so each is kept by the language it was made in.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from django.utils.translation import get_language

from friable.planning import forecast as planning
from friable.planning.forecast_values import Forecast
from friable.reference.materials import Material
from friable.science.containers import Container

KEPT = 256
CHART_SAMPLES = 128

Parts = Sequence[tuple[Material, float]]
Losses = Mapping[frozenset[str], float]


def forecast(
    parts: Parts,
    container: Container,
    *,
    layer_material: Material | None = None,
    losses: Losses | None = None,
) -> Forecast:
    """Return `planning.forecast.forecast` of the same arguments."""
    return _forecast(
        tuple(parts), container, layer_material, frozenset((losses or {}).items()), get_language()
    )


def air_against_height(
    parts: Parts, container: Container, heights_cm: Sequence[float], *, losses: Losses | None = None
) -> list[tuple[float, float, float, float]]:
    """Return `planning.forecast.air_against_height` of the same arguments, drawn less often."""
    return list(
        _air_against_height(tuple(parts), container, tuple(heights_cm), frozenset((losses or {}).items()))
    )


@lru_cache(maxsize=KEPT)
def _forecast(parts, container, layer_material, losses, _language) -> Forecast:
    return planning.forecast(
        parts, container, layer_material=layer_material, pair_overlap_loss=dict(losses) or None
    )


@lru_cache(maxsize=KEPT)
def _air_against_height(parts, container, heights_cm, losses):
    return tuple(
        planning.air_against_height(
            parts, container, heights_cm, samples=CHART_SAMPLES, pair_overlap_loss=dict(losses) or None
        )
    )
