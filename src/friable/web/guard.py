"""Who may do what.

Friable serves one bench: whoever sits at this machine is the local person, and may do everything. Every
view still says which act it stands for, so that the question has one place.
"""

from collections.abc import Callable
from functools import wraps

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

ACTS = frozenset(
    {
        "see the bench",
        "say who is on shift",
        "plan potting",
        "plan batches",
        "record batches",
        "undo batches",
        "print sheets",
        "see mixes",
        "write mixes",
        "see materials",
        "change materials",
        "count the store",
        "set prices",
        "see windows",
        "set windows",
        "find mixes",
        "see sayings",
        "see containers",
        "change containers",
        "measure",
        "see watering",
        "see climates",
        "keep climates",
        "see seasons",
        "run seasons",
    }
)


def local_person_may(act: str) -> bool:
    """Say whether the person at this machine may do an act."""
    return act in ACTS


def may(act: str) -> Callable:
    """Let a view answer only whoever may do the act; name acts that stand in `ACTS`."""
    if act not in ACTS:
        raise LookupError(f"{act!r} is not in friable.web.guard.ACTS; add it there.")

    def guard(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
        @wraps(view)
        def guarded(request: HttpRequest, *args, **kwargs) -> HttpResponseBase:
            if not local_person_may(act):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return guarded

    return guard
