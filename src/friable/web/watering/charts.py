"""The dry-down of one pot or of several: mass or water against time, with the weight at which to water."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from friable.web.watering.answers import PotAnswer


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart; what it shows stands in a table beside it as well."""

    key: str
    spec: dict[str, Any]


def dry_down_charts(answers: Sequence[PotAnswer]) -> list[Chart]:
    """Return the charts of these pots."""
    return []
