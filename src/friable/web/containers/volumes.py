"""Volumes of a container: by its measures, by weighing, and by what its name promises."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.records import plain
from friable.records.models import Container as Row
from friable.reference.containers import KnownContainer
from friable.science.containers import Container
from friable.web.containers.trade_names import trade_name


@dataclass(frozen=True, slots=True)
class Volumes:
    """A container with its volumes, and what lists say of its name."""

    row: Row
    container: Container  # as filled here; scaled by the weighing if there is one
    by_measures: Container
    known: KnownContainer | None

    @property
    def is_measured(self) -> bool:
        """True if it was weighed with water here."""
        return self.row.measured_volume_l is not None


def volumes(row: Row) -> Volumes:
    """Return the volumes of one container."""
    return Volumes(row, plain.container(row), plain.container(row, measured=False), trade_name(row.name))


def all_volumes(rows: Sequence[Row]) -> list[Volumes]:
    """Return the volumes of several containers."""
    return [volumes(row) for row in rows]
