"""Asking for a season, and what becomes of it. The work itself is done by a process of its own."""

import secrets

from django.utils import timezone

from friable.errors import Refused
from friable.records.actions.act import act, keep, refresh
from friable.records.models import Season
from friable.wording import gettext as _

# State -> states from which it can be reached.
FROM = {
    "running": ("waiting", "stopped", "failed"),
    "stopped": ("waiting", "running"),
    "done": ("waiting", "running", "stopped"),
    "failed": ("waiting", "running", "stopped"),
}
LONGEST_PROBLEM = 400


@act
def ask_season(title, *, by, collection, weathers, draws, pots, climate=None, built_in_climate="", note=""):
    """Write down that a season is wanted; its folder gets a name that no other has."""
    return keep(
        Season(
            title=title,
            collection=collection,
            climate=climate,
            built_in_climate=built_in_climate,
            weathers=weathers,
            draws=draws,
            pots=pots,
            folder=f"{timezone.localdate():%Y-%m}-{secrets.token_hex(5)}",
            asked_by=by,
            note=note,
        )
    )


@act
def begin_season(season):
    """Write down that its work has begun, or goes on."""
    return _enter(season, "running")


@act
def stop_season(season):
    """Write down that somebody stopped it; what was done stays, and it can go on."""
    return _enter(season, "stopped")


@act
def end_season(season):
    """Write down that it is done."""
    return _enter(season, "done", ended_at=timezone.now())


@act
def fail_season(season, *, problem):
    """Write down that it failed, and why in one sentence."""
    return _enter(season, "failed", problem=problem[:LONGEST_PROBLEM] or _("It ended without a word."))


def _enter(season, state, **changes):
    refresh(season)
    if season.state == state:
        return season
    if season.state not in FROM[state]:
        raise Refused(
            _("“{title}” is {state}; that cannot be done any more.").format(
                title=season.title, state=season.get_state_display()
            )
        )
    return keep(season, state=state, **{"problem": "", "ended_at": None, **changes})
