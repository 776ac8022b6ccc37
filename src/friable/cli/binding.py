"""What address the server may listen on: this machine's own and no other, however it is asked."""

import ipaddress
import shlex
from collections.abc import Iterable, Mapping

from friable.errors import BadText, Refused, shown
from friable.wording import gettext as _

DEFAULT_PORT = 8000
DEFAULT_BIND = f"127.0.0.1:{DEFAULT_PORT}"
OWN_NAMES = frozenset({"127.0.0.1", "localhost", "[::1]"})
BIND_VARIABLES = ("FRIABLE_BIND", "HOST")
HOST_VARIABLES = ("ALLOWED_HOSTS", "DJANGO_ALLOWED_HOSTS", "FRIABLE_ALLOWED_HOSTS")


def read_bind(text: str) -> tuple[str, int]:
    """Read `ADDRESS:PORT`; return the loopback address without brackets, and the port.

    Raises
    ------
    Refused
        If the address is not this machine's own.
    BadText
        If it cannot be read.
    """
    host, port = _split(text)
    if not _is_own(host):
        raise Refused(
            _("Friable listens on this machine only; {bind} would open it to others. Use {own}.").format(
                bind=shown(text), own=DEFAULT_BIND
            )
        )
    if not 1 <= port <= 65535:
        raise BadText(_("the port in"), text, _("must be from 1 to 65535"))
    return ("127.0.0.1" if host == "localhost" else host), port


def refuse_elsewhere(environment: Mapping[str, str]) -> None:
    """Refuse an environment that asks for another address, or for other names of this machine."""
    for bind in _binds(environment):
        read_bind(bind)
    for name in HOST_VARIABLES:
        refuse_other_names(environment.get(name, "").replace(",", " ").split(), name)


def refuse_other_names(names: Iterable[str], where: str) -> None:
    """Refuse a list of host names with one that is not this machine's own."""
    for name in names:
        if name.lower() not in OWN_NAMES:
            raise Refused(
                _("{where} names {host}; friable answers to {own} only. Take it out.").format(
                    where=where, host=shown(name), own=", ".join(sorted(OWN_NAMES))
                )
            )


def _binds(environment: Mapping[str, str]) -> Iterable[str]:
    if bind := environment.get("FRIABLE_BIND", "").strip():
        yield bind
    # Some shells keep the machine's name in HOST, which asks for nothing; an address there does.
    if (host := environment.get("HOST", "").strip()) and (_address(host.strip("[]")) or host == "*"):
        yield host
    try:
        words = shlex.split(environment.get("GUNICORN_CMD_ARGS", ""))
    except ValueError as problem:
        raise Refused(_("GUNICORN_CMD_ARGS cannot be read; take it out of the environment.")) from problem
    for at, word in enumerate(words):
        if word in ("-b", "--bind"):
            yield words[at + 1] if at + 1 < len(words) else ""
        elif word.startswith("--bind="):
            yield word.removeprefix("--bind=")
        elif word.startswith("-b"):
            yield word.removeprefix("-b").removeprefix("=")


def _split(text: str) -> tuple[str, int]:
    bind = text.strip()
    if _address(bind):
        return bind, DEFAULT_PORT
    host, colon, port = bind.rpartition(":")
    if not colon or (bind.startswith("[") and bind.endswith("]")):
        host, port = bind, str(DEFAULT_PORT)
    if not (port.isascii() and port.isdigit() and len(port) <= 5):
        raise BadText(_("the address"), text, _("cannot be read"), _("Write it as 127.0.0.1:8000."))
    return host.removeprefix("[").removesuffix("]").lower(), int(port)


def _address(text: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(text)
    except ValueError:
        return None


def _is_own(host: str) -> bool:
    """Only the names that the guard of the pages answers to; another address of this machine would not do."""
    return (f"[{host}]" if ":" in host else host) in OWN_NAMES
