"""Pages for what fails: each says what happened and what to do, in plain words."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from friable.errors import shown


def _page(request: HttpRequest, status: int, title: str, sentence: str) -> HttpResponse:
    return render(request, "failure.html", {"title": title, "sentence": sentence}, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 - Django's form
    """400"""
    return _page(
        request,
        400,
        _("This request cannot be read"),
        _("Something in it is not what a page of friable sends. Go back, load the page again and retry."),
    )


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 - Django's form
    """403"""
    return _page(
        request, 403, _("This is not allowed"), _("Nothing was changed. Go back, and start from the bench.")
    )


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001 - Django's form
    """403, when a form did not come from one of our pages, or the page stood open too long."""
    return _page(
        request,
        403,
        _("This form was not sent from a page of friable"),
        _("Nothing was saved. Go back, load the page again, and send the form once more."),
    )


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001 - Django's form
    """404"""
    return _page(
        request,
        404,
        _("There is nothing at this address"),
        _("It may have been mistyped, or the thing it named was never made. Start from the bench."),
    )


def wrong_method(request: HttpRequest, allowed: str) -> HttpResponse:
    """405, with what may be asked of the address."""
    sentence = _(
        "A page is asked for with GET and a form is sent with POST; this was {method}, and the address "
        "takes {allowed}. Nothing was changed. Start from the bench."
    )
    answer = _page(
        request,
        405,
        _("This address cannot be used like that"),
        sentence.format(method=shown(request.method), allowed=allowed),
    )
    answer["Allow"] = allowed
    return answer


def too_large(request: HttpRequest, length_bytes: int, most_bytes: int) -> HttpResponse:
    """413"""
    sentence = _("What was sent is {megabytes:.1f} MB; it must be at most {most:g} MB. Nothing was saved.")
    return _page(
        request,
        413,
        _("This is too large"),
        sentence.format(megabytes=length_bytes / 1e6, most=most_bytes / 1e6),
    )


def refused(request: HttpRequest, sentence: str) -> HttpResponse:
    """422, with the sentence of the refusal."""
    return _page(request, 422, _("This cannot be done as it stands"), sentence)


def went_wrong(request: HttpRequest) -> HttpResponse:
    """500"""
    return _page(
        request,
        500,
        _("Something went wrong in friable"),
        _(
            "What you sent was not saved; what was saved before is safe. Go back and try once more; "
            "if it happens again, tell the person who looks after friable what you did."
        ),
    )


def busy(request: HttpRequest, sentence: str) -> HttpResponse:
    """503"""
    return _page(request, 503, _("The database is busy"), sentence)


def no_room(request: HttpRequest, sentence: str) -> HttpResponse:
    """507"""
    return _page(request, 507, _("This could not be saved"), sentence)
