"""Windows as their pages show them: in words, with where they come from and what held before."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from friable.planning.windows import asked
from friable.records.models import GroupWindow
from friable.records.queries.windows import as_window, keepers_windows, overlaid, window_history
from friable.reference.plant_groups import PlantGroup, plant_groups
from friable.reference.windows import FLAGS, NUMBERS, Window, label

QUANTITIES = (*NUMBERS, *FLAGS)


@dataclass(frozen=True, slots=True)
class Old:
    """One thing that the keeper wrote, in words."""

    row: GroupWindow
    asked: str


@dataclass(frozen=True, slots=True)
class Line:
    """One quantity of a group: what holds, what the table says, what the keeper wrote."""

    quantity: str
    window: Window | None
    of_table: Window | None
    keepers: GroupWindow | None  # the newest row; a removed one counts as none
    old: tuple[Old, ...] = ()

    @property
    def label(self) -> str:
        """What the quantity is called."""
        return label(self.quantity)

    @property
    def asked(self) -> str:
        """What is asked, in words."""
        return asked(self.window) if self.window else ""

    @property
    def table_asks(self) -> str:
        """What the table asks, in words."""
        return asked(self.of_table) if self.of_table else ""

    @property
    def asks_nothing(self) -> bool:
        """True if the keeper says that nothing is asked."""
        return self.keepers is not None and self.keepers.asks_nothing


@dataclass(frozen=True, slots=True)
class Shown:
    """A plant group with its lines."""

    group: PlantGroup
    lines: tuple[Line, ...]

    @property
    def held(self) -> list[Line]:
        """The lines that say something: a window, or that nothing is asked."""
        return [line for line in self.lines if line.window or line.asks_nothing]

    @property
    def is_silent(self) -> bool:
        """True if no figure is known and none is set."""
        return not any(line.window for line in self.lines)


def all_shown(group: str = "") -> list[Shown]:
    """Return every group, or those of one name, with what holds; one query."""
    keepers = keepers_windows()
    of_table = {known.key: known for known in plant_groups()}
    return [
        Shown(known, _lines(known, of_table[known.key], keepers, {}))
        for known in overlaid(keepers)
        if not group or known.group == group
    ]


def one_shown(group: PlantGroup) -> Shown:
    """Return one group (as the table has it) with what holds and everything that held before."""
    old: dict[str, list[Old]] = {}
    for row in window_history(group.key):
        old.setdefault(row.quantity, []).append(Old(row, wrote(row)))
    keepers = {(group.key, quantity): rows[0].row for quantity, rows in old.items()}
    held = next(known for known in overlaid(keepers) if known.key == group.key)
    return Shown(held, _lines(held, group, keepers, old))


def wrote(row: GroupWindow) -> str:
    """Return what the keeper wrote, in words."""
    if row.removed:
        return _("taken away: what the table says holds again")
    return _("nothing is asked") if row.asks_nothing else asked(as_window(row))


def _lines(held, of_table, keepers, old):
    lines = []
    for quantity in QUANTITIES:
        row = keepers.get((held.key, quantity))
        lines.append(
            Line(
                quantity=quantity,
                window=held.window(quantity),
                of_table=of_table.window(quantity),
                keepers=None if row is None or row.removed else row,
                old=tuple(old.get(quantity, ())),
            )
        )
    return tuple(lines)
