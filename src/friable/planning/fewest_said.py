"""The fewest mixes in words: the answer in a sentence or two, what was proved, what to know."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from friable.planning.reading import per_cent
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.fewest_cover import Cover
    from friable.planning.fewest_values import FewestCase, KeptMix, Left


def proof_said(cover: "Cover", candidates: int, *, must: int, anything_served: bool) -> str:
    """Return what was proved of the number of mixes, and what was not; `must` of them stay anyway."""
    count = len(cover.kept)
    if not anything_served:
        return _("There was nothing to choose: no group has a window that one of the mixes keeps.")
    if not cover.mixes.proved:
        return _(
            "Not proved in the time there was: {count} mixes do, and the fewest lies between {bound} and "
            "{count}. Give it more time."
        ).format(count=count, bound=int(cover.mixes.bound))
    if count == 1:
        said = _("Proved: one mix is the fewest there can be.")
    elif must:
        said = _(
            "Proved: with the {must} that stay anyway, no fewer than {count} of the {candidates} mixes "
            "looked at keep them all."
        ).format(must=must, count=count, candidates=candidates)
    elif count == 2:
        said = _("Proved: of the {candidates} mixes looked at, no single one keeps them all.").format(
            candidates=candidates
        )
    else:
        said = _("Proved: of the {candidates} mixes looked at, no {fewer} keep them all.").format(
            candidates=candidates, fewer=count - 1
        )
    if cover.proved:
        return said
    return f"{said} " + _(
        "Whether another {count} would leave more pots where they are, or do with a higher chance, was not "
        "settled in the time there was."
    ).format(count=count)


def reading_of(kept: "Sequence[KeptMix]", go: int, mixes_now: int, *, all_kept: bool) -> str:
    """Return the answer in a few sentences: how many mixes keep how many groups, what can go, what stays."""
    serving = [mix for mix in kept if mix.served]
    served = [one for mix in serving for one in mix.served]
    stands = len({one.stand.key for one in served})
    if not serving:
        said = [_("No group has a window that one of the mixes keeps it within.")]
    elif len(serving) == 1:
        said = [
            _("One mix keeps {groups} within their windows: {name}.").format(
                groups=_groups(stands, all_kept=all_kept), name=serving[0].name
            )
        ]
    else:
        said = [
            _("{count} mixes keep {groups} within their windows.").format(
                count=len(serving), groups=_groups(stands, all_kept=all_kept)
            )
        ]
    if mixes_now:
        said.append(
            _("Of {now} mixes in use {go} can go.").format(now=mixes_now, go=go)
            if go
            else _("None of the {now} mixes in use can go.").format(now=mixes_now)
        )
    if pots := sum(one.pots for one in served):
        stay = sum(one.pots for one in served if one.stays)
        said.append(
            _("{stay} of {pots} pots stay on the mix that they are on.").format(
                stay=f"{stay:,}", pots=f"{pots:,}"
            )
        )
    return " ".join(said)


def _groups(count: int, *, all_kept: bool) -> str:
    if count == 1:
        return _("the one group in its pot") if all_kept else _("the one group that can be kept")
    if all_kept:
        return _("all {count} groups in their pots").format(count=count)
    return _("the {count} groups that can be kept").format(count=count)


def remarks_of(
    kept: "Sequence[KeptMix]",
    no_window: "Sequence[Left]",
    no_figure: "Sequence[Left]",
    cannot: "Sequence[Left]",
) -> tuple[str, ...]:
    """Return what else belongs to the answer: what to do first, who is left, which mixes stay for them."""
    said = []
    if any(not one.stays for mix in kept for one in mix.served):
        said.append(
            _(
                "A window asks what it asks and no more: look at each move before you make it, and try it on "
                "a few pots first."
            )
        )
    if len(cannot) == 1:
        said.append(_("One group is kept by none of the mixes looked at, and is left on its mix."))
    elif cannot:
        said.append(
            _("{count} groups are kept by none of the mixes looked at, and are left on theirs.").format(
                count=len(cannot)
            )
        )
    if len(no_figure) == 1:
        said.append(_("One group stays where it is: nothing is known of the air and water that it wants."))
    elif no_figure:
        said.append(
            _(
                "{count} groups stay where they are: nothing is known of the air and water that they want."
            ).format(count=len(no_figure))
        )
    if wrong := [one.stand.title for one in no_figure if one.why]:
        said.append(
            _("Look at those whose mix does not hold what else is asked: {groups}.").format(
                groups="; ".join(wrong)
            )
        )
    if len(no_window) == 1:
        said.append(_("One group has no window and is left on its mix."))
    elif no_window:
        said.append(
            _("{count} groups have no window and are left on their mix.").format(count=len(no_window))
        )
    if idle := [mix.name for mix in kept if not mix.served]:
        said.append(
            _("For groups that are left as they are {count} more stay, {total} in all: {names}.").format(
                count=len(idle), total=len(kept), names="; ".join(idle)
            )
        )
    return tuple(said)


def warnings_of(case: "FewestCase") -> tuple[str, ...]:
    """Return what the reader should know of the answer."""
    said = []
    unknown = sum(line.count for line in case.stands.lines if line.mix is None)
    if unknown:
        said.append(
            _("Of {pots} pots the present mix is not said; they count as moving.").format(pots=f"{unknown:,}")
        )
    if not case.at_hand:
        said.append(_("No materials are at hand, so no other recipes were looked for."))
    said.append(
        _(
            "A mix keeps a group if its middle lies within every window and its chance is at least {least}; "
            "chances come from the ranges of its materials."
        ).format(least=per_cent(case.least_chance))
    )
    said.append(
        _(
            "Lime and plant food are told by words alone, of the materials and of what is added to a mix by "
            "its name; no one measured them. A mix is not given to plants that its card says it is not for."
        )
    )
    return tuple(said)
