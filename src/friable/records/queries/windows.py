"""Plant groups with the windows that hold here: those of the table, under those that the keeper set."""

from dataclasses import replace

from friable.records.models import GroupWindow
from friable.reference.plant_groups import PlantGroup, plant_groups
from friable.reference.windows import FLAGS, NUMBERS, Window

KEEPER = "keeper"


def groups() -> tuple[PlantGroup, ...]:
    """Return the plant groups, the keeper's windows laid over those of the table; one query."""
    return overlaid(keepers_windows())


def overlaid(keepers: dict[tuple[str, str], GroupWindow]) -> tuple[PlantGroup, ...]:
    """Return the plant groups with windows of the keeper (see `keepers_windows`) laid over the table's."""
    return tuple(replace(group, windows=_windows(group, keepers)) for group in plant_groups())


def keepers_windows() -> dict[tuple[str, str], GroupWindow]:
    """Return the newest row that the keeper wrote for each group and quantity; one query."""
    newest: dict[tuple[str, str], GroupWindow] = {}
    for row in GroupWindow.objects.order_by("-set_on", "-pk"):
        newest.setdefault((row.group, row.quantity), row)
    return newest


def newest_window(group: str, quantity: str) -> GroupWindow | None:
    """Return what the keeper wrote last for a group and quantity, or None."""
    return GroupWindow.objects.filter(group=group, quantity=quantity).order_by("-set_on", "-pk").first()


def window_history(group: str):
    """Everything that the keeper wrote for a group, the newest first."""
    return GroupWindow.objects.filter(group=group).order_by("-set_on", "-pk")


def as_window(row: GroupWindow) -> Window:
    """Return a row that asks something as a window."""
    return Window(
        quantity=row.quantity,
        low=row.low,
        high=row.high,
        allowed=row.allowed_words,
        how_known=KEEPER,
        source=KEEPER,
        note=row.note,
        set_on=row.set_on,
    )


def _windows(group: PlantGroup, keepers: dict[tuple[str, str], GroupWindow]) -> tuple[Window, ...]:
    """Return the windows of the table in their order, ours in their place, then what only we ask."""
    of_table = {window.quantity: window for window in group.windows}
    held = []
    for quantity in (*of_table, *(name for name in (*NUMBERS, *FLAGS) if name not in of_table)):
        row = keepers.get((group.key, quantity))
        if row is None or row.removed:
            window = of_table.get(quantity)
        else:
            window = None if row.asks_nothing else as_window(row)
        if window is not None:
            held.append(window)
    return tuple(held)
