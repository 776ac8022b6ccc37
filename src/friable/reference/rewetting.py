"""From which dryness materials resist wetting, and how much of a watering then runs past."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from friable.errors import BadRecipe
from friable.reference.load import read_table
from friable.reference.materials import Material
from friable.reference.row import Row
from friable.science.estimate import Estimate
from friable.science.retention import saturation
from friable.wording import gettext as _

DRIEST_CM = 131_071.0  # the end of the tables of suction that the flow of water uses
SAME_PLACE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Rewetting:
    """How one group of materials behaves once dry. Water as a share of the volume of the material."""

    name: str
    materials: tuple[str, ...]
    below: Estimate  # water under which it begins to shed
    again_from: float  # water above which it takes water up readily again
    run_past: Estimate  # share of a watering that runs past while it sheds
    remark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MixedRewetting:
    """How a mix behaves once dry. Suctions are those of the material that sheds first. [cm]

    Water hangs at one suction in all materials of a mix, so the dryness of a mix at which one of them begins
    to shed is the water that the mix holds at that suction.
    """

    material: str  # title of the one that decides
    from_suction_cm: Estimate
    again_below_suction_cm: float
    run_past: Estimate
    remark: str


@cache
def all_rewetting() -> tuple[Rewetting, ...]:
    """Return every group of materials that sheds water once dry, in the order of the table.

    Raises
    ------
    LookupError
        If figures of a row are out of order or out of range.
    """
    return tuple(_rewetting(row) for row in read_table("rewetting"))


def _rewetting(row: Row) -> Rewetting:
    below = [row.number(column) for column in ("below_low", "below", "below_high")]
    run_past = [row.number(column) for column in ("run_past_low", "run_past", "run_past_high")]
    again_from = row.number("again_from")
    for name, (low, value, high) in (("below", below), ("run_past", run_past)):
        if not 0 <= low <= value <= high < 1:
            raise row.refused(_("{name} is out of order or out of range").format(name=name))
    if not below[2] <= again_from < 1:
        raise row.refused(
            _("again_from ({again:g}) must be at least below_high ({high:g}) and below 1").format(
                again=again_from, high=below[2]
            )
        )
    if not row.list("materials"):
        raise row.refused(_("no material is named"))
    return Rewetting(
        name=row["name"],
        materials=row.list("materials"),
        below=Estimate(below[1], below[0], below[2], row["below_how_known"], row["below_source"]),
        again_from=again_from,
        run_past=Estimate(
            run_past[1], run_past[0], run_past[2], row["run_past_how_known"], row["run_past_source"]
        ),
        remark=row["remark"],
    )


def rewetting_of(material: Material) -> Rewetting | None:
    """Return how a material behaves once dry; None if it takes water up readily, or nobody knows.

    A material of one's own is judged by what is said of it (`hydrophobic_when_dry`) and has no figures here.
    """
    return next((group for group in all_rewetting() if material.key in group.materials), None)


def mixed_rewetting(parts: Sequence[tuple[Material, float]]) -> MixedRewetting | None:
    """Return how a mix behaves once dry; None if nothing in it sheds water.

    Parameters
    ----------
    parts : sequence of (Material, loose volume)
        In any order and any one unit of volume.

    Raises
    ------
    BadRecipe
        If there are no parts, or a volume is negative or not a number.

    Notes
    -----
    What runs past is averaged by loose volume, since the wettability of sand passes to a mix in proportion
    to its amount [beardsell1982]_. The material that decides the dryness is the one that brings most of it.
    """
    if not parts or not all(volume >= 0 for _material, volume in parts):
        raise BadRecipe(_("The parts of a mix must be named, each with a volume of 0 or more."))
    whole = sum(volume for _material, volume in parts)
    if not whole > 0:
        raise BadRecipe(_("The parts of a mix must be named, each with a volume of 0 or more."))
    shedding = [
        (material, volume / whole, group)
        for material, volume in parts
        if volume > 0 and (group := rewetting_of(material)) is not None
    ]
    if not shedding:
        return None
    material, _share, group = max(shedding, key=lambda part: part[1] * part[2].run_past.value)
    low, value, high = (
        sum(share * getattr(of.run_past, end) for _material, share, of in shedding)
        for end in ("low", "value", "high")
    )
    return MixedRewetting(
        material=material.title,
        from_suction_cm=Estimate(
            suction_at_cm(material, group.below.value),
            suction_at_cm(material, group.below.high),
            suction_at_cm(material, group.below.low),
            "estimated",
            group.below.source,
        ),
        again_below_suction_cm=suction_at_cm(material, group.again_from),
        run_past=Estimate(value, low, high, "estimated", group.run_past.source),
        remark=group.remark,
    )


def suction_at_cm(material: Material, water: float) -> float:
    """Return the suction at which a material holds this share of its volume as water. [cm]

    Never beyond `DRIEST_CM`, and 0 where it cannot hold as much.
    """

    def held(suction_cm: float) -> float:
        of = material.physics
        outer = saturation(suction_cm, of.alpha_ext_per_cm, of.n_ext)
        inner = saturation(suction_cm, of.alpha_int_per_cm, of.n_int)
        inside = (1 - of.void_fraction) * of.internal_porosity
        return float(of.void_fraction * outer + inside * inner)

    low, high = 0.0, float(np.log1p(DRIEST_CM))
    if held(DRIEST_CM) >= water:
        return DRIEST_CM
    while high - low > SAME_PLACE:
        middle = (low + high) / 2
        low, high = (middle, high) if held(float(np.expm1(middle))) > water else (low, middle)
    return float(np.expm1(high)) if low > 0 else 0.0
