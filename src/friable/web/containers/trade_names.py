"""What published lists say of a trade name."""

from friable.errors import FriableError
from friable.reference.containers import KnownContainer, find_container


def trade_name(text: str) -> KnownContainer | None:
    """Return what lists say of a name; None if it is no trade name, or could mean several."""
    try:
        return find_container(text)
    except FriableError:
        return None
