"""Seasons: the list, asking for one, how far it is, what it says."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from friable.records.queries.water import seasons_asked
from friable.web.guard import may
from friable.web.pages import page_of


@may("see seasons")
def season_list(request: HttpRequest) -> HttpResponse:
    """Show the seasons, newest first."""
    return render(request, "seasons/list.html", {"page": page_of(request, seasons_asked())})
