"""Turn what a view, a method or the disk refused into a page with one sentence."""

from collections.abc import Callable

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.project import pages

METHODS = ("GET", "HEAD", "POST")
NOT_LIKE_THAT = 405


class PlainRefusals:
    """A refusal that no view caught is answered 422 with its sentence; a bug is left to crash."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.method not in METHODS:
            return pages.wrong_method(request, ", ".join(METHODS))
        answer = self.get_response(request)
        return pages.wrong_method(request, answer["Allow"]) if answer.status_code == NOT_LIKE_THAT else answer

    def process_exception(self, request: HttpRequest, problem: Exception) -> HttpResponse | None:
        if isinstance(problem, FriableError):
            return pages.refused(request, str(problem))
        if isinstance(problem, OperationalError):
            return _disk_problem(request, str(problem).lower())
        return None


def _disk_problem(request: HttpRequest, problem: str) -> HttpResponse | None:
    # The words are SQLite's own (result codes FULL, READONLY, IOERR, BUSY).
    if "disk is full" in problem or "disk i/o error" in problem:
        sentence = _("The disk is full or failing; nothing of this was saved. Make room, then send it again.")
        return pages.no_room(request, sentence)
    if "readonly" in problem:
        sentence = _("The database file cannot be written; nothing of this was saved. Check who owns it.")
        return pages.no_room(request, sentence)
    if "locked" in problem:
        sentence = _("Another writer holds the database; nothing of this was saved. Send it again soon.")
        return pages.busy(request, sentence)
    return None
