"""How `friable replace` is printed for people."""

from typing import TYPE_CHECKING

from friable.cli.answer import columns, share, titled
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.replacing_values import Candidate, ReplaceAnswer

RECIPE = "recipe"  # as `Candidate.how` has it
ALIKE, NEAR, FAR = 0.5, 1.0, 2.0


def replace_lines(answer: "ReplaceAnswer") -> list[str]:
    """Return the nearest stand-in first, then the others, what to watch, and how it was judged."""
    from friable.planning.reading import trust_sentence

    gone = ", ".join(material.title for material in answer.gone)
    nearest = answer.candidates[0]
    lines = [
        _("Nearest without {gone}: {recipe}, {how}.").format(
            gone=gone, recipe=nearest.text, how=closeness(nearest.distance.value)
        )
    ]
    lines += _account(nearest)
    shared = _shared(answer.candidates)
    lines += titled(_("One material in its place"), _table(answer.swaps))
    if answer.other_swaps:
        further = ", ".join(f"{swap.material} {swap.distance:.1f}" for swap in answer.other_swaps[:8])
        more = len(answer.other_swaps) - 8
        lines += ["", _("Further off: {names}").format(names=further) + (f" … (+{more})" if more > 0 else "")]
    lines += titled(_("Other recipes"), _table(answer.recipes))
    lines += titled(_("For all of them"), shared)
    for candidate in answer.candidates[1:]:
        lines += titled(
            _("{recipe} (distance {distance:.2f})").format(
                recipe=candidate.text, distance=candidate.distance.value
            ),
            [said for said in _account(candidate) if said not in shared],
        )
    if answer.considered:
        lines += [
            "",
            _("{n} recipes of what may be used were looked at.").format(n=f"{answer.considered:,}"),
        ]
    lines += [
        "",
        _(
            "Distance 1 means: everything off by what a forecast is off by, 5 points of air and water or "
            "0.1 kg in a litre."
        ),
        *answer.warnings,
        trust_sentence(),
    ]
    lines += titled(_("Published for the same materials, by other methods"), answer.published)
    return lines + titled(_("Sources"), answer.sources)


def closeness(distance: float) -> str:
    """Return a distance in words."""
    if distance <= ALIKE:
        return _("hardly to be told apart")
    if distance <= NEAR:
        return _("close")
    if distance <= FAR:
        return _("noticeably different")
    return _("a different mix")


def _account(candidate: "Candidate") -> list[str]:
    said = [*(grade.said for grade in candidate.grades), *candidate.changes, *candidate.watch]
    if candidate.within_stock is False:
        said.append(_("The stock does not reach for it."))
    return said


def _shared(candidates: "Sequence[Candidate]") -> list[str]:
    """Return what is said of every candidate, to be said once; nothing where there is one alone."""
    first, *others = (_account(candidate) for candidate in candidates)
    return [said for said in first if others and all(said in other for other in others)]


def _remark(candidate: "Candidate") -> str:
    """Return what makes a line of the table stand out."""
    if candidate.grades:
        return _("another grade")
    return _("keeps the rest") if candidate.how == RECIPE and candidate.keeps_rest else ""


def _table(candidates: "Sequence[Candidate]") -> list[str]:
    if not candidates:
        return []
    rows = [("", _("distance"), _("air"), _("water"), _("wet kg/L"), "")]
    for candidate in candidates:
        pot = candidate.pots[0]
        wet = pot.changes["wet_mass_kg"].after.value / pot.container.medium_volume_l
        rows.append(
            (
                candidate.text,
                f"{candidate.distance.value:.2f}",
                share(candidate.figures["air_space"].value),
                share(candidate.figures["container_capacity"].value),
                f"{wet:.2f}",
                _remark(candidate),
            )
        )
    return columns(rows, right=(1, 2, 3, 4))
