"""Judges one recipe after another against the mix that it would stand in for: limits and distance."""

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from friable.errors import BadQuantity, Refused
from friable.planning.find_values import MOST_KINDS, MOST_PARTS
from friable.planning.forecast import merge_parts
from friable.planning.replacing_distance import WEIGHT, behaviour, distance, measured
from friable.planning.replacing_values import Distance, ReplaceCase
from friable.planning.windows import mix_flags
from friable.reference.material_flags import material_flags
from friable.reference.windows import FLAGS
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from friable.planning.at_hand import AtHand
    from friable.reference.materials import Material

    Parts = Sequence[tuple[Material, float]]

LONGEST_WHOLE = 400  # parts in all; a recipe that needs more is told in per cent
FINEST_SHARE = 2000
ROUNDING = 1e-9


class Judge:
    """What a case comes to: the mix with what it does, what goes, what may be used, and the limits.

    Raises
    ------
    BadRecipe, BadQuantity
        If the mix is empty or impossible, no container is named, or parts or kinds are out of range.
    Refused
        If nothing of the mix goes, nothing is left to put in its place, or what must be there is not at hand.
    """

    def __init__(self, case: ReplaceCase) -> None:
        for name, value, most in (
            (_("whole parts in all"), case.parts, MOST_PARTS),
            (_("materials in a recipe"), case.kinds, MOST_KINDS),
        ):
            if not 1 <= value <= most:
                raise BadQuantity(name, value, "", _("from 1 to {most}").format(most=most))
        self.case = case
        self.mix: list[tuple[Material, float]] = merge_parts(case.mix)
        self.gone = tuple(material for material, _share in self.mix if material.key in case.without)
        self.stays = tuple(material for material, _share in self.mix if material.key not in case.without)
        if not self.gone:
            raise Refused(
                _("None of what must go is in the mix; it is made of {materials}.").format(
                    materials=", ".join(material.title for material, _share in self.mix)
                )
            )
        self.at_hand: dict[str, AtHand] = {one.material.key: one for one in case.at_hand}
        self.flags_of = {material.key: material_flags(material) for material, _share in self.mix}
        self.flags_of |= {key: one.flags for key, one in self.at_hand.items()}
        self.usable = tuple(
            self.at_hand[key]
            for key in sorted(self.at_hand)
            if key not in case.without and self._may_be_used(self.at_hand[key])
        )
        if not self.usable and case.limits.within_stock and self.at_hand.keys() - case.without:
            raise Refused(
                _(
                    "Nothing that could take its place is counted in stock and allowed; count it, or look "
                    "beyond the stock."
                )
            )
        if not self.usable:
            raise Refused(
                _(
                    "Nothing that may be used is left to put in its place; name more materials, or loosen "
                    "a limit."
                )
            )
        self._refuse_what_must_but_cannot()
        self.of = behaviour(case.containers, case.layer_material)
        self.before, self.shrinkage = measured(self.mix, self.of, case.pair_overlap_loss)
        self.flags_before = mix_flags(self.mix, self.flags_of)

    def judged(self, parts: "Parts") -> Distance | None:
        """Return how far a recipe is from the mix; None if a limit forbids it."""
        figures, shrinkage = measured(parts, self.of, self.case.pair_overlap_loss)
        flags = self.flags(parts)
        if not self._is_allowed(parts, figures, shrinkage, flags):
            return None
        return distance(self.of, self.before, figures, self.flags_before, flags)

    def flags(self, parts: "Parts") -> dict[str, Any]:
        """Return the flags of a recipe."""
        return mix_flags(parts, self.flags_of)

    def cost_per_l(self, parts: "Parts", shrinkage: float) -> float | None:
        """Return what a litre of finished mix costs; None if a price is not known."""
        total, cost = sum(share for _material, share in parts), 0.0
        for material, share in parts:
            one = self.at_hand.get(material.key)
            if one is None or one.cost_per_l is None:
                return None
            cost += share / total * one.cost_per_l
        return cost / (1 - shrinkage)

    def reaches(self, parts: "Parts", shrinkage: float) -> bool | None:
        """Say whether the stock reaches for the litres asked; None: none asked, or a stock is not known."""
        if self.case.limits.litres is None:
            return None
        total = sum(share for _material, share in parts)
        needed = self.case.limits.litres / (1 - shrinkage)
        stocks = [
            (self.at_hand[m.key].stock_l if m.key in self.at_hand else None, share / total * needed)
            for m, share in parts
        ]
        if any(stock is not None and stock < need * (1 - ROUNDING) for stock, need in stocks):
            return False
        return None if any(stock is None for stock, _need in stocks) else True

    def _refuse_what_must_but_cannot(self) -> None:
        usable = {one.material.key for one in self.usable}
        titles = {material.key: material.title for material, _share in self.mix}
        titles |= {key: one.material.title for key, one in self.at_hand.items()}
        for key in self.case.limits.must:
            if key not in usable:
                raise Refused(
                    _(
                        "{title} must be in the mix, but it is not at hand or a limit leaves it out; "
                        "drop one of the two."
                    ).format(title=titles.get(key, key))
                )

    def _may_be_used(self, one: "AtHand") -> bool:
        """Say whether no limit forbids a material whatever its share."""
        limits = self.case.limits
        for flag in FLAGS:
            allowed = getattr(limits, flag)
            if allowed is not None and getattr(one.flags, flag) not in allowed:
                return False
        return not (limits.within_stock and not one.stock_l)

    def _is_allowed(
        self, parts: "Parts", figures: "NDArray[Any]", shrinkage: float, flags: dict[str, Any]
    ) -> bool:
        limits = self.case.limits
        keys = {material.key for material, _share in parts}
        if not keys >= set(limits.must) or any(set(pair) <= keys for pair in limits.never_with):
            return False
        if limits.within_stock and not self.reaches(parts, shrinkage):
            return False
        if limits.most_peat_share is not None and flags["peat_share"] > limits.most_peat_share + ROUNDING:
            return False
        if limits.least_years is not None and (flags["years"] is None or flags["years"] < limits.least_years):
            return False
        if limits.most_cost_per_l is not None:
            cost = self.cost_per_l(parts, shrinkage)
            if cost is None or cost > limits.most_cost_per_l + ROUNDING:
                return False
        if limits.most_wet_kg_l is not None:
            rows = [place for place, kind in enumerate(self.of.kinds) if kind == WEIGHT]
            if (self.of.coefficients[rows] @ figures).max() > limits.most_wet_kg_l + ROUNDING:
                return False
        return limits.most_buckets is None or whole_total(parts) <= limits.most_buckets


def swapped(
    mix: "Parts", gone: "Sequence[Material]", material: "Material"
) -> "tuple[tuple[Material, float], ...]":
    """Return the mix with one material in the place of those that go, by the same parts."""
    keys = {one.key for one in gone}
    stays = [(one, share) for one, share in mix if one.key not in keys]
    put = sum(share for one, share in mix if one.key in keys)
    return in_order(whole(merge_parts([*stays, (material, put)])))


def whole(parts: "Parts") -> "tuple[tuple[Material, float], ...]":
    """Return the parts in the smallest whole numbers, or in per cent where these would be large."""
    total = sum(share for _material, share in parts)
    shares = [Fraction(share / total).limit_denominator(FINEST_SHARE) for _material, share in parts]
    common = math.lcm(*(share.denominator for share in shares))
    numbers = [int(share * common) for share in shares]
    divisor = math.gcd(*numbers) or 1
    numbers = [number // divisor for number in numbers]
    if sum(numbers) > LONGEST_WHOLE or not all(numbers):
        return tuple((material, round(100 * share / total, 4)) for material, share in parts)
    return tuple((material, float(number)) for (material, _share), number in zip(parts, numbers, strict=True))


def whole_total(parts: "Parts") -> float:
    """Return the sum of the parts in their smallest whole numbers."""
    return sum(number for _material, number in whole(parts))


def in_order(parts: "Parts") -> "tuple[tuple[Material, float], ...]":
    """Return the parts as they are told: the largest first, equal ones by name."""
    return tuple(sorted(parts, key=lambda part: (-part[1], part[0].title)))


def recipe_text(parts: "Parts") -> str:
    """Return a recipe as it is typed: “5 pine bark nursery 0-12 mm + 1 perlite coarse 2-6 mm”."""
    unit = "" if all(number == int(number) for _material, number in parts) else " %"
    return " + ".join(f"{number:g}{unit} {material.title}" for material, number in parts)


def rank(value: float, parts: "Parts") -> tuple[float, int, float, str]:
    """Return what recipes are sorted by: distance, fewer materials, fewer parts, name."""
    return round(value, 9), len(parts), sum(number for _material, number in parts), recipe_text(parts)
