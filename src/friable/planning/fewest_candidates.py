"""Which mixes may be kept, and how each does in each stand."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from friable.planning.collection_values import Mix
from friable.planning.fewest_card import mix_key
from friable.planning.fewest_values import FOUND, GIVEN, PRESENT, Candidate, FewestCase, Fit, Stand
from friable.planning.find_values import Cancelled

if TYPE_CHECKING:
    from friable.planning.fewest_recipes import Recipe
    from friable.reference.materials import Material

    Judge = Callable[[Mix, Stand], Fit]

NOT_WITHIN = Fit(keeps=False, chance=None)


def candidates_of(
    case: FewestCase, recipes: "Sequence[Recipe]"
) -> "dict[str, tuple[Candidate, Recipe | None]]":
    """Return present mixes, those that are given, and recipes, by the key of the mix.

    Mixes of the same materials, shares and card are one candidate, under the name that came first.
    """
    known: dict[str, tuple[Candidate, Recipe | None]] = {}
    names: set[str] = set()

    def add(mix: Mix, origin: str, recipe: "Recipe | None" = None) -> None:
        key = mix_key(mix)
        if key not in known:
            name = _free(mix.title, names)
            names.add(name)
            known[key] = Candidate(name, mix, origin), recipe

    for line in case.stands.lines:
        if line.mix is not None:
            add(line.mix, PRESENT)
    for mix in case.given:
        add(mix, GIVEN)
    for one in recipes:
        add(found_mix(one.text, one.parts, case.pair_overlap_loss), FOUND, one)
    return known


def found_mix(
    title: str,
    parts: "Sequence[tuple[Material, int]]",
    losses: Mapping[frozenset[str], float],
) -> Mix:
    """Return a recipe that was found as a mix, with what was measured of its pairs of materials."""
    keys = {material.key for material, _amount in parts}
    own = {pair: loss for pair, loss in losses.items() if pair <= keys}
    return Mix(title, tuple((material, float(amount)) for material, amount in parts), own or None)


def fits(
    case: FewestCase,
    candidates: "Sequence[tuple[Candidate, Recipe | None]]",
    judge: "Judge",
    cancelled: Callable[[], bool] | None = None,
) -> dict[int, list[Fit]]:
    """Return for each stand that has a window how every candidate does in it, in their order.

    Of a recipe that was found only the chance is known, and only where it lies within.

    Raises
    ------
    Cancelled
        If it was stopped.
    """
    judged: dict[int, list[Fit]] = {}
    for place, stand in enumerate(case.stands.stands):
        if not stand.windows:
            continue
        of_stand = judged.setdefault(place, [])
        for candidate, recipe in candidates:
            if recipe is not None:
                chance = recipe.chances.get(place)
                of_stand.append(NOT_WITHIN if chance is None else Fit(keeps=True, chance=chance))
                continue
            if cancelled is not None and cancelled():
                raise Cancelled
            of_stand.append(judge(candidate.mix, stand))
    return judged


def _free(name: str, taken: set[str]) -> str:
    """Return a name that no other candidate has."""
    if name not in taken:
        return name
    number = 2
    while f"{name} ({number})" in taken:
        number += 1
    return f"{name} ({number})"
