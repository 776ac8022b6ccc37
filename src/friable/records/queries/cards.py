"""What stands on the card of a mix besides its materials."""

from friable.records.models import MixVersion
from friable.records.queries.mixes import versions_below


def added_and_not_for(version: MixVersion) -> tuple[list[str], list[str]]:
    """Return what is added to a version and to the mixes within it, by name, and the plants it is not for."""
    within = versions_below(version)
    added = [amendment.name for one in within for amendment in one.amendments.all()]
    return added, [one.not_for for one in within]
