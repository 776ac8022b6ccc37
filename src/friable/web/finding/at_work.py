"""A search at work, as every page that begins one shows it: how far it is, stopped, gone."""

from pathlib import Path

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from friable.runs import searches
from friable.web.finding import work as worked


def folder_of(key: str) -> Path | None:
    """Return where a search stands, or None where it is gone."""
    return searches.folder_of(worked.root(), key)


def gone(request: HttpRequest, question_page: str) -> HttpResponse:
    """Say that a search is gone, and go back to where it is asked."""
    messages.error(request, _("This search is gone: searches are kept for a day. Ask it again."))
    return redirect(question_page)


def how_far(request: HttpRequest, key: str, template: str) -> HttpResponse:
    """Show how far a search is, or have the whole page asked for again once it is not at work."""
    folder = folder_of(key)
    told = worked.look(folder) if folder else None
    if told is None or not told.at_work:
        answer = HttpResponse()
        answer["HX-Refresh"] = "true"
        return answer
    return render(request, template, {"key": key, "told": told})


def stopped(request: HttpRequest, key: str, question_page: str, work_page: str) -> HttpResponse:
    """Stop a search; nothing of it is kept but the question."""
    folder = folder_of(key)
    if folder is None:
        return gone(request, question_page)
    searches.stop(folder)
    return redirect(work_page, key)
