"""What commands have in common: a refusal ends them with its sentence and code 2."""

from collections.abc import Callable
from functools import wraps
from typing import Annotated, ParamSpec

import typer

from friable.cli.answer import print_refusal
from friable.errors import FriableError
from friable.wording import gettext as _

AsJson = Annotated[bool, typer.Option("--json", help=_("Print JSON and nothing else."))]
REFUSED = 2
Arguments = ParamSpec("Arguments")


def refusing(command: Callable[Arguments, None]) -> Callable[Arguments, None]:
    """Turn a refusal into one sentence on standard error and code 2."""

    @wraps(command)
    def guarded(*args: Arguments.args, **kwargs: Arguments.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except FriableError as problem:
            print_refusal(str(problem))
            raise typer.Exit(REFUSED) from None

    return guarded


def optional_cm(text: str, option: str) -> float | None:
    """Return a length that may be left out. [cm]"""
    from friable.planning.units_in import centimetres

    return centimetres(text, option).value if text else None


def optional_share(text: str, option: str, *, below_one: bool = False) -> float | None:
    """Return a share that may be left out. [0..1]"""
    from friable.planning.units_in import fraction

    return fraction(text, option, below_one=below_one).value if text else None
