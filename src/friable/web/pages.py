"""Long lists, a page at a time."""

from django.core.paginator import Page, Paginator
from django.http import HttpRequest

ROWS = 50


def page_of(request: HttpRequest, rows) -> Page:
    """Return the page that was asked for; the nearest there is, if there is no such page."""
    return Paginator(rows, ROWS).get_page(request.GET.get("page"))
