"""Who is on shift: initials typed once, kept in the session for twelve hours; the paper in the printer."""

import time

from django.http import HttpRequest

from friable.records.actions.act import read_initials

SHIFT_SECONDS = 12 * 60 * 60
PAPERS = ("a4", "letter")


def initials(request: HttpRequest) -> str:
    """Return the initials of who is on shift, or an empty text when nobody said so or the shift is over."""
    kept = request.session.get("shift") or {}
    fresh = 0 <= time.time() - kept.get("since", 0) < SHIFT_SECONDS
    return kept.get("initials", "") if fresh else ""


def begin(request: HttpRequest, written: str) -> str:
    """Begin a shift under these initials and return them as they are kept.

    Raises
    ------
    BadText, Refused
        If they are no initials.
    """
    read = read_initials(written)
    request.session["shift"] = {"initials": read, "since": time.time()}
    return read


def end(request: HttpRequest) -> None:
    """Forget who was on shift."""
    request.session.pop("shift", None)


def paper(request: HttpRequest) -> str:
    """Return the paper that was chosen last on this machine: a4 or letter."""
    chosen = request.session.get("paper")
    return chosen if chosen in PAPERS else PAPERS[0]


def choose_paper(request: HttpRequest, wanted: str) -> None:
    """Keep the choice of paper; anything that is no paper is left out."""
    if wanted in PAPERS:
        request.session["paper"] = wanted
