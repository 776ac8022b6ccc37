"""What becomes of volumes when materials are mixed, and how even a mix can be."""

import math
from typing import TYPE_CHECKING

from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import InPot, in_pot
from friable.planning.sayings.said import litres, points, share_said, times
from friable.planning.sayings.values import (
    DEPENDS,
    FAILS,
    HOLDS,
    Asked,
    Medium,
    Number,
    Role,
    SayingCase,
    Told,
)
from friable.reference.states import measuring_state_factor
from friable.science.containers import Container
from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material

SHARES = (0.1, 0.2, 0.3, 0.4, 0.5)
SAID_LOW, SAID_HIGH = 0.05, 0.20
NOTHING = 0.01  # of the volume: less than a bucket mark; common practice, no source
# Shrinkage does not depend on the pot; any will do.
ANY_POT = Container(
    shape="round", top_length_cm=17, top_width_cm=17, bottom_length_cm=12, bottom_width_cm=12, height_cm=13
)
DRY = "loose dry"
NINETY = 1.645  # standard deviations that nine of ten lie within
EVEN, UNEVEN = 0.05, 0.20  # scatter that nobody minds, and that anybody sees; common practice, no source


def asked_of_shrinkage() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("one part"), "pine bark nursery"), Role(_("the other"), "horticultural sand medium"))
    )


def mixing_shrinks(case: SayingCase) -> Told:
    """Volume lost on mixing two materials, by their shares."""
    one, other = case.media
    found = in_pot(case.media, [(1 - share, share) for share in SHARES], ANY_POT, case.samples)
    lost = [float(x) for x in found.shrinkage.middle]
    least, most = min(lost), max(lost)
    most_at = SHARES[lost.index(most)]
    verdict = (
        HOLDS
        if least >= SAID_LOW and most <= SAID_HIGH
        else FAILS
        if most < SAID_LOW or least > SAID_HIGH
        else DEPENDS
    )
    ends = {
        HOLDS: _("That is within the saying at every share."),
        FAILS: _("That is less than the saying at every share: there is next to no room to slip into.")
        if most < SAID_LOW
        else _("That is more than the saying at every share."),
        DEPENDS: _("So the saying holds at some shares and not at others."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "{one} and {other} lose {least} of their volume on mixing at the least and {most} at the most, "
            "with {at} of the second. {so}"
        ).format(
            one=one.name,
            other=other.name,
            least=per_cent(least),
            most=share_said(found.shrinkage.of(lost.index(most))),
            at=per_cent(most_at),
            so=ends[verdict],
        ),
        numbers=tuple(
            Number(
                _("{share} {added}").format(share=per_cent(share), added=other.name),
                {"shrinkage": found.shrinkage.of(place)},
            )
            for place, share in enumerate(SHARES)
        ),
        remarks=(
            _("What a mix settles by in the pot, wetted and pressed, is another number, and not in this."),
        ),
    )


def asked_of_sum() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("four parts"), "pine bark nursery"), Role(_("one part"), "horticultural sand medium")),
    )


def parts_add_up(case: SayingCase) -> Told:
    """What four litres of one and one litre of another come to."""
    four, one = case.media
    found = in_pot(case.media, [(4.0, 1.0)], ANY_POT, case.samples)
    lost = found.shrinkage.of(0)
    low, value, high = (5 * (1 - x) for x in (lost.high, lost.value, lost.low))
    made = Estimate(value, low, high, lost.how_known, lost.source)
    verdict = HOLDS if lost.value < NOTHING else FAILS
    ends = {
        HOLDS: _("Measured by bucket that is five: neither fills the gaps of the other."),
        FAILS: _("The one fills gaps of the other. For 100 L pour {poured} in parts."),
    }
    return Told(
        verdict=verdict,
        answer=_("4 L of {four} and 1 L of {one} come to {made}, {low} to {high}. {so}").format(
            four=four.name,
            one=one.name,
            made=litres(value),
            low=f"{low:.3g}",
            high=f"{high:.3g}",
            so=ends[verdict].format(poured=litres(100 / (1 - lost.value))),
        ),
        numbers=(
            Number(_("4 L and 1 L poured together"), {"finished_l": made, "shrinkage": lost}),
            Number(_("to be poured for 100 L of mix"), {"sum_of_parts_l": 100 / (1 - lost.value)}),
        ),
    )


def asked_of_states() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("four parts"), "pine bark nursery"),
            Role(_("one part, measured dry"), "coir pith", one_material=True),
        ),
        container="round 17/12/13 cm",
    )


def part_is_a_part(case: SayingCase) -> Told:
    """The same parts with one of them measured dry instead of moist."""
    one = case.media[1]
    factor = measuring_state_factor(_single(one), DRY)
    found = in_pot(case.media, [(4.0, 1.0), (4.0, factor.value)], case.pot, case.samples)
    change = found.air.change(1)
    swells = factor.value > 1 + NOTHING
    small = abs(change.value) < NOTHING
    verdict = HOLDS if not swells else DEPENDS if small else FAILS
    ends = {
        HOLDS: _("So it makes no difference."),
        DEPENDS: _("It hardly matters at this share."),
        FAILS: _("So write down in which state a part is measured."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "A part of {one} measured dry is {factor} parts once moist: 4 and 1 becomes 4 and {factor}, and "
            "the air of the mix goes from {before} to {after}. {so}"
        ).format(
            one=one.name,
            factor=times(factor.value),
            before=share_said(found.air.of(0)),
            after=share_said(found.air.of(1)),
            so=ends[verdict],
        ),
        numbers=(
            _measured(_("measured moist"), found, 0),
            _measured(_("measured dry"), found, 1),
            Number(_("moist parts for one dry part"), {"loose_moist_parts": factor}),
        ),
        remarks=(_("Change of air: {points}.").format(points=points(change)),),
    )


def _measured(words: str, found: InPot, place: int) -> Number:
    return Number(words, {"air_space": found.air.of(place), "container_capacity": found.water.of(place)})


def asked_of_evenness() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the mix"), "pine bark nursery"),
            Role(_("what is to be spread in it"), "perlite coarse", one_material=True),
        ),
        container="cell 4/2.5/4.5 cm",
        share="15 %",
        share_words=_("its share of the mix"),
    )


def mix_until_even(case: SayingCase) -> Told:
    """How much pots differ in one part even when the mix is perfectly mixed."""
    part = _single(case.media[1])
    volume = case.pot.medium_volume_l
    pieces, scatter = _pieces(part, volume * case.a_share)
    within = NINETY * scatter
    verdict = HOLDS if within < EVEN else FAILS if within > UNEVEN else DEPENDS
    ends = {
        HOLDS: _("So whatever differs more than that is bad mixing, and mixing on helps."),
        DEPENDS: _("So a part of what the eye sees is chance, and no mixing takes it away."),
        FAILS: _("So it can never look even: such pots differ by chance, however long it is mixed."),
    }
    rows = [
        Number(
            pot,
            {
                "volume_l": litre,
                "pieces": round(_pieces(part, litre * case.a_share)[0]),
                "scatter": NINETY * _pieces(part, litre * case.a_share)[1],
            },
        )
        for pot, litre in ((case.pot.describe(), volume), (_("a litre"), 1.0), (_("a bucket of 10 L"), 10.0))
    ]
    return Told(
        verdict=verdict,
        answer=_(
            "{volume} of a perfectly mixed mix holds about {pieces} pieces of {part}, and nine of ten pots "
            "are within {within} of its right share. {so}"
        ).format(
            volume=litres(volume)
            if volume >= 0.1
            else _("{number} mL").format(number=f"{1000 * volume:.2g}"),
            pieces=f"{pieces:,.0f}" if pieces < 1e4 else f"{float(f'{pieces:.2g}'):,.0f}",
            part=part.title,
            within=_("{number} %").format(number=f"{100 * within:.2g}"),
            so=ends[verdict],
        ),
        numbers=tuple(rows),
        remarks=(_("To test it: count the pieces in ten scoops; they should scatter no more than this."),),
    )


def _pieces(material: "Material", loose_l: float) -> tuple[float, float]:
    """Return how many pieces a loose volume has, and the scatter of its volume over the mean by chance.

    Pieces fall into a pot independently of each other, so the number of each size is Poisson and the
    variance of their volume is sum n v². Worked by hand.
    """
    physics = material.physics
    grains_mm3 = 1e6 * loose_l * (1 - physics.void_fraction) / len(physics.sub_sizes_mm)
    each = [math.pi / 6 * size**3 for size in physics.sub_sizes_mm]
    numbers = [grains_mm3 / one for one in each]
    volume = sum(n * v for n, v in zip(numbers, each, strict=True))
    return sum(numbers), math.sqrt(sum(n * v * v for n, v in zip(numbers, each, strict=True))) / volume


def _single(medium: Medium) -> "Material":
    if medium.single is None:
        raise ValueError("one material is needed here")
    return medium.single
