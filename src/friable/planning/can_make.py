"""How many litres of each mix can be made from what is here, and what could stand in where it is short."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from friable.errors import BadQuantity, Refused
from friable.planning.forecast import merge_parts
from friable.planning.limits import Limits
from friable.planning.replacing import replace as replace_materials
from friable.planning.replacing_values import Candidate, ReplaceCase
from friable.science.mixture import blend, grades
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.reference.materials import Material
    from friable.science.containers import Container

STAND_INS = 3  # swaps and recipes looked at more closely for each mix that is short
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class CanMake:
    """One mix: what can be made of it, what ends it, and what could stand in for the rest."""

    name: str
    litres: float | None  # finished; None: nothing in it was ever counted
    limited_by: "Material | None"  # what runs out first; None where nothing was counted
    used_up: tuple[str, ...]  # titles of what would not reach for the litres wanted
    not_counted: tuple[str, ...]  # titles of what was never counted: taken to reach
    wanted_l: float | None
    stand_in: Candidate | None  # nearest recipe within stock for the litres wanted
    said: str

    @property
    def is_short(self) -> bool:
        """Whether fewer litres can be made than are wanted."""
        return bool(self.used_up)

    def to_json(self) -> dict[str, Any]:
        """Return the mix under the names that programs read."""
        return {
            "name": self.name,
            "litres": self.litres,
            "limited_by": self.limited_by.title if self.limited_by else None,
            "used_up": list(self.used_up),
            "not_counted": list(self.not_counted),
            "wanted_l": self.wanted_l,
            "stand_in": self.stand_in.to_json() if self.stand_in else None,
            "said": self.said,
        }


def can_make(
    mixes: "Sequence[tuple[str, Sequence[tuple[Material, float]], float | None]]",
    at_hand: "Sequence[AtHand]",
    *,
    wanted_l: float | None = None,
    containers: "Sequence[Container]" = (),
    layer_material: "Material | None" = None,
    limits: Limits | None = None,
    parts: int = 10,
    kinds: int = 4,
    search: bool = True,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[CanMake, ...]:
    """Return what can be made of each mix, in the order given.

    Parameters
    ----------
    mixes : sequence of (name, parts, shrinkage)
        Parts in any one unit of loose volume; shrinkage as a share of what is poured, None: as forecast.
    at_hand : sequence of AtHand
        What is here. A material that is not among it is taken to be missing; one that was never counted is
        taken to reach, and named.
    wanted_l : float, optional
        Litres of finished mix that are wanted of each; with containers, a mix that is short gets a stand-in.
        None: a mix is short if none of it can be made, and the stand-in has to fill the first container.
    containers : sequence of Container, optional
        In which the mixes are used: a stand-in is judged in them.

    Raises
    ------
    BadQuantity, BadRecipe
        If a mix, a shrinkage or the litres are impossible.
    Cancelled
        If `cancelled` said so.

    Notes
    -----
    Each mix is reckoned as if it alone were made.
    """
    if wanted_l is not None and not 0 < wanted_l < math.inf:
        raise BadQuantity(_("litres wanted"), wanted_l, "L", _("above 0"))
    by_key = {one.material.key: one for one in at_hand}
    found = []
    for name, lines, shrinkage in mixes:
        one = _counted(name, lines, shrinkage, by_key, wanted_l)
        if one.is_short and containers:
            case = ReplaceCase(
                mix=tuple(lines),
                without=frozenset(m.key for m, _share in merge_parts(lines) if m.title in one.used_up),
                containers=tuple(containers),
                at_hand=tuple(at_hand),
                parts=parts,
                kinds=kinds,
                limits=replace(
                    limits or Limits(),
                    litres=wanted_l or containers[0].medium_volume_l,
                    within_stock=True,
                ),
                layer_material=layer_material,
            )
            try:
                answer = replace_materials(case, best=STAND_INS, search=search, cancelled=cancelled)
            except Refused:
                one = replace(one, said=one.said + " " + _("Nothing here can stand in for it."))
            else:
                nearest = answer.candidates[0]
                one = replace(
                    one,
                    stand_in=nearest,
                    said=one.said
                    + " "
                    + _("Nearest from what is here: {recipe}.").format(recipe=nearest.text),
                )
        found.append(one)
    return tuple(found)


def _counted(
    name: str,
    lines: "Sequence[tuple[Material, float]]",
    shrinkage: float | None,
    by_key: "Mapping[str, AtHand]",
    wanted_l: float | None,
) -> CanMake:
    merged = merge_parts(lines)
    if shrinkage is None:
        shrinkage = _forecast_shrinkage(merged)
    if not 0 <= shrinkage < 1:
        raise BadQuantity(
            _("shrinkage of {name}").format(name=name), shrinkage, "", _("at least 0 and below 1")
        )
    total = sum(share for _material, share in merged)
    reach: list[tuple[float, Material]] = []
    not_counted = []
    for material, share in merged:
        one = by_key.get(material.key)
        stock = 0.0 if one is None else one.stock_l
        if stock is None:
            not_counted.append(material.title)
        else:
            reach.append((stock * total / share * (1 - shrinkage), material))
    litres, limited_by = min(reach, key=lambda pair: (pair[0], pair[1].title)) if reach else (None, None)
    short = wanted_l if wanted_l is not None else 0.0
    used_up = tuple(
        material.title for reaches, material in reach if reaches < short * (1 - ROUNDING) or reaches <= 0
    )
    return CanMake(
        name=name,
        litres=litres,
        limited_by=limited_by,
        used_up=used_up,
        not_counted=tuple(not_counted),
        wanted_l=wanted_l,
        stand_in=None,
        said=_said(name, litres, limited_by, tuple(not_counted)),
    )


def _said(
    name: str, litres: float | None, limited_by: "Material | None", not_counted: tuple[str, ...]
) -> str:
    if litres is None or limited_by is None:
        return _("{name}: nothing in it was ever counted; count its materials.").format(name=name)
    if litres <= 0:
        said = _("{name}: none; there is no {material}.").format(name=name, material=limited_by.title)
    else:
        said = _("{name}: {litres} L; then {material} runs out.").format(
            name=name, litres=_litres(litres), material=limited_by.title
        )
    if not_counted:
        said += " " + _("Never counted: {materials}.").format(materials=", ".join(not_counted))
    return said


def _litres(litres: float) -> str:
    """Return litres that are surely there: rounded down to two digits, from 100 on to whole litres."""
    if litres >= 100:
        return f"{math.floor(litres + ROUNDING):,}"
    step = 10 ** (math.floor(math.log10(litres)) - 1)
    return f"{math.floor(litres / step + ROUNDING) * step:.4g}"


def _forecast_shrinkage(merged: "Sequence[tuple[Material, float]]") -> float:
    curves = grades(tuple(material.physics for material, _share in merged))
    return float(blend([share for _material, share in merged], curves).shrinkage)
