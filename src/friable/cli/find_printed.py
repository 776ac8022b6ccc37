"""The answer of `friable find` as people read it: the mix first, then how sure, then the others."""

from typing import TYPE_CHECKING

from friable.cli.answer import columns, share, titled
from friable.planning.find_words import answer_words
from friable.planning.reading import with_range
from friable.planning.windows import said
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.find_values import FindAnswer, Found


def find_lines(answer: "FindAnswer", title: str) -> list[str]:
    """Return the answer in words, the best, the front, what nearly did, and what was asked."""
    first = answer.best[0] if answer.best else None
    lines = [
        answer_words(
            [found.text for found in answer.best], first.chance if first else None, answer.considered
        ),
        "",
    ]
    if first is not None:
        lines += [first.account, answer.proof]
    elif answer.considered == answer.pruned:
        lines += [answer.warnings[-1]]
    lines += titled(_("Best, surest first"), _table(answer.best))
    lines += titled(
        _("Not beaten in chance, weight, number of materials and price at once"), _table(answer.front)
    )
    lines += titled(_("Nearest, though outside"), _table(answer.nearest))
    lines += titled(_("What would open it"), [opening.said for opening in answer.openings])
    wanted = [said(window) for window in answer.windows]
    lines += titled(
        _("Asked for {title} in {pot}").format(title=title or _("this pot"), pot=answer.container.describe()),
        wanted,
    )
    lines += titled(_("Take care"), list(answer.warnings))
    return lines


def _table(found: "Sequence[Found]") -> list[str]:
    if not found:
        return []
    head = (_("chance"), _("air"), _("water"), _("wet kg"), _("price/L"), _("recipe"))
    rows = [head]
    rows += [
        (
            "" if one.chance is None else share(one.chance),
            with_range(one.figures.air_space),
            with_range(one.figures.container_capacity),
            f"{one.figures.wet_mass_kg.value:.2g}",
            "" if one.cost_per_l is None else f"{one.cost_per_l:.2f}",
            one.text,
        )
        for one in found
    ]
    return columns(rows, right=(0, 3, 4))
