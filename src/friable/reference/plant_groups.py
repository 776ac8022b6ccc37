"""Groups of plants at a stage: what each is asked to stand in, in which container, watered by whom."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from friable.errors import AmbiguousName, FriableError, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.targets import TargetRange, target_ranges
from friable.reference.windows import NUMBERS, Window
from friable.reference.words import nearest, tokens
from friable.wording import gettext as _

STAGES = ("seed", "seedlings", "cuttings", "liners", "grown")
ENDS = ("both", "low", "high")  # which ends of a target range are asked
PER_CENT = "% of volume"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantGroup:
    """A group of plants at a stage. Its windows hold in the container and the care named here.

    `how_known` and `source` are of the container and the care; each window has its own. No windows: no figure
    is known.
    """

    key: str
    group: str
    stage: str
    also_called: tuple[str, ...] = ()
    container: str  # as it is typed: shape and inside sizes
    watered: str  # who and how often
    plant: str = ""  # key of a group that uses water, or ""
    windows: tuple[Window, ...] = ()
    note: str = ""
    how_known: str = "common practice"
    source: str = "none-common-practice"

    @property
    def title(self) -> str:
        """Group and stage, as in “epiphyte, grown”."""
        return f"{self.group}, {self.stage}"

    def window(self, quantity: str) -> Window | None:
        """Return the window of one quantity, if there is one."""
        return next((window for window in self.windows if window.quantity == quantity), None)


@cache
def plant_groups() -> tuple[PlantGroup, ...]:
    """Return every group with the windows of the tables.

    Raises
    ------
    LookupError
        If a row is out of order: an unknown stage, group, quantity or target, or a window set twice.
    """
    targets = {target.id: target for target in target_ranges()}
    windows: dict[str, list[Window]] = {}
    for row in read_table("group_windows"):
        own = windows.setdefault(row["group"], [])
        window = _window(row, targets)
        if any(other.quantity == window.quantity for other in own):
            raise row.refused(_("the window of {quantity} is set twice").format(quantity=window.quantity))
        own.append(window)
    found = tuple(_group(row, tuple(windows.pop(row["key"], ()))) for row in read_table("plant_groups"))
    if windows:
        raise LookupError(
            _("group_windows.csv names groups that do not exist: {keys}.").format(keys=", ".join(windows))
        )
    return found


def find_plant_group(text: str) -> PlantGroup:
    """Return the group that a text names: its title, its key, or words of it and of what else it is called.

    Raises
    ------
    UnknownName, AmbiguousName
        If no group, or more than one, is called so.
    """
    asked = tokens(text)
    groups = plant_groups()
    for found in (
        [group for group in groups if asked and asked in (tokens(group.key), tokens(group.title))],
        [group for group in groups if asked and any(asked <= words for words in _names(group))],
    ):
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousName(_("plant group"), text, [_quoted(group) for group in found])
    spellings = {
        spelling: _quoted(group)
        for group in groups
        for spelling in (group.key, group.title, group.group, *group.also_called)
    }
    near = nearest(text, spellings) or list(dict.fromkeys(group.group for group in groups))
    raise UnknownName(_("plant group"), text, near)


def _quoted(group: PlantGroup) -> str:
    return f"“{group.title}”"  # a title holds a comma


def _names(group: PlantGroup) -> tuple[frozenset[str], ...]:
    stage = tokens(group.stage)
    return tuple(tokens(name) | stage for name in (group.group, *group.also_called))


def _group(row: Row, windows: tuple[Window, ...]) -> PlantGroup:
    if row["stage"] not in STAGES:
        raise row.refused(
            _("the stage is “{stage}”; it must be one of {stages}").format(
                stage=row["stage"], stages=", ".join(STAGES)
            )
        )
    return PlantGroup(
        key=row["key"],
        group=row["group"],
        stage=row["stage"],
        also_called=row.list("also_called"),
        container=row["container"],
        watered=row["watered"],
        plant=row["plant"],
        windows=windows,
        note=row["note"],
        how_known=row["how_known"],
        source=row["source"],
    )


def _window(row: Row, targets: Mapping[str, TargetRange]) -> Window:
    """Return a window whose ends stand in the row, or in the target range that the row names."""
    low, high = row.maybe("low"), row.maybe("high")
    if row["target"]:
        low, high = _asked(row, targets)
    try:
        return Window(
            quantity=row["quantity"],
            low=low,
            high=high,
            allowed=row.list("allowed"),
            how_known=row["how_known"],
            source=row["source"],
            note=row["note"],
        )
    except FriableError as problem:
        raise row.refused(str(problem).rstrip(".")) from None


def _asked(row: Row, targets: Mapping[str, TargetRange]) -> tuple[float | None, float | None]:
    target = targets.get(row["target"])
    if target is None or target.quantity != row["quantity"] or row["quantity"] not in NUMBERS:
        raise row.refused(
            _("target {id} is no range of {quantity}").format(id=row["target"], quantity=row["quantity"])
        )
    if row["low"] or row["high"] or row["ends"] not in ENDS:
        raise row.refused(
            _("a target gives the ends; ends must be one of {words}").format(words=", ".join(ENDS))
        )
    if (row["how_known"], row["source"]) != (target.how_known, target.source):
        raise row.refused(_("target {id} is known in another way").format(id=target.id))
    per = 100.0 if target.unit == PER_CENT else 1.0
    low = None if target.low is None or row["ends"] == "high" else target.low / per
    high = None if target.high is None or row["ends"] == "low" else target.high / per
    return low, high
