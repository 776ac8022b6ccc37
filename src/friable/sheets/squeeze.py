"""What the squeeze of a handful shows, and what to do about it. Common practice, no source."""

from friable.wording import gettext as _

SQUEEZE_STATES = ("crumbles", "holds", "runs")


def squeeze_in_words(state: str) -> str:
    """Return what the hand sees in one of `SQUEEZE_STATES`."""
    return {
        "crumbles": _("crumbles: falls apart as the hand opens"),
        "holds": _("holds: keeps its shape, a drop or two at most"),
        "runs": _("runs: water comes out between the fingers"),
    }[state]


def squeeze_verdict(state: str, wanted: str) -> str:
    """Return what to do when a handful shows `state` and `wanted` is right."""
    order = SQUEEZE_STATES.index(state) - SQUEEZE_STATES.index(wanted)
    return _("right") if order == 0 else _("too dry: add water") if order < 0 else _("too wet: add dry mix")
