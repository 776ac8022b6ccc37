"""What stands on the card of a mix besides its materials: what is added to it, and whom it is not for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from friable.planning.collection_values import Mix, mark_of, mix_facts
from friable.reference.windows import worst
from friable.reference.words import tokens

if TYPE_CHECKING:
    from friable.planning.recipe import RecipeBook
    from friable.planning.windows import Figure
    from friable.reference.plant_groups import PlantGroup

# Words by which an addition is known to bring lime or plant food (common practice, no source).
LIME = frozenset(
    {"lime", "limestone", "dolomite", "dolomitic", "chalk", "calcite", "marl", "oyster", "eggshell"}
)
FOOD = frozenset(
    {
        "fertiliser", "fertilizer", "feed", "food", "nitrate", "ammonium", "urea", "phosphate",
        "superphosphate", "potash", "manure", "hoof", "horn", "bone", "blood", "guano", "npk",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class CardMix(Mix):
    """A mix with what is added to it by name, and the plants that it is not for, as its card says it."""

    added: tuple[str, ...] = ()
    not_for: str = ""


def with_card(mix: Mix, book: "RecipeBook") -> Mix:
    """Return a mix with what is added to it, and to the mixes within it."""
    recipes = list(book.recipes.values())
    return carded(
        mix,
        [amendment.name for recipe in recipes for amendment in recipe.amendments],
        [recipe.not_for for recipe in recipes],
    )


def carded(mix: Mix, added: Sequence[str], not_for: Sequence[str]) -> Mix:
    """Return a mix with these additions, and the plants that it, or a mix within it, is not for."""
    if not any(added) and not any(not_for):
        return mix
    return CardMix(
        mix.title,
        mix.parts,
        mix.pair_overlap_loss,
        tuple(dict.fromkeys(name for name in added if name)),
        ", ".join(dict.fromkeys(plants for plants in not_for if plants)),
    )


def added_to(mix: Mix) -> tuple[str, ...]:
    """Return what is added to a mix, by name."""
    return mix.added if isinstance(mix, CardMix) else ()


def not_for(mix: Mix) -> str:
    """Return the plants that a mix is not for, as its card says it."""
    return mix.not_for if isinstance(mix, CardMix) else ""


def mix_key(mix: Mix) -> str:
    """Return what is the same for mixes that behave alike and carry the same card."""
    card = sorted(added_to(mix)), not_for(mix)
    return mark_of(mix_facts(mix), *card) if any(card) else mix_facts(mix)


def flags_with_added(flags: "Mapping[str, Figure]", added: Sequence[str]) -> "dict[str, Figure]":
    """Return the flags of a mix with what is added: lime and plant food by its name, else unknown."""
    told = dict(flags)
    for name in added:
        words = tokens(name)
        lime = "yes" if words & LIME else "no" if words & FOOD else "unknown"
        food = "yes" if words & FOOD else "no" if words & LIME else "unknown"
        for flag, word in (("lime", lime), ("feed", food)):
            before = told.get(flag)
            told[flag] = worst(flag, (before, word)) if isinstance(before, str) else word
    return told


def is_warned_off(plants: str, group: "PlantGroup") -> bool:
    """Say whether a card that names plants a mix is not for means this group: “heaths, bog plants”."""
    names = [tokens(name) for name in (group.group, *group.also_called)]
    named = [tokens(piece) for piece in plants.replace(";", ",").replace(" and ", ",").split(",")]
    return any(name and name <= piece for piece in named for name in names)
