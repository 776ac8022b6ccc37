"""Cautions as they stand on paper, wherever someone can get hurt: words and their source."""

from dataclasses import dataclass

from friable.wording import gettext as _


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution and where it comes from."""

    text: str
    source: str


def follow_local_rules() -> str:
    """Return the sentence under every list of cautions."""
    return _("Follow your local rules and the person responsible for safety where you work.")
