"""What a wet litre weighs, and what bales and bricks give."""

import math

from friable.errors import BadQuantity
from friable.planning.lifting import wet_mass_note
from friable.planning.packs import Packs, packs_needed, yields_of
from friable.planning.sayings.drawn_together import in_pot
from friable.planning.sayings.said import between_litres, litres
from friable.planning.sayings.values import (
    DEPENDS,
    FAILS,
    HOLDS,
    Asked,
    Number,
    Role,
    SayingCase,
    Told,
)
from friable.reference.yields import PackYield, pack_yields
from friable.science.estimate import Estimate
from friable.wording import gettext as _

ABOUT = 0.1  # of a kilo; common practice, no source
BUCKET_L = 10.0
MOST_COMPARED = 8
DOUBLE = 2.0
DOUBLE_LOW, DOUBLE_HIGH = 1.9, 2.1
BRICK_LOW_L, BRICK_HIGH_L, BRICK_KG = 8.0, 11.0, 0.65
PEAT, COIR_BRICK = "sphagnum peat", "coir brick"


def asked_of_weight() -> Asked:
    """What it is asked of."""
    usual = (
        "1 sphagnum peat medium + 3 perlite coarse",
        "3 sphagnum peat medium + 1 perlite fine",
        "crushed granite grit",
    )
    return Asked(
        media=tuple(Role(_("a mix or material"), one) for one in usual),
        most_media=MOST_COMPARED,
        container="round 17/12/13 cm",
    )


def litre_is_a_kilo(case: SayingCase) -> Told:
    """Weight of a litre of each medium after watering and draining."""
    rows, weights = [], []
    for medium in case.media:
        found = in_pot((medium,), [(1.0,)], case.pot, case.samples)
        dry, water = found.density.of(0), found.water.of(0)
        wet = found.wet_density.of(0)
        weights.append(wet)
        rows.append(
            Number(
                medium.name,
                {"dry_bulk_density_g_cm3": dry, "container_capacity": water, "wet_density_kg_l": wet},
            )
        )
    near = [abs(wet.value - 1) <= ABOUT for wet in weights]
    verdict = HOLDS if all(near) else FAILS if not any(near) else DEPENDS
    ends = {
        HOLDS: _("Each is about a kilo."),
        FAILS: _("None of them is about a kilo."),
        DEPENDS: _("It depends on what is in it: grit and sand weigh more, bark and perlite less."),
    }
    lightest, heaviest = min(weights, key=_middle), max(weights, key=_middle)
    return Told(
        verdict=verdict,
        answer=_(
            "After watering and draining a litre weighs {low:.2g} kg ({light}) to {high:.2g} kg "
            "({heavy}). {so}"
        ).format(
            low=lightest.value,
            light=case.media[weights.index(lightest)].name,
            high=heaviest.value,
            heavy=case.media[weights.index(heaviest)].name,
            so=ends[verdict],
        )
        if len(weights) > 1
        else _(
            "After watering and draining a litre of {mix} weighs {wet:.2g} kg, {low:.2g} to {high:.2g}. {so}"
        ).format(
            mix=case.media[0].name, wet=heaviest.value, low=heaviest.low, high=heaviest.high, so=ends[verdict]
        ),
        numbers=tuple(rows),
        remarks=(
            _("A bucket of {litres} of the heaviest: {note}").format(
                litres=litres(BUCKET_L), note=wet_mass_note(BUCKET_L * heaviest.value)
            ),
        ),
    )


def _middle(figure: Estimate) -> float:
    return figure.value


def asked_of_bale() -> Asked:
    """What it is asked of."""
    return Asked(pack_l="3.8 cu ft", need="168 L")


def bale_doubles(case: SayingCase) -> Told:
    """Loose litres of a bale by every published yield, and what that means for an order."""
    pack, need = _above_nothing(case.pack_l, "L"), case.a_need
    known = yields_of(PEAT, "L", pack)
    order = packs_needed(PEAT, need, pack, known.low, known.high, False, source=known.source)
    each = [row for row in pack_yields(PEAT) if row.unit == "ratio"]
    near = [row.yield_low >= DOUBLE_LOW and row.yield_high <= DOUBLE_HIGH for row in each]
    verdict = HOLDS if all(near) else FAILS if not any(near) else DEPENDS
    return Told(
        verdict=verdict,
        answer=_(
            "Printed yields run from {low:.3g} to {high:.3g} times: a bale of {pack} gives {span} loose. "
            "{order}"
        ).format(
            low=known.low,
            high=known.high,
            pack=litres(pack),
            span=between_litres(pack * known.low, pack * known.high),
            order=_needs(need, order),
        ),
        numbers=(
            *(
                _yield_row(
                    row,
                    pack,
                    {"ratio_low": row.yield_low, "ratio_high": row.yield_high},
                )
                for row in each
            ),
            _if_double(pack, need),
        ),
        remarks=(order.advice,),
    )


def _if_double(pack: float, need: float) -> Number:
    told = packs_needed(PEAT, need, pack, DOUBLE, DOUBLE, True)
    loose = pack * DOUBLE
    return Number(
        _("as the saying has it"), {"loose_low_l": loose, "loose_high_l": loose, "packs": told.packs}
    )


def asked_of_brick() -> Asked:
    """What it is asked of."""
    return Asked(pack_kg="650 g", need="42 L")


def brick_8_11(case: SayingCase) -> Told:
    """Loose litres of a brick by every published yield, and what that means for an order."""
    pack, need = _above_nothing(case.pack_kg, "kg"), case.a_need
    known = yields_of(COIR_BRICK, "kg", pack)
    order = packs_needed(
        COIR_BRICK, need, pack, known.low, known.high, False, size_unit="kg", source=known.source
    )
    said_low, said_high = (pack * one / BRICK_KG for one in (BRICK_LOW_L, BRICK_HIGH_L))
    low, high = pack * known.low, pack * known.high
    each = [row for row in pack_yields(COIR_BRICK) if row.pack_kg]
    inside = [
        said_low <= pack * row.yield_low / (row.pack_kg or pack)
        and pack * row.yield_high / (row.pack_kg or pack) <= said_high
        for row in each
    ]
    verdict = HOLDS if all(inside) else FAILS if not any(inside) else DEPENDS
    return Told(
        verdict=verdict,
        answer=_("By what is printed a brick of {pack:.3g} kg gives {span} loose. {order}").format(
            pack=pack, span=between_litres(low, high), order=_needs(need, order)
        ),
        numbers=tuple(_yield_row(row, pack / (row.pack_kg or pack), {}) for row in each),
        remarks=(order.advice,),
    )


def _needs(need: float, order: Packs) -> str:
    few, many = math.ceil(order.packs_low), order.packs
    if few == many:
        return _("For {need} that is {many} either way.").format(need=litres(need), many=many)
    return _("For {need} that is {few} or {many}: measure one and write it down.").format(
        need=litres(need), few=few, many=many
    )


def _yield_row(row: PackYield, per_unit: float, more: dict[str, float]) -> Number:
    said = row.remark or _("as printed")
    return Number(
        said,
        {
            **more,
            "loose_low_l": per_unit * row.yield_low,
            "loose_high_l": per_unit * row.yield_high,
            "source": row.source,
        },
    )


def _above_nothing(size: float | None, unit: str) -> float:
    if size is None or not size > 0:
        raise BadQuantity(_("the pack"), size or 0.0, unit, _("above 0"))
    return size
