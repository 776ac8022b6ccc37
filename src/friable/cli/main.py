"""The command `friable`: one module a command, loaded when it is asked; figures are loaded inside them."""

import os
import sys
from collections.abc import Sequence
from importlib import import_module

import typer
from typer.core import TyperGroup
from typer.exceptions import TyperException
from typer.main import get_command

from friable.cli.answer import print_refusal
from friable.cli.plain_text import take_text_as_typed
from friable.wording import gettext as _

REFUSED = 2
STOPPED = 130

# In the order of the help: the module of each command, loaded only if that command is asked.
COMMANDS = {
    "mix": "mix",
    "materials": "materials",
    "job": "job",
    "packs": "packs",
    "pot-test": "pot_test",
    "moisture": "moisture",
    "water": "water",
    "season": "season",
    "find": "find",
    "replace": "replace",
    "saying": "saying",
    "fewest": "fewest",
    "serve": "serve",
    "backup": "keep",
    "restore": "keep",
    "check": "keep",
}


def commands_for(arguments: Sequence[str]) -> TyperGroup:
    """Return the command that the first word names, or all of them where it names none."""
    app = typer.Typer(
        name="friable",
        help=_("A workbench for growing media: air and water in a pot, litres and buckets for a job."),
        add_completion=False,
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
    )
    app.callback()(_nothing_of_its_own)
    asked = COMMANDS.get(arguments[0]) if arguments else None
    for module in [asked] if asked else dict.fromkeys(COMMANDS.values()):
        import_module(f"friable.cli.{module}").register(app)
    group = get_command(app)
    take_text_as_typed(group)
    return group


def _nothing_of_its_own() -> None:
    """Keep one command alone a command with a name."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code: 0, 1 where `check` found something, 2 for a refusal."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    given = sys.argv[1:] if arguments is None else list(arguments)
    if (twice := _given_twice(given)) is not None:
        print_refusal(
            _("{option} is given twice; give it once (several kinds of pots: --pots FILE.csv).").format(
                option=twice
            )
        )
        return REFUSED
    try:
        code = commands_for(given).main(args=given, prog_name="friable", standalone_mode=False)
        sys.stdout.flush()
    except TyperException as problem:
        return _misused(problem)
    except typer.Abort:
        return STOPPED
    except BrokenPipeError:
        # The reader has gone; nothing more can be said to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code if isinstance(code, int) else 0


def run() -> None:
    """Start the command from the shell."""
    # Its matrices are small: threads of the linear algebra library cost more to start than they save.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main())


def _given_twice(arguments: Sequence[str]) -> str | None:
    """Return the first option that stands twice: the parser would keep the last and drop the rest unsaid."""
    met: set[str] = set()
    for word in arguments:
        if word == "--":
            return None
        option = word.partition("=")[0]
        if option.startswith("--") and option in met:
            return option
        met.add(option)
    return None


def _misused(problem: TyperException) -> int:
    """Print what is wrong with the options: the help if nothing was asked, else one sentence."""
    said = problem.format_message().strip()
    if type(problem).__name__ == "NoArgsIsHelpError":
        sys.stderr.write(said + "\n")
        return REFUSED
    ends = "" if said.endswith((".", "!", "?", ")")) else "."
    print_refusal(f"{said}{ends} " + _("See friable --help."))
    return REFUSED


if __name__ == "__main__":
    run()
