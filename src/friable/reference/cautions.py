"""What can hurt, and what to do about it; local rules come first."""

from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution, the words in a material's hazards that call for it, and its source."""

    hazard: str
    applies_to: tuple[str, ...]
    caution: str
    how_known: str
    source: str


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Return every caution, in the order of the table."""
    return tuple(
        Caution(
            hazard=row["hazard"],
            applies_to=row.list("applies_to"),
            caution=row["caution"],
            how_known=row["how_known"],
            source=row["source"],
        )
        for row in read_table("cautions")
    )


def cautions_for(hazards: str) -> tuple[Caution, ...]:
    """Return the cautions that a material's hazards call for.

    Parameters
    ----------
    hazards : str
        Words joined by ;, as in `Material.hazards`.
    """
    words = {word.strip() for word in hazards.split(";")}
    return tuple(caution for caution in all_cautions() if words & set(caution.applies_to))


def caution_about(hazard: str) -> Caution:
    """Return the caution about one hazard, such as "lifting".

    Raises
    ------
    KeyError
        If the table has no such hazard.
    """
    return {caution.hazard: caution for caution in all_cautions()}[hazard]
