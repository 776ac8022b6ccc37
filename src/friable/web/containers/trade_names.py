"""What published lists say of a trade name."""

import re

from friable.errors import FriableError
from friable.reference.containers import KnownContainer, find_container

POT = re.compile(r"\b(?:pots?|containers?)\b", re.IGNORECASE)


def trade_name(text: str) -> KnownContainer | None:
    """Return what lists say of a name such as “2 L” or “2 L pot”; None if they say nothing of it alone."""
    for name in (text, POT.sub(" ", text)):
        try:
            return find_container(name)
        except FriableError:
            continue
    return None
