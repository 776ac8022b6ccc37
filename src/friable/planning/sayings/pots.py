"""What the depth of a pot does to a mix."""

from friable.planning.forecast import RULE, air_against_height
from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import SAME_MIX_APART, WET_BELOW_AIR, in_pot, wet_zone
from friable.planning.sayings.said import centimetres, points, share_said, tells
from friable.planning.sayings.values import (
    DEPENDS,
    FAILS,
    HOLDS,
    Asked,
    HeightCurve,
    Number,
    Role,
    SayingCase,
    Told,
)
from friable.reference.targets import target_ranges
from friable.science.containers import Container
from friable.science.estimate import Estimate
from friable.wording import gettext as _

USUAL_MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
PEAT_MIX = "3 sphagnum peat medium + 1 perlite medium"
SHALLOW, DEEP = "tray 50x30x4 cm", "round 17/12/13 cm"
CURVE_SAMPLES = 128
HEIGHTS_CM = (2.0, 4.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0)
FROM_MM = 2.5  # the size that the saying names
NO_ZONE_CM = 1.0  # a wet zone lower than this is none; common practice, no source
A_TENTH = 0.1
GENERAL_POTS = "general pots"


def asked_of_shallow() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), USUAL_MIX),),
        container=SHALLOW,
        container_words=_("the shallow pot"),
        other=DEEP,
        other_words=_("the deep pot"),
    )


def shallow_wetter(case: SayingCase) -> Told:
    """Air and water of a mix in a shallow and in a deep pot."""
    mix = case.media[0]
    pots = case.pot, case.other_pot
    each = [in_pot((mix,), [(1.0,)], pot, case.samples) for pot in pots]
    shallow, deep = (found.air.of(0) for found in each)
    side = tells(deep.value - shallow.value, SAME_MIX_APART)
    ends = {
        1: _("So it is wetter in the shallower one."),
        0: _coarse_remark(),
        -1: _("So it is wetter in the second, which then is the shallower."),
    }
    taller = pots[1].fill_height_cm > pots[0].fill_height_cm
    verdict = DEPENDS if not side else HOLDS if (side > 0) == taller else FAILS
    return Told(
        verdict=verdict,
        answer=_("{mix} has {shallow} air in the {first} and {deep} in the {second}. {so}").format(
            mix=mix.name,
            shallow=share_said(shallow),
            first=pots[0].describe(),
            deep=share_said(deep),
            second=pots[1].describe(),
            so=ends[side],
        ),
        numbers=tuple(
            Number(
                pot.describe(),
                {
                    "medium_height_cm": pot.medium_height_cm,
                    "air_space": found.air.of(0),
                    "container_capacity": found.water.of(0),
                },
            )
            for pot, found in zip(pots, each, strict=True)
        ),
        by_height=_by_height(case) if case.samples else (),
    )


def _by_height(case: SayingCase) -> tuple[HeightCurve, ...]:
    mix = case.media[0]
    curve = air_against_height(
        mix.parts,
        case.other_pot,
        HEIGHTS_CM,
        samples=CURVE_SAMPLES,
        pair_overlap_loss=mix.pair_overlap_loss,
    )
    return (HeightCurve(mix.name, tuple(curve)),)


def _coarse_remark() -> str:
    return _("In a mix of coarse pieces hardly any height is wet, so the depth makes little difference.")


def asked_of_wet_zone() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), PEAT_MIX),),
        container=DEEP,
        other=SHALLOW,
        other_words=_("another pot"),
    )


def same_wet_zone(case: SayingCase) -> Told:
    """Height of the wet zone in pots of any width and height."""
    mix, pots = case.media[0], (case.pot, case.other_pot)
    zone = wet_zone(mix, case.samples)
    rows, full = [], []
    for pot in pots:
        height = pot.medium_height_cm
        inside = Estimate(
            min(zone.value, height), min(zone.low, height), min(zone.high, height), "computed", RULE
        )
        rows.append(
            Number(
                pot.describe(),
                {
                    "medium_height_cm": height,
                    "wet_zone_cm": inside,
                    "wet_share_of_mix": wet_share(pot, inside.value),
                },
            )
        )
        full.append(height <= zone.value)
    verdict = HOLDS if not any(full) else DEPENDS
    ends = {
        HOLDS: _("Both pots are deeper than that, so it is the same in both, whatever their width."),
        DEPENDS: _(
            "A pot that is not as deep as that is wet to the top, so there it is only as high as the pot."
        ),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "Drained, {mix} has less than {limit} air up to {zone} above the holes: suction is the "
            "height above them, and the width does not come into it. {so}"
        ).format(mix=mix.name, limit=per_cent(WET_BELOW_AIR), zone=centimetres(zone), so=ends[verdict]),
        numbers=tuple(rows),
        remarks=(
            _("A pot that narrows downward has less of its mix in that zone, so its mean air is higher."),
        ),
    )


def wet_share(pot: Container, zone_cm: float) -> float:
    """Return the share of the mix in a container that lies in a zone at its bottom."""
    top = min(pot.fill_height_cm, pot.drainage_layer_cm + zone_cm)
    return (pot.volume_below_l(top) - pot.layer_volume_l) / pot.medium_volume_l


def asked_of_even_grains() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the grains"), "epiphyte bark small", one_material=True),
            Role(_("fines among them"), "horticultural sand fine", one_material=True),
        ),
    )


def coarse_no_wet_zone(case: SayingCase) -> Told:
    """Height of the wet zone of grains, clean and with a tenth of fines."""
    grains, fines = case.media
    clean = wet_zone(grains, case.samples)
    dusty = wet_zone(grains, case.samples, with_shares=((fines, A_TENTH),))
    material = grains.single
    low_mm, high_mm = (material.size_low_mm, material.size_high_mm) if material else (0.0, 0.0)
    above = low_mm >= FROM_MM
    dry = clean.value < NO_ZONE_CM
    verdict = FAILS if not dry and above else HOLDS if dry and dusty.value < NO_ZONE_CM else DEPENDS
    ends = {
        HOLDS: _("So no wet zone to speak of, even with some fines."),
        FAILS: _("So it keeps a wet zone, although all its grains are above {size:g} mm.").format(
            size=FROM_MM
        ),
        DEPENDS: _("So it depends on the fines: it is they that hold the water."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "{grains} ({low:g} to {high:g} mm) stays wet for {clean} above the holes, and for {dusty} with a "
            "tenth of {fines}. {so}"
        ).format(
            grains=grains.name,
            low=low_mm,
            high=high_mm,
            clean=centimetres(clean),
            dusty=centimetres(dusty),
            fines=fines.name,
            so=ends[verdict],
        ),
        numbers=(
            Number(grains.name, {"wet_zone_cm": clean}),
            Number(
                _("{share} {fines}").format(share=per_cent(A_TENTH), fines=fines.name), {"wet_zone_cm": dusty}
            ),
        ),
    )


def asked_of_target() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), USUAL_MIX),), container=DEEP, other=SHALLOW, other_words=_("another pot")
    )


def air_10_25(case: SayingCase) -> Told:
    """Whether a mix meets the usual range of air, in two pots."""
    asked = next(t for t in target_ranges("air_space") if t.use == GENERAL_POTS)
    low, high = (asked.low or 0.0) / 100, (asked.high or 100.0) / 100
    mix, pots = case.media[0], (case.pot, case.other_pot)
    airs = [in_pot((mix,), [(1.0,)], pot, case.samples).air.of(0) for pot in pots]
    inside = [low <= air.value <= high for air in airs]
    verdict = HOLDS if all(inside) else DEPENDS if any(inside) else FAILS
    ends = {
        HOLDS: _("It is within {low} to {high} in both."),
        DEPENDS: _(
            "It is within {low} to {high} in one of them: a figure of air without its pot says nothing."
        ),
        FAILS: _("It is within {low} to {high} in neither."),
    }
    said = _("{mix} has {here} air in the {first}, {there} in the {second}. {so}").format(
        mix=mix.name,
        here=share_said(airs[0]),
        first=pots[0].describe(),
        there=share_said(airs[1]),
        second=pots[1].describe(),
        so=ends[verdict].format(low=per_cent(low), high=per_cent(high)),
    )
    rows = [
        Number(pot.describe(), {"medium_height_cm": pot.medium_height_cm, "air_space": air})
        for pot, air in zip(pots, airs, strict=True)
    ]
    for target in target_ranges("air_space"):
        if target.use != GENERAL_POTS and target.low is not None and target.unit == "% of volume":
            rows.append(
                Number(
                    _("asked for {use}").format(use=target.use),
                    {
                        "air_space_low": target.low / 100,
                        "air_space_high": None if target.high is None else target.high / 100,
                    },
                )
            )
    return Told(
        verdict=verdict,
        answer=said,
        numbers=tuple(rows),
        remarks=(_difference(airs),),
    )


def _difference(airs: list[Estimate]) -> str:
    apart = airs[0].value - airs[1].value
    change = Estimate.exact(apart, "computed", RULE)
    return _("The pot alone makes {points} of difference.").format(points=points(change).lstrip("+-"))
