"""The server: this machine only, one line when it listens, one sentence when it cannot, a clean end."""

import http.client
import os
import signal
import socket
import subprocess
import sys

import pytest

from friable.cli import binding
from friable.errors import FriableError, Refused

SERVE = """
import typer
from friable.cli import serve
app = typer.Typer(pretty_exceptions_enable=False)
serve.register(app)
app()
"""


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("127.0.0.1:8000", ("127.0.0.1", 8000)),
        ("localhost:81", ("127.0.0.1", 81)),
        ("[::1]:8000", ("::1", 8000)),
        ("::1", ("::1", 8000)),
    ],
)
def test_its_own_addresses_are_read(text, read):
    assert binding.read_bind(text) == read


OTHER_ADDRESSES = [
    "0.0.0.0:8000",
    "127.0.0.2:8000",  # of this machine, but the pages would not answer to it
    "[::]:8000",
    "::",
    "*:8000",
    "192.168.1.20:8000",
    "garden.example:80",
    "127.0.0.1.garden.example:80",
    "2130706433:80",
    "0:8000",
    ":8000",
    "unix:/run/f",
    "fd://3",
]


@pytest.mark.parametrize("text", OTHER_ADDRESSES)
def test_other_addresses_are_refused(text):
    with pytest.raises(FriableError) as refused:
        binding.read_bind(text)

    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    "text", ["127.0.0.1:0", "127.0.0.1:65536", "127.0.0.1:http", "127.0.0.1:-1", "127.0.0.1:"]
)
def test_ports_that_are_none_are_refused(text):
    with pytest.raises(FriableError, match=r"the address|the port"):
        binding.read_bind(text)


ELSEWHERE = [
    {"FRIABLE_BIND": "0.0.0.0:8000"},
    {"HOST": "0.0.0.0"},
    {"HOST": "::"},
    {"HOST": "*"},
    {"GUNICORN_CMD_ARGS": "--bind 0.0.0.0:8000"},
    {"GUNICORN_CMD_ARGS": "--workers 3 --bind=[::]:8000"},
    {"GUNICORN_CMD_ARGS": "-b 192.168.1.20:8000"},
    {"GUNICORN_CMD_ARGS": "-b0.0.0.0"},
    {"ALLOWED_HOSTS": "localhost,garden.example"},
    {"DJANGO_ALLOWED_HOSTS": "*"},
]


@pytest.mark.parametrize("environment", ELSEWHERE)
def test_an_environment_that_asks_for_another_address_is_refused(environment):
    with pytest.raises(Refused):
        binding.refuse_elsewhere(environment)


def test_a_machine_name_in_the_environment_asks_for_nothing():
    binding.refuse_elsewhere(
        {"HOST": "bench", "GUNICORN_CMD_ARGS": "--bind 127.0.0.1:9000", "ALLOWED_HOSTS": "localhost"}
    )


def environment(folder, **more):
    return {**os.environ, "FRIABLE_DATA": str(folder), **more}


def run(folder, *arguments, **more):
    done = subprocess.run(
        [sys.executable, "-c", SERVE, *arguments],
        env=environment(folder, **more),
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 2, done
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr
    return done.stderr


def test_flag_environment_and_settings_are_refused_alike(tmp_path):
    (tmp_path / "wide.py").write_text("from friable.project.settings import *\nALLOWED_HOSTS = ['*']\n")

    assert "this machine only" in run(tmp_path, "--bind", "0.0.0.0:8000")
    assert "this machine only" in run(tmp_path, FRIABLE_BIND="0.0.0.0:8000")
    assert "ALLOWED_HOSTS names *" in run(
        tmp_path,
        "--bind",
        f"127.0.0.1:{free_port()}",
        DJANGO_SETTINGS_MODULE="wide",
        PYTHONPATH=str(tmp_path),
    )


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


@pytest.fixture
def server(tmp_path):
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-c", SERVE, "--bind", f"127.0.0.1:{port}"],
        env=environment(tmp_path),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    yield process, port
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
    process.communicate()


def get(port, path="/there-is-no-such-page", host=None):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    connection.request("GET", path, headers={"Host": host} if host else {})
    answer = connection.getresponse()
    return answer.status, answer.read().decode()


def test_it_says_one_line_answers_and_ends_cleanly(server, tmp_path):
    process, port = server

    assert process.stdout.readline() == f"friable serves at http://127.0.0.1:{port}\n"
    status, page = get(port)
    assert (status, "There is nothing at this address" in page) == (404, True)
    assert get(port, host="garden.example")[0] == 400
    assert f"Port {port} is taken" in run(tmp_path, "--bind", f"127.0.0.1:{port}")
    with socket.create_connection(("127.0.0.1", port)) as raw:
        peer = raw.getpeername()[0]
    assert peer == "127.0.0.1"

    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=30)
    assert (process.returncode, out, err) == (0, "", "")


def test_a_database_of_a_newer_friable_is_refused(tmp_path):
    import sqlite3

    with sqlite3.connect(tmp_path / "friable.sqlite3") as database:
        database.execute(
            "CREATE TABLE django_migrations (id INTEGER PRIMARY KEY, app TEXT, name TEXT, applied TEXT)"
        )
        database.execute("INSERT INTO django_migrations VALUES (1, 'records', '9999_later', '2030-01-01')")

    said = run(tmp_path, "--bind", f"127.0.0.1:{free_port()}")

    assert said.startswith(
        "The database was written by a newer friable (it has records.9999_later); use that"
    )
