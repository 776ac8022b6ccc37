"""Answer this machine only, whatever the server was told to listen on.

Nobody logs in here, so the one question is where a request comes from: the caller's address must be
this machine's own, the name it asked for too (a page elsewhere could point its own name at
127.0.0.1), and nothing may have passed it on.
"""

import ipaddress
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

NAMES = frozenset({"127.0.0.1", "localhost", "[::1]"})
PASSED_ON = ("HTTP_FORWARDED", "HTTP_X_FORWARDED_", "HTTP_X_REAL_IP", "HTTP_VIA")


def is_own_address(address: str) -> bool:
    """Say whether an IP address is this machine's own (loopback)."""
    try:
        ip = ipaddress.ip_address(address)
    except ValueError:
        return False
    mapped = getattr(ip, "ipv4_mapped", None)
    return (mapped or ip).is_loopback


def is_own_host(host: str) -> bool:
    """Say whether a Host header names this machine, with or without a port."""
    name, colon, port = host.rpartition(":")
    if not colon or host.endswith("]"):
        name, port = host, ""
    if colon and not host.endswith("]") and not (port.isascii() and port.isdigit()):
        return False
    return name.lower() in NAMES


class LoopbackOnly:
    """Refuse, in one plain sentence, what does not come straight from this machine."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not is_own_address(request.META.get("REMOTE_ADDR", "")):
            return _plain(403, _("Friable answers only on the machine it runs on."))
        if any(key.startswith(PASSED_ON) for key in request.META):
            return _plain(
                403, _("Friable answers only to a browser on its own machine, never through a proxy.")
            )
        if not is_own_host(request.META.get("HTTP_HOST", "")):
            return _plain(400, _("Open friable as http://127.0.0.1 followed by its port."))
        return self.get_response(request)


def _plain(status: int, sentence: str) -> HttpResponse:
    answer = HttpResponse(sentence + "\n", status=status, content_type="text/plain; charset=utf-8")
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Security-Policy"] = "default-src 'none'; frame-ancestors 'none'"
    return answer
