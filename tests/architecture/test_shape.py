"""The shape of the project: layers, sizes, names, and nothing of the machine it was written on."""

import re
import subprocess
import sys

from tests.architecture.tree import CHECKOUT, modules, parsed, shown, tracked_files

LONGEST_MODULE = 400
SAY_NOTHING = {"utils", "util", "helpers", "helper", "common", "misc", "tools", "stuff"}


def test_no_layer_knows_one_above_it():
    lint = "from importlinter.cli import lint_imports_command as run; run()"
    done = subprocess.run(
        [sys.executable, "-c", lint, "--no-logo"], cwd=CHECKOUT, capture_output=True, text=True
    )

    assert done.returncode == 0, done.stdout + done.stderr
    assert "Contracts: " in done.stdout
    assert ", 0 broken" in done.stdout


def test_no_module_is_longer_than_a_reader_can_hold():
    python = [path for path in tracked_files() if path.suffix == ".py" and "migrations" not in path.parts]
    assert len(python) > 40

    too_long = {
        shown(path): lines for path in python if (lines := path.read_text().count("\n")) > LONGEST_MODULE
    }

    assert too_long == {}


def test_every_module_says_by_its_name_what_it_is_about():
    named = [
        shown(path)
        for path in tracked_files()
        if path.suffix == ".py" and SAY_NOTHING & {path.stem, *path.relative_to(CHECKOUT).parts[:-1]}
    ]

    assert named == []


# In pieces, so that this file does not hold what it looks for.
_HOSTS = [
    "pypi" + ".org",
    "python" + "hosted",
    "registry." + "npmjs",
    "deb." + "debian",
    "security." + "debian",
]
_FOLDERS = ["/" + "work/", "/" + "root/", "/" + "home/", "/" + "farm/", "/" + "tmp/b"]
MACHINE = re.compile(
    "|".join([*map(re.escape, _HOSTS), *(r"(?<![\w.}\])])" + re.escape(f) for f in _FOLDERS)])
)
NOT_TEXT = {".woff2", ".ttf", ".png", ".jpg", ".pdf", ".ico", ".mo", ".sqlite3", ".zip"}


def test_no_registry_and_no_path_of_a_machine_stands_in_the_project():
    found = []
    for path in tracked_files():
        if path.suffix in NOT_TEXT or path.name.endswith((".min.js", ".min.css")):
            continue
        for number, line in enumerate(
            path.read_text(encoding="utf-8", errors="replace").splitlines(), start=1
        ):
            if MACHINE.search(line):
                found.append(f"{shown(path)} line {number}: {line.strip()[:80]}")

    assert found == []


def test_the_commands_load_no_numerics_before_they_need_them():
    early = []
    for path in modules("cli"):
        for node in parsed(path).body:
            names = (
                [alias.name for alias in node.names]
                if node.__class__.__name__ == "Import"
                else [node.module or ""]
                if node.__class__.__name__ == "ImportFrom"
                else []
            )
            early += [
                f"{shown(path)}: {name}"
                for name in names
                if name.split(".")[0] in {"numpy", "scipy", "django"}
            ]

    assert early == []


def test_asking_for_help_loads_neither_numerics_nor_django():
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys, friable.cli.main; print(sorted({'numpy', 'scipy', 'django'} & set(sys.modules)))",
        ],
        capture_output=True,
        text=True,
    )

    assert done.returncode == 0, done.stderr
    assert done.stdout == "[]\n"


WITHOUT_DJANGO = """
import importlib, pkgutil, sys

class NoDjango:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"django", "csp", "simple_history", "django_htmx", "environ"}:
            raise ModuleNotFoundError(name)

sys.meta_path.insert(0, NoDjango())
count = 0
for layer in ("errors", "wording", "science", "reference", "planning", "drawing", "sheets"):
    module = importlib.import_module(f"friable.{layer}")
    for found in pkgutil.walk_packages(getattr(module, "__path__", []), f"friable.{layer}."):
        importlib.import_module(found.name)
        count += 1
print(count)
"""


def test_science_planning_and_paper_are_used_without_django():
    done = subprocess.run([sys.executable, "-c", WITHOUT_DJANGO], capture_output=True, text=True)

    assert done.returncode == 0, done.stderr
    assert int(done.stdout) > 10


def test_locks_hold_hashes_and_no_address():
    for name in ("run.lock", "requirements.lock"):
        text = (CHECKOUT / name).read_text()
        pins = re.findall(
            r"^([a-z0-9][\w.\-]*(?:\[[\w,]+\])?==\S+)((?: \\\n +--hash=sha256:[0-9a-f]{64})*)",
            text,
            re.M | re.I,
        )
        assert len(pins) > 20, name
        assert [pin for pin, hashes in pins if not hashes] == [], name
        assert "://" not in text, name
    run, everything = (
        set(re.findall(r"^[\w.\-]+(?:\[[\w,]+\])?==\S+", (CHECKOUT / name).read_text(), re.M))
        for name in ("run.lock", "requirements.lock")
    )
    assert run <= everything


def test_what_a_change_must_pass_is_the_readme_s_command():
    readme = (CHECKOUT / "README.md").read_text()

    assert "make run" in readme
    assert "make test" in readme
    assert "make test" in (CHECKOUT / ".ci" / "run").read_text()
