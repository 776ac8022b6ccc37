"""A real server for the measurements: its own data, the invented glasshouse in it, a port that is free."""

import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

CHECKOUT = Path(__file__).resolve().parents[1]
SERVE = "import sys; sys.argv[0] = 'friable'; from friable.cli.main import run; sys.exit(run())"
TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="(\w+)"')


def free_port() -> int:
    """Return a port of this machine that nothing uses."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


@dataclass
class Server:
    """A server on a data folder of its own."""

    folder: Path = field(default_factory=lambda: Path(tempfile.mkdtemp(prefix="friable-bench-")))
    port: int = field(default_factory=free_port)
    process: subprocess.Popen | None = None

    @property
    def environment(self) -> dict[str, str]:
        kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
        return {**kept, "FRIABLE_DATA": str(self.folder)}

    def load_demo(self) -> None:
        """Fill the database with the invented glasshouse."""
        for command in (["migrate", "-v", "0"], ["load_quillmoor"]):
            subprocess.run(
                [sys.executable, "manage.py", *command],
                cwd=CHECKOUT,
                env=self.environment,
                check=True,
                stdout=subprocess.DEVNULL,
            )

    def friable(self, *arguments: str) -> subprocess.CompletedProcess:
        """Run a command on the same data."""
        return subprocess.run(
            [sys.executable, "-c", SERVE, *arguments], env=self.environment, capture_output=True, text=True
        )

    def start(self) -> float:
        """Start, and return the seconds until it says that it serves."""
        began = time.monotonic()
        self.process = subprocess.Popen(
            [sys.executable, "-c", SERVE, "serve", "--bind", f"127.0.0.1:{self.port}"],
            env=self.environment,
            stdout=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        line = self.process.stdout.readline()
        if "serves at" not in line:
            raise RuntimeError(f"the server did not start: {line!r}")
        return time.monotonic() - began

    def processes(self) -> list[int]:
        """Return the numbers of all its processes."""
        group = os.getpgid(self.process.pid)
        found = []
        for entry in Path("/proc").iterdir():
            try:
                if entry.name.isdigit() and os.getpgid(int(entry.name)) == group:
                    found.append(int(entry.name))
            except ProcessLookupError:
                continue
        return found

    def memory_mb(self) -> float:
        """Return the memory of all its processes, shared pages counted once (sum of PSS). [MB]"""
        total_kb = 0
        for process in self.processes():
            try:
                rollup = Path(f"/proc/{process}/smaps_rollup").read_text()
            except (FileNotFoundError, ProcessLookupError):
                continue
            total_kb += int(re.search(r"^Pss:\s+(\d+)", rollup, re.M)[1])
        return total_kb * 1024 / 1e6

    def kill(self) -> None:
        """End it as a power cut would."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        """End it as Ctrl-C does, and throw its data away."""
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            self.process.wait(timeout=20)
        shutil.rmtree(self.folder, ignore_errors=True)


class Visitor:
    """A browser without a screen: one connection, its cookies, the token of the forms it has seen."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.cookies: dict[str, str] = {}
        self.token = ""

    def ask(self, method: str, path: str, fields: dict | None = None, *, htmx: bool = False):
        """Return the status, the text and the seconds it took."""
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        body = None
        if method == "POST":
            body = urlencode({**(fields or {}), "csrfmiddlewaretoken": self.token}, doseq=True)
            headers |= {
                "Content-Type": "application/x-www-form-urlencoded",
                "Origin": f"http://127.0.0.1:{self.port}",
            }
        elif fields:
            path = f"{path}?{urlencode(fields, doseq=True)}"
        if htmx:
            headers["HX-Request"] = "true"
        began = time.perf_counter()
        self.connection.request(method, path, body=body, headers=headers)
        answer = self.connection.getresponse()
        text = answer.read().decode()
        took = time.perf_counter() - began
        for name, value in answer.getheaders():
            if name.lower() == "set-cookie":
                cookie = value.split(";", 1)[0]
                self.cookies.update([cookie.split("=", 1)])
        if found := TOKEN.search(text) or re.search(r'"X-CSRFToken": "(\w+)"', text):
            self.token = found[1]
        return answer.status, text, took
