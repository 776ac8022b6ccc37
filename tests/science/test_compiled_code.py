"""Compiled solvers are kept in a folder of the user's own, named after the code they were made from."""

import os
import subprocess
import sys
import textwrap
import time

import pytest

from friable.science import compiled_code as cache


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A user who has compiled nothing yet."""
    for name in (cache.VARIABLE, "XDG_CACHE_HOME", "FRIABLE_DATA"):
        monkeypatch.delenv(name, raising=False)
    # What the code under test sets itself must not outlive the test.
    monkeypatch.setenv(cache.VARIABLE, "")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    config = sys.modules.get("numba.core.config")
    if config is not None:
        monkeypatch.setattr(config, "CACHE_DIR", config.CACHE_DIR)
    return tmp_path / "home"


def test_it_lies_in_the_users_cache_and_is_readable_by_nobody_else(home):
    folder = cache.choose_folder()

    assert folder == home / ".cache" / "friable" / f"compiled-{cache.fingerprint()}"
    assert folder.stat().st_mode & 0o077 == 0
    assert os.environ[cache.VARIABLE] == str(folder)


def test_a_folder_that_was_named_is_taken_as_it_is(home, monkeypatch, tmp_path):
    monkeypatch.setenv(cache.VARIABLE, str(tmp_path / "named"))

    assert cache.choose_folder() == tmp_path / "named"


def test_the_cache_of_the_desktop_comes_first(home, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "desktop"))

    assert cache.choose_folder().parent == tmp_path / "desktop" / "friable"


def test_without_a_home_it_lies_beside_the_data(home, monkeypatch, tmp_path):
    home.write_text("a file, so that nothing can be made below it")
    monkeypatch.setenv("FRIABLE_DATA", str(tmp_path / "data"))

    assert cache.choose_folder().parent == tmp_path / "data" / "compiled-cache"


def test_with_nowhere_to_write_it_is_for_this_process_alone(home, monkeypatch, tmp_path):
    home.write_text("a file")
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr(cache.tempfile, "tempdir", None)
    folder = cache.choose_folder()

    assert folder.parent == tmp_path
    assert folder.stat().st_mode & 0o077 == 0


def test_a_folder_that_others_may_write_to_is_not_used(home):
    folder = home / ".cache" / "friable"
    folder.mkdir(parents=True)
    folder.chmod(0o777)

    assert folder not in cache.choose_folder().parents


def test_a_link_to_somewhere_else_is_not_used(home, tmp_path):
    (home / ".cache").mkdir(parents=True)
    (tmp_path / "elsewhere").mkdir()
    (home / ".cache" / "friable").symlink_to(tmp_path / "elsewhere")

    assert home not in cache.choose_folder().parents


def test_other_code_has_another_folder(monkeypatch, tmp_path):
    (tmp_path / "solver.py").write_text("a = 1\n")
    monkeypatch.setattr(cache, "_SCIENCE", tmp_path)
    monkeypatch.setattr(cache, "_WRITTEN_IN", ("*.py",))
    first = cache.fingerprint()
    (tmp_path / "solver.py").write_text("a = 2\n")

    assert cache.fingerprint() != first


def test_what_older_code_left_goes_after_a_month(home):
    place = home / ".cache" / "friable"
    for name, days in (("compiled-old", 31), ("compiled-recent", 29)):
        (place / name).mkdir(parents=True)
        moment = time.time() - days * 86_400
        os.utime(place / name, (moment, moment))
    cache.choose_folder()

    assert sorted(path.name for path in place.iterdir()) == [
        f"compiled-{cache.fingerprint()}",
        "compiled-recent",
    ]


def test_only_the_first_use_is_told(home):
    told = []
    for _time in range(2):
        with cache.first_use("pot", told.append):
            pass
    with cache.first_use("season", told.append):
        pass

    assert told == [cache.EXPECTED_SECONDS] * 2


def test_a_first_use_that_fails_is_told_again(home):
    told = []
    for _time in range(2):
        with pytest.raises(ZeroDivisionError), cache.first_use("pot", told.append):
            raise ZeroDivisionError

    assert len(told) == 2


COMPILED = """
    from friable.science.compiled_code import choose_folder
    choose_folder()
    from numba import njit

    @njit(cache=True)
    def twice(x):
        return 2 * x

    print(twice(21), sum(twice.stats.cache_hits.values()))
"""


def test_what_was_compiled_from_source_that_is_read_only_is_found_again(home, tmp_path):
    module = tmp_path / "installed" / "solver.py"
    module.parent.mkdir()
    module.write_text(textwrap.dedent(COMPILED))
    module.parent.chmod(0o500)
    environment = {name: value for name, value in os.environ.items() if value}

    said = [
        subprocess.run(
            [sys.executable, "-B", str(module)], capture_output=True, text=True, env=environment
        ).stdout
        for _time in range(2)
    ]
    module.parent.chmod(0o700)

    assert said == ["42 0\n", "42 1\n"]
    assert [path.name for path in module.parent.iterdir()] == ["solver.py"]
    assert list((home / ".cache" / "friable").rglob("*.nbc"))


def test_it_is_chosen_before_numba_is_loaded():
    script = "import sys, friable.science.compiled_code; print('numba' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)

    assert (done.returncode, done.stdout) == (0, "False\n"), done.stderr


def test_numba_is_loaded_without_the_linear_algebra_that_nothing_here_uses():
    script = (
        "import sys; from friable.science.compiled_code import load_compiler; load_compiler();"
        "from numba import njit; import numpy as np; twice = njit(lambda x: 2 * x); twice(np.ones(3));"
        "print('scipy.linalg' in sys.modules);"
        "import scipy.linalg; from numba.np.linalg import ensure_blas; ensure_blas(); load_compiler()"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)

    assert (done.returncode, done.stdout) == (0, "False\n"), done.stderr
