"""What a material put into a mix does to its air and water."""

import math

from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import InPot, in_pot
from friable.planning.sayings.said import points, share_said, tells, too_little
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
from friable.science.mixture import blend, grades, switch_share
from friable.science.packing import threshold_coarse_share
from friable.wording import gettext as _

SHARES = (0.0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5)
TENTHS = tuple(tenth / 10 for tenth in range(11))
POT = "round 17/12/13 cm"
BARK = "pine bark nursery"
# A third, read generously: from a quarter to under a half.
A_THIRD_LOW, A_THIRD_HIGH = 0.25, 0.45
NOTICED = 0.02  # a rise of air that counts as doing something; common practice, no source
CREEPS_INTO_MM = 1.0  # published tests in docs/science/checks.md: peat enters grains finer than this


def asked_of_sand() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the mix"), BARK),
            Role(_("what is added"), "horticultural sand medium", one_material=True),
        ),
        container=POT,
        share="20 %",
        share_words=_("share of the addition"),
    )


def sand_opens_bark(case: SayingCase) -> Told:
    """Air and water of a mix against the share of sand in it."""
    base, added = case.media
    asked = case.a_share
    shares = sorted({*SHARES, asked})
    found = _by_share(case, (base, added), shares)
    place, none = shares.index(asked), shares.index(0.0)
    change = found.air.change(place, none)
    side = tells(change.value)
    turns = [s for i, s in enumerate(shares) if s and tells(found.air.change(i, none).value) == -side]
    what = _("{share} of {added} in {base}").format(share=per_cent(asked), added=added.name, base=base.name)
    change_said = _("takes its air from {before} to {after}, a change of {points}").format(
        before=share_said(found.air.of(none)), after=share_said(found.air.of(place)), points=points(change)
    )
    ends = {
        1: _("it opens the mix."),
        -1: _("it closes the mix: the grains fill its gaps."),
        0: too_little(),
    }
    heavier = float(found.density.middle[place] / found.density.middle[none])
    weight = _("Dry, a litre then weighs {times:.2g} times as much.").format(times=heavier)
    return Told(
        verdict=DEPENDS if not side or turns else HOLDS if side > 0 else FAILS,
        answer=_("{what} {change}: {so} {weight}").format(
            what=what, change=change_said, so=ends[side], weight=weight
        ),
        numbers=_rows(found, shares, added.name),
        remarks=_turn_remark(turns, asked),
    )


def _turn_remark(turns: list[float], asked: float) -> tuple[str, ...]:
    if not turns:
        return ()
    side = _("At {share} it is the other way round.").format(share=per_cent(turns[-1]))
    return (side if turns[-1] != asked else "",)


def asked_of_perlite() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the mix"), "sphagnum peat medium"),
            Role(_("a fine grade"), "perlite fine", one_material=True),
            Role(_("a coarse grade"), "perlite coarse", one_material=True),
        ),
        container=POT,
        share="25 %",
        share_words=_("share of the addition"),
    )


def perlite_adds_air(case: SayingCase) -> Told:
    """Air with the same share of a fine and of a coarse grade."""
    base, fine, coarse = case.media
    share = case.a_share
    rows = [(1.0, 0.0), (1 - share, share)]
    each = [in_pot((base, added), rows, case.pot, case.samples) for added in (fine, coarse)]
    changes = [found.air.change(1) for found in each]
    sides = [tells(change.value) for change in changes]
    numbers = [row_of(base.name, each[0], 0)]
    numbers += [
        row_of(_("{share} {added}").format(share=per_cent(share), added=added.name), found, 1)
        for added, found in zip((fine, coarse), each, strict=True)
    ]
    said = _("{share} of {added} changes the air of {base} by {points}")
    told = [
        said.format(share=per_cent(share), added=added.name, base=base.name, points=points(change))
        for added, change in zip((fine, coarse), changes, strict=True)
    ]
    verdict = HOLDS if min(sides) > 0 else FAILS if max(sides) <= 0 else DEPENDS
    ends = {
        HOLDS: _("Both add air."),
        FAILS: _("Neither adds air that can be told."),
        DEPENDS: _("It depends on the grade: only the coarser grains keep gaps open."),
    }
    return Told(
        verdict=verdict,
        answer=_("{one}; {other}. {so}").format(one=told[0], other=told[1], so=ends[verdict]),
        numbers=tuple(numbers),
        remarks=_creep_remark(base, fine),
    )


def _creep_remark(base: Medium, added: Medium) -> tuple[str, ...]:
    fibrous = any(material.kind == "fibrous" for material, _share in base.parts)
    material = added.single
    if not (fibrous and material is not None and material.d50_mm < CREEPS_INTO_MM):
        return ()
    return (
        _(
            "Here the rule is known to err: in published tests peat crept in among fine grains, and "
            "there was less air than it says."
        ),
    )


def asked_of_coarse() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the fine part"), "sterilised turfy loam"),
            Role(_("the coarse addition"), "crushed granite grit", one_material=True),
        ),
        container=POT,
    )


def coarse_third(case: SayingCase) -> Told:
    """From which share on a coarse addition raises the air."""
    fine, coarse = case.media
    found = _by_share(case, (fine, coarse), TENTHS)
    onset = _onset([float(air) for air in found.air.middle])
    numbers = _rows(found, TENTHS, coarse.name)
    touch = _touch(fine, coarse)
    if onset is None:
        return Told(
            verdict=FAILS,
            answer=_(
                "At no share does {coarse} raise the air of {fine}: it is not the coarser one here."
            ).format(coarse=coarse.name, fine=fine.name),
            numbers=numbers,
            remarks=touch,
        )
    verdict = FAILS if onset < A_THIRD_LOW else HOLDS if onset <= A_THIRD_HIGH else DEPENDS
    ends = {
        HOLDS: _("So the third is about right for these two."),
        FAILS: _("So it counts from far below a third: the fine part moves aside and its own pores stay."),
        DEPENDS: _("So little additions do nothing, but a third is not yet enough for these two."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "{coarse} in {fine} raises the air by {noticed} points at {onset} of the loose volume. {so}"
        ).format(
            coarse=coarse.name,
            fine=fine.name,
            noticed=round(100 * NOTICED),
            onset=per_cent(onset),
            so=ends[verdict],
        ),
        numbers=numbers,
        remarks=touch,
    )


def _onset(air: list[float]) -> float | None:
    """Return the share, between tenths, at which the air has risen as far as can be noticed."""
    wanted = min(air[:4]) + NOTICED
    for place in range(air.index(min(air[:4])) + 1, len(air)):
        if air[place] >= wanted:
            step = air[place] - air[place - 1]
            part = (wanted - air[place - 1]) / step if step > 0 else 1.0
            return (place - 1 + part) / 10
    return None


def _touch(fine: Medium, coarse: Medium) -> tuple[str, ...]:
    material = coarse.single
    if material is None or (other := fine.single) is None or other.key == material.key:
        return ()
    by_geometry = threshold_coarse_share(material.physics.void_fraction)
    curves = grades((material.physics, other.physics))
    at = switch_share(blend([0.95, 0.05], curves), curves)
    said = _("By geometry alone the grains of {coarse} touch at {share} of the loose volume").format(
        coarse=coarse.name, share=per_cent(by_geometry)
    )
    if at is None:
        return (_("{said}.").format(said=said),)
    whole = _("{said}; with all their sizes they carry the mix from {at} on.")
    return (whole.format(said=said, at=per_cent(math.ceil(100 * at - 1e-9) / 100)),)


def asked_of_air_for_water() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), "sphagnum peat medium"), Role(_("what is added"), "perlite coarse")),
        container=POT,
        other="tray 50x30x4 cm",
        other_words=_("another pot"),
        share="30 %",
        share_words=_("share of the addition"),
    )


ONE_FOR_ONE = 0.25  # how far from one for one still counts as about; common practice, no source


def air_for_water(case: SayingCase) -> Told:
    """Water lost for air gained: by another pot, and by an addition."""
    base, added = case.media
    share = case.a_share
    rows = [(1.0, 0.0), (1 - share, share)]
    here = in_pot((base, added), rows, case.pot, case.samples)
    there = in_pot((base, added), rows, case.other_pot, case.samples)
    air, water = (figure.change(1) for figure in (here.air, here.water))
    numbers = (
        row_of(_("{mix}, {pot}").format(mix=base.name, pot=case.other_pot.describe()), there, 0),
        row_of(_("{mix}, {pot}").format(mix=base.name, pot=case.pot.describe()), here, 0),
        row_of(_("{share} {added}").format(share=per_cent(share), added=added.name), here, 1),
    )
    same = _(
        "Between two pots the same mix gives up exactly as much water as it gains air, for its pores stay."
    )
    if not tells(air.value):
        return Told(
            verdict=DEPENDS,
            answer=_("{same} {share} of {added} hardly changes the air of {base} ({points}).").format(
                same=same, share=per_cent(share), added=added.name, base=base.name, points=points(air)
            ),
            numbers=numbers,
        )
    ratio = -water.value / air.value
    close = abs(ratio - 1) <= ONE_FOR_ONE
    by_addition = _(
        "{share} of {added} in {base} changes the air by {air} and the water by {water}: {ratio:.2g} of "
        "water for 1 of air, because the pores as a whole change."
    ).format(
        share=per_cent(share),
        added=added.name,
        base=base.name,
        air=points(air),
        water=points(water),
        ratio=ratio,
    )
    return Told(
        verdict=HOLDS if close else DEPENDS,
        answer=_("{same} {by_addition}").format(same=same, by_addition=by_addition),
        numbers=numbers,
    )


def _by_share(
    case: SayingCase, media: tuple[Medium, Medium], shares: "tuple[float, ...] | list[float]"
) -> InPot:
    rows = [(1 - share, share) for share in shares]
    return in_pot(media, rows, case.pot, case.samples)


def _rows(found: InPot, shares: "tuple[float, ...] | list[float]", added: str) -> tuple[Number, ...]:
    return tuple(
        row_of(_("{share} {added}").format(share=per_cent(share), added=added), found, place)
        for place, share in enumerate(shares)
    )


def row_of(what: str, found: InPot, place: int) -> Number:
    return Number(
        what,
        {
            "air_space": found.air.of(place),
            "container_capacity": found.water.of(place),
            "total_porosity": found.porosity.of(place),
            "dry_bulk_density_g_cm3": found.density.of(place),
        },
    )
