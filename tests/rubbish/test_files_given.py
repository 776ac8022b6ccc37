"""Ten megabytes in a file or on standard input: in a process of its own, as from the shell."""

import os
import subprocess
import sys

import pytest

TEN_MEGABYTES = b"5 pine bark\n" * 900_000


def friable(folder, *arguments, given=b""):
    """Run `friable` as the shell does; return its one sentence."""
    done = subprocess.run(
        [sys.executable, "-m", "friable.cli.main", *arguments],
        input=given,
        capture_output=True,
        env=os.environ | {"FRIABLE_DATA": str(folder)},
        cwd=folder,
        timeout=60,
    )
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.count(b"\n") == 1
    return done.stderr.decode().rstrip("\n")


FILES = [
    (
        ("job", "--litres", "9", "--recipe", "ten.toml"),
        "The recipe file “ten.toml” is larger than 1 MB, which no recipe or pot list is.",
    ),
    (
        ("job", "1 sand", "--pots", "ten.toml"),
        "The pot list “ten.toml” is larger than 1 MB, which no recipe or pot list is.",
    ),
    (
        ("restore", "ten.toml"),
        "ten.toml is not a backup of friable; the data in use was left as it is.",
    ),
    (
        ("job", "--litres", "9", "--recipe", "-"),
        "The standard input is larger than 1 MB, which no recipe or pot list is.",
    ),
    (
        ("job", "1 sand", "--pots", "-"),
        "The standard input is larger than 1 MB, which no recipe or pot list is.",
    ),
    (
        ("job", "x" * 100_000, "--litres", "9"),
        "recipe “" + "x" * 59 + "…” does not begin with a number. Write it as 5 pine bark + 1 perlite.",
    ),
    (("restore", "no such file"), "There is no file no such file."),
]


@pytest.mark.parametrize(("arguments", "sentence"), FILES, ids=range(len(FILES)))
def test_too_much_gets_one_sentence(tmp_path, arguments, sentence):
    (tmp_path / "ten.toml").write_bytes(TEN_MEGABYTES)

    assert friable(tmp_path, *arguments, given=TEN_MEGABYTES) == sentence
