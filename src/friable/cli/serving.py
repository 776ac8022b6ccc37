"""The web server: gunicorn with threads, on a socket that is already bound to this machine only."""

import contextlib
import ctypes
import errno
import gc
import hashlib
import json
import os
import socket
import sys
from pathlib import Path
from typing import Any

from friable.errors import Refused
from friable.wording import gettext as _

WORKERS = 2
MOST_MATERIALS_DRAWN = 8  # few mixes have more; those draw when they are asked for
THREADS = 2
M_ARENA_MAX = -8  # of mallopt(3)
STAMP_NAME = "made-from"
# Of the script library, one of its eight files is used.
NOT_SERVED = ["htmax-*", "htmx-4*", "htmx-2.js", "ext"]


def open_socket(host: str, port: int) -> socket.socket:
    """Bind and listen; refuse in one sentence if something else does already."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)
    except OSError as problem:
        listening.close()
        if problem.errno == errno.EADDRINUSE:
            sentence = _(
                "Port {port} is taken, perhaps by a friable that runs already; stop it, or choose another "
                "with friable serve --bind 127.0.0.1:{other}."
            )
            raise Refused(sentence.format(port=port, other=port + 1 if port < 65535 else 8000)) from problem
        reason = os.strerror(problem.errno or 0)
        raise Refused(
            _("Port {port} cannot be opened ({reason}).").format(port=port, reason=reason)
        ) from problem
    return listening


def collect_static() -> None:
    """Gather and compress what does not change, unless that was done from the same files already."""
    from django.conf import settings
    from django.contrib.staticfiles.finders import get_finders
    from django.core.management import call_command

    if settings.STATIC_FROM_SOURCE:
        return
    digest = hashlib.sha256()
    for finder in get_finders():
        for name, storage in finder.list(None):
            found = Path(storage.path(name)).stat()
            digest.update(f"{name} {found.st_size} {found.st_mtime_ns}\n".encode())
    stamp = Path(settings.STATIC_ROOT) / STAMP_NAME
    if stamp.is_file() and stamp.read_text() == digest.hexdigest():
        return
    stamp.unlink(missing_ok=True)
    call_command("collectstatic", verbosity=0, interactive=False, clear=True, ignore_patterns=NOT_SERVED)
    stamp.write_text(digest.hexdigest())


def spare_memory() -> None:
    """Keep each process small; to be called before NumPy is loaded and before there are threads.

    The C library would set aside a heap for every thread, and the linear algebra a pool of threads of
    its own for matrices larger than any here.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).mallopt(M_ARENA_MAX, 1)


def _load_the_forecast() -> None:
    """Load and draw once, for all processes, what the first live answers would in each."""
    from django.template.loader import get_template

    from friable.drawing.pot_section import pot_section_svg
    from friable.planning.forecast import air_against_height, forecast
    from friable.planning.notation import parse_container
    from friable.reference.materials import all_materials
    from friable.science.ranges import draws

    for materials in range(1, MOST_MATERIALS_DRAWN + 1):
        draws(2 * materials)
    pot = parse_container("round 17/12/13 cm")
    parts = [(material, 1.0) for material in all_materials()[:2]]
    found = forecast(parts, pot)
    air_against_height(parts, pot, (5.0, 10.0))
    pot_section_svg(pot, found.profile, title="")
    for page in ("mixes/write.html", "mixes/answer.html", "jobs/mix.html", "jobs/amounts.html"):
        get_template(page)


def run_server(listening: socket.socket, address: str, *, as_json: bool) -> None:
    """Serve until told to stop; say where, once, when the pages answer."""
    from django.db import connections
    from gunicorn.app.base import BaseApplication  # type: ignore[import-untyped]
    from gunicorn.workers.gthread import ThreadWorker  # type: ignore[import-untyped]

    def ready(_arbiter: Any) -> None:
        line = (
            json.dumps({"serving": address})
            if as_json
            else _("friable serves at {address}").format(address=address)
        )
        sys.stdout.write(line + "\n")
        sys.stdout.flush()

    class Threads(ThreadWorker):  # type: ignore[misc]
        """Ends at once when told so, yet between two rounds of its loop, where it holds no lock."""

        def handle_quit(self, sig: int, frame: Any) -> None:
            self.at_once = True
            self.handle_exit(sig, frame)

        def set_accept_enabled(self, enabled: bool) -> None:
            super().set_accept_enabled(enabled)
            if not self.alive and getattr(self, "at_once", False):
                sys.exit(0)  # requests at work are answered; idle connections are not waited for

    class Server(BaseApplication):  # type: ignore[misc]
        def load_config(self) -> None:
            chosen = {
                "bind": f"fd://{listening.fileno()}",
                "workers": WORKERS,
                "threads": THREADS,
                "worker_class": Threads,
                "preload_app": True,  # the workers share the memory of what is loaded
                "timeout": 60,
                "graceful_timeout": 15,
                "keepalive": 15,
                "limit_request_line": 8190,
                "accesslog": None,
                "loglevel": "error",
                "proc_name": "friable",
                "control_socket_disable": True,  # no second door
                "forwarded_allow_ips": "",
                "worker_tmp_dir": "/dev/shm" if os.access("/dev/shm", os.W_OK) else None,  # noqa: S108 - its heartbeat
                "when_ready": ready,
            }
            for name, value in chosen.items():
                self.cfg.set(name, value)

        def load(self) -> Any:
            from django.core.wsgi import get_wsgi_application
            from django.urls import get_resolver

            application = get_wsgi_application()
            get_resolver().url_patterns  # noqa: B018 - load every page once, before the workers part
            _load_the_forecast()
            connections.close_all()
            gc.collect()
            gc.freeze()
            return application

    for name in ("LISTEN_PID", "LISTEN_FDS", "GUNICORN_FD", "GUNICORN_PID", "GUNICORN_CMD_ARGS"):
        os.environ.pop(name, None)
    Server().run()
