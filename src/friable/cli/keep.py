"""`friable backup`, `restore` and `check`: what keeps the data safe."""

import json
from pathlib import Path
from typing import Annotated

import typer

from friable.cli.serve import refuse, start_django
from friable.errors import FriableError
from friable.wording import gettext as _

AsJson = Annotated[bool, typer.Option("--json", help=_("Print JSON and nothing else."))]


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command(name="backup", help=_("Write everything to one verified file, while the server runs."))(
        backup
    )
    app.command(
        name="restore", help=_("Put a backup in place of the data in use, once it has proved sound.")
    )(restore)
    app.command(name="check", help=_("Say what is wrong with the data; exit 1 if anything is."))(check)


def backup(
    file: Annotated[Path, typer.Argument(help=_("The file to write."))],
    replace: Annotated[bool, typer.Option("--replace", help=_("Write over an older file."))] = False,
    as_json: AsJson = False,
) -> None:
    """Write everything to one verified file."""
    try:
        start_django()
        from friable.exchange.backup import back_up

        manifest = back_up(file, replace=replace)
    except FriableError as problem:
        raise refuse(problem) from problem
    if as_json:
        said = {"file": str(file), "made_at": manifest.made_at, "database_bytes": manifest.database_bytes}
        typer.echo(json.dumps(said))
    else:
        typer.echo(_("Backed up to {file}; read back and found whole.").format(file=file))


def restore(
    file: Annotated[Path, typer.Argument(help=_("A file that friable backup wrote."))],
    as_json: AsJson = False,
) -> None:
    """Put a backup in place of the data in use."""
    try:
        start_django()
        from friable.exchange.restore import restore as put_back

        done = put_back(file)
    except FriableError as problem:
        raise refuse(problem) from problem
    if as_json:
        said = {
            "file": str(file),
            "made_at": done.manifest.made_at,
            "kept": str(done.kept) if done.kept else None,
            "restart_needed": done.restart_needed,
        }
        typer.echo(json.dumps(said))
        return
    typer.echo(
        _("Restored the data of {moment} from {file}.").format(moment=done.manifest.made_at, file=file)
    )
    if done.kept:
        typer.echo(_("What was in use before is kept as {file}.").format(file=done.kept))
    if done.restart_needed:
        typer.echo(_("The old database was damaged; if friable is being served, stop it and start it again."))


def check(as_json: AsJson = False) -> None:
    """Say what is wrong with the data."""
    try:
        start_django()
        from friable.exchange.soundness import problems

        found = problems()
    except FriableError as problem:
        raise refuse(problem) from problem
    if as_json:
        typer.echo(json.dumps({"sound": not found, "problems": found}))
    elif not found:
        typer.echo(_("The data is sound."))
    else:
        for sentence in found:
            typer.echo(sentence)
    if found:
        raise typer.Exit(1)
