"""The two ways in which every page with a form answers."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

REFUSED = 422


def form_page(request: HttpRequest, template: str, context: dict, *forms) -> HttpResponse:
    """Render a page; if any of its forms was refused, with the status that says so."""
    refused = any(form is not None and form.is_bound and not form.is_valid() for form in forms)
    return render(request, template, context, status=REFUSED if refused else 200)
