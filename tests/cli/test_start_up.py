"""What a command loads before it answers: nothing that the answer does not need."""

import subprocess
import sys

import pytest

from friable.cli.main import COMMANDS, commands_for, main

HEAVY = ("django", "numba", "numpy", "numpy.ma", "pydantic", "scipy")
HEAVIER = (
    "django",
    "pydantic",
    "scipy.linalg",
    "scipy.special",
    "scipy.stats",
    "friable.science.flow.robust",
)
BARK_MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")

LOADED = [
    (("moisture", "--mass", "14kg", "--at", "30%", "--to", "50%"), []),
    (("packs", "sphagnum peat", "--need", "168L", "--pack", "3.8 cu ft"), []),
    (("materials", "perlite"), []),
    (("job", "--into", "round 17/12/13 cm", "--count", "60", BARK_MIX), ["numpy"]),
    (("mix", BARK_MIX, *POT), ["numpy"]),
    (("mix", BARK_MIX, *POT, "--json"), ["numpy"]),
    (("mix", BARK_MIX, *POT, "--drainage-layer", "3 cm gravel"), ["numpy"]),
]


@pytest.mark.parametrize(
    ("arguments", "loaded"), LOADED, ids=lambda value: str(value[0])[:10] if value else ""
)
def test_a_command_loads_only_what_its_answer_needs(tmp_path, monkeypatch, arguments, loaded):
    monkeypatch.setenv("FRIABLE_DATA", str(tmp_path / "nothing-here"))
    script = (
        "import sys; from friable.cli.main import main; code = main(sys.argv[1:]); "
        f"print([name for name in {HEAVY} if name in sys.modules], file=sys.stderr); sys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", script, *arguments], capture_output=True, text=True)

    assert done.returncode == 0, done.stderr
    assert done.stderr == f"{loaded}\n"


def test_a_pot_through_time_loads_the_flow_and_no_more(tmp_path, monkeypatch, prepared_flow):
    monkeypatch.setenv("FRIABLE_DATA", str(tmp_path / "nothing-here"))
    script = (
        "import sys; from friable.cli.main import main; code = main(sys.argv[1:]); "
        f"print([name for name in {HEAVIER} if name in sys.modules], 'numba' in sys.modules, "
        "file=sys.stderr); sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, "water", BARK_MIX, *POT, "--json"], capture_output=True, text=True
    )

    assert (done.returncode, done.stderr) == (0, "[] True\n")


def test_every_command_is_there_whether_all_or_one_are_loaded():
    assert list(commands_for([]).commands) == list(COMMANDS)
    for command in COMMANDS:
        assert command in commands_for([command]).commands


def test_a_word_that_is_no_command_is_told(capsys):
    assert main(["no-such"]) == 2
    assert capsys.readouterr().err == "No such command 'no-such'. See friable --help.\n"


def test_text_that_is_no_utf_8_is_refused(capsys):
    assert main(["moisture", "--mass", "\udcff", "--at", "30%", "--to", "50%"]) == 2
    assert capsys.readouterr().err == (
        "--mass “” holds a hidden character (u+dcff). Type it by hand instead of pasting it.\n"
    )
