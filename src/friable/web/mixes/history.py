"""The versions of a mix and what changed from one to the next."""

from collections.abc import Sequence
from dataclasses import dataclass

from friable.planning.recipe_changes import recipe_changes
from friable.records import plain
from friable.records.models import MixVersion
from friable.records.queries.mixes import use_of


@dataclass(frozen=True, slots=True)
class Told:
    """One version, what changed with it, and what uses it."""

    version: MixVersion
    changes: Sequence[str]
    used: str


def told(versions: Sequence[MixVersion]) -> list[Told]:
    """Return versions (newest first) with what changed since the one before."""
    recipes = [plain.recipe(version) for version in versions]
    older = [*recipes[1:], None]
    return [
        Told(version, recipe_changes(before, recipe) if before else (), use_of(version))
        for version, recipe, before in zip(versions, recipes, older, strict=True)
    ]
