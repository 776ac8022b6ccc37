"""The answer of `friable fewest` as people read it: how few, which, for whom, and what was proved."""

from typing import TYPE_CHECKING

from friable.cli.answer import columns, share, titled
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.fewest_values import FewestAnswer, KeptMix, Left, Served


def fewest_lines(answer: "FewestAnswer") -> list[str]:
    """Return the answer in words, then mix by mix, then what can go, who is left and what was proved."""
    lines = [answer.reading, answer.proof.said, *answer.remarks]
    for mix in answer.kept:
        lines += titled(_mix_title(mix), _mix(mix))
    lines += titled(_("Can go"), _can_go(answer))
    lines += titled(_("Left on their mix: no window is known"), _no_window(answer.no_window))
    lines += titled(_("Left on their mix: nothing is asked of air and water"), _no_figure(answer.no_figure))
    lines += titled(_("Kept within their window by none"), _cannot(answer.cannot))
    lines += titled(_("What it hangs on"), [_looked_at(answer), *answer.warnings])
    return lines


def _mix_title(mix: "KeptMix") -> str:
    kind = {
        "present": _("in use now"),
        "given": _("out of the file"),
        "found": _("found"),
    }[mix.candidate.origin]
    return _("{mix} ({kind})").format(mix=mix.name, kind=kind)


def _mix(mix: "KeptMix") -> list[str]:
    lines = [", ".join(f"{share(part)} {title}" for title, part in mix.candidate.shares)]
    lines += columns([_served(one) for one in mix.served], right=(0, 3))
    if mix.left:
        names = "; ".join(one.stand.title for one in mix.left)
        lines.append(_("Stays for groups that are left on it: {names}.").format(names=names))
    return lines


def _served(one: "Served") -> tuple[str, ...]:
    if one.stays:
        now = _("stays")
    elif one.before:
        now = _("now {mix}").format(mix=one.before)
    else:
        now = _("present mix not said")
    return (
        f"{one.pots:,}",
        one.stand.group.title,
        one.stand.container_as_typed,
        share(one.chance),
        now,
    )


def _can_go(answer: "FewestAnswer") -> list[str]:
    return columns([(f"{pots:,}", name) for name, pots in answer.can_go], right=(0,))


def _no_window(left: "Sequence[Left]") -> list[str]:
    return columns(
        [
            (f"{one.pots:,}", one.stand.group.title, one.stand.container_as_typed, "; ".join(one.mixes))
            for one in left
        ],
        right=(0,),
    )


def _no_figure(left: "Sequence[Left]") -> list[str]:
    lines = _no_window(left)
    return [
        text for line, one in zip(lines, left, strict=True) for text in (line, *(f"  {w}" for w in one.why))
    ]


def _cannot(left: "Sequence[Left]") -> list[str]:
    lines = []
    for one in left:
        lines.append(_("{pots} pots: {stand}").format(pots=f"{one.pots:,}", stand=one.stand.title))
        if one.nearest:
            lines.append("  " + _("nearest: {mix}").format(mix=one.nearest))
        if one.chance is not None:
            lines.append(
                "  " + _("it keeps them with a chance of {chance} only").format(chance=share(one.chance))
            )
        lines += [f"  {why}" for why in one.why]
        lines += [f"  {opening}" for opening in one.openings]
    return lines


def _looked_at(answer: "FewestAnswer") -> str:
    return _("Looked at: {present} mixes in use, {given} given, {found} found for the groups.").format(
        **answer.candidates
    )
