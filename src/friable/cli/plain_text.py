"""Options that are text or a switch are taken as typed, without the validation library Typer would load.

Loading it takes a tenth of a second, a quarter of what a small command takes as a whole, to find that text
is text. Each option is read and judged by the command itself.
"""

from collections.abc import Callable
from typing import Any

from typer.core import TyperGroup


def take_text_as_typed(group: TyperGroup) -> None:
    """Let every option and argument that is a single text or a switch be taken as it stands."""
    for command in (group, *group.commands.values()):
        command.get_params = _Params(command.get_params)


class _Params:
    """Stands for the listing of a command's options, the one for help among them."""

    def __init__(self, listed: Callable[[Any], list[Any]]) -> None:
        self._listed = listed

    def __call__(self, ctx: Any) -> list[Any]:
        params = self._listed(ctx)
        for param in params:
            kind = getattr(getattr(param, "type_descriptor", None), "annotation", None)
            known = isinstance(param.get_runtime_param, _AsTyped)
            if kind in (str, bool) and param.nargs == 1 and not param.multiple and not known:
                param.get_runtime_param = _AsTyped(kind, param.get_runtime_param)
        return params


class _AsTyped:
    """Stands for what Typer would build: what has its type already passes, all else is Typer's to judge."""

    def __init__(self, kind: type, build: Callable[[], Any]) -> None:
        self._kind, self._build = kind, build

    def __call__(self) -> "_AsTyped":
        return self

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        """Return the value, or what Typer makes of it."""
        if value is None or isinstance(value, self._kind):
            return value
        return self._build().coerce(value, param=param, ctx=ctx)
