"""Where one may be sent back to."""

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme


def own_address(request: HttpRequest, wanted: str) -> str:
    """Return an address of ours that was asked for; the bench in place of any other."""
    own = url_has_allowed_host_and_scheme(wanted, {request.get_host()}) and wanted.startswith("/")
    return wanted if own else reverse("bench")
