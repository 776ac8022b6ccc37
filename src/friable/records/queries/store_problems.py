"""Are counts, prices and the keeper's windows sound? One sentence for each thing that is not."""

from collections.abc import Iterator

from django.db.models import F
from django.db.models.functions import TruncDate

from friable.errors import FriableError
from friable.records.models import GroupWindow, MaterialPrice, MaterialStock
from friable.records.queries.at_hand import currencies
from friable.records.queries.windows import as_window
from friable.reference.plant_groups import plant_groups
from friable.wording import gettext as _


def store_problems() -> Iterator[str]:
    """Yield what is wrong with counts, prices and windows."""
    yield from _days()
    yield from _changed()
    signs = currencies()
    if len(signs) > 1:
        yield _("Prices stand in {signs}; they are compared, so they must stand in one currency.").format(
            signs=_(" and ").join(signs)
        )


def window_problems() -> Iterator[str]:
    """Yield windows of groups or quantities that are not there, and windows that cannot be."""
    known = {group.key for group in plant_groups()}
    for row in GroupWindow.objects.order_by("pk"):
        if row.group not in known:
            yield _("A window is set for “{group}”, which the table of plant groups does not hold.").format(
                group=row.group
            )
        elif not (row.removed or row.asks_nothing):
            try:
                as_window(row)
            except FriableError as problem:
                yield _("The window of {window}: {problem}").format(window=row, problem=problem)


def _days() -> Iterator[str]:
    for model, day, sentence in (
        (MaterialStock, "counted_on", _("The count of {thing} is of a day after it was entered.")),
        (MaterialPrice, "holds_from", _("The price of {thing} is of a day after it was entered.")),
        (GroupWindow, "set_on", _("The window of {thing} is of a day after it was entered.")),
    ):
        for row in model.objects.annotate(entered_on=TruncDate("entered_at")).filter(
            **{f"{day}__gt": F("entered_on")}
        ):
            yield sentence.format(thing=row if model is GroupWindow else row.material)


def _changed() -> Iterator[str]:
    for model, sentence in (
        (MaterialStock, _("Count {number} was changed after it was written down.")),
        (MaterialPrice, _("Price {number} was changed after it was written down.")),
        (GroupWindow, _("Window {number} was changed after it was written down.")),
    ):
        for number in model.history.exclude(history_type="+").values_list("id", flat=True):
            yield sentence.format(number=number)
