"""`friable serve`: the pages, for a browser on this machine."""

import os
from typing import Annotated

import typer

from friable.cli import answer, binding
from friable.errors import FriableError
from friable.wording import gettext as _

SETTINGS = "friable.project.settings"


def start_django() -> None:
    """Load the settings and the models."""
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
    django.setup()


def refuse(problem: FriableError) -> typer.Exit:
    """Print the sentence of a refusal on standard error; raise what is returned to leave with code 2."""
    answer.print_refusal(str(problem))
    return typer.Exit(2)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="serve", help=_("Serve the pages to a browser on this machine."))(serve)


def serve(
    bind: Annotated[str, typer.Option(help=_("Address and port; this machine's own only."))] = "",
    as_json: Annotated[bool, typer.Option("--json", help=_("Print the address as JSON."))] = False,
) -> None:
    """Bring the database up to date, then serve until Ctrl-C."""
    os.umask(0o077)
    try:
        binding.refuse_elsewhere(os.environ)
        wanted = bind or os.environ.get("FRIABLE_BIND", "").strip() or binding.DEFAULT_BIND
        host, port = binding.read_bind(wanted)

        from friable.cli import serving

        listening = serving.open_socket(host, port)
        serving.spare_memory()
        start_django()
        from django.conf import settings

        binding.refuse_other_names(settings.ALLOWED_HOSTS, "ALLOWED_HOSTS")
        from friable.exchange import schema

        if kept := schema.bring_up_to_date():
            typer.echo(
                _("The database was brought up to date; the old one is kept as {file}.").format(file=kept),
                err=True,
            )
        serving.collect_static()
    except FriableError as problem:
        raise refuse(problem) from problem
    shown_host = f"[{host}]" if ":" in host else host
    serving.run_server(listening, f"http://{shown_host}:{port}", as_json=as_json)
