"""What time does to a mix: how long its materials last, and what smaller grains hold."""

from dataclasses import replace

from friable.planning.reading import per_cent
from friable.planning.sayings.additions import row_of
from friable.planning.sayings.drawn_together import InPot, in_pot
from friable.planning.sayings.said import share_said, tells, too_little
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
from friable.reference.material_flags import material_flags
from friable.reference.materials import Origin
from friable.wording import gettext as _

SAID_LOW, SAID_HIGH = 1.0, 3.0
COUNTS_FROM = 0.2  # a part smaller than a fifth does not carry the mix; common practice, no source
SIZES_LEFT = (1.0, 0.75, 0.5, 0.35)
PUBLISHED_FALL = 0.172  # air lost by pine bark within about half a year [altland2018]_
SMALLEST_LEFT, HALVINGS = 0.02, 12


def asked_of_repotting() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), "3 epiphyte bark medium + 1 perlite coarse + 1 charcoal 6-12 mm"),)
    )


def repot_1_3_years(case: SayingCase) -> Told:
    """Years until the part that breaks down first has done so."""
    mix = case.media[0]
    total = sum(volume for _material, volume in mix.parts)
    rows, lives = [], []
    for material, volume in mix.parts:
        flags = material_flags(material)
        rows.append(
            Number(
                material.title,
                {
                    "share": volume / total,
                    "years_low": flags.years_low,
                    "years_high": flags.years_high,
                    "source": _origin(flags.origin("years")),
                },
            )
        )
        if volume / total >= COUNTS_FROM and flags.years_low is not None and flags.years_high is not None:
            lives.append((flags.years_high, flags.years_low, material.title))
    if not lives:
        return Told(
            verdict=DEPENDS,
            answer=_("Nothing is known of how long any larger part of {mix} lasts.").format(mix=mix.name),
            numbers=tuple(rows),
        )
    high, low, shortest = min(lives)
    verdict = (
        HOLDS
        if low >= SAID_LOW and high <= SAID_HIGH
        else FAILS
        if low > SAID_HIGH or high < SAID_LOW
        else DEPENDS
    )
    ends = {
        HOLDS: _("That is within the saying."),
        DEPENDS: _("The saying is only part of that: how wet it is kept decides."),
        FAILS: _("That is another time than the saying has."),
    }
    return Told(
        verdict=verdict,
        answer=_("The first to go in {mix} is {part}, after {low:g} to {high:g} years. {so}").format(
            mix=mix.name, part=shortest, low=low, high=high, so=ends[verdict]
        ),
        numbers=tuple(rows),
        remarks=(_("Roots that fill the pot, or salts, can ask for it sooner."),),
    )


def _origin(origin: Origin | None) -> str:
    return "" if origin is None else origin.source


def asked_of_finer() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), "pine bark nursery"),),
        container="round 17/12/13 cm",
        share="50 %",
        share_words=_("what is left of the size of its organic grains"),
    )


def bark_gets_finer(case: SayingCase) -> Told:
    """Air of a mix whose organic pieces have become smaller, all else equal."""
    mix, asked = case.media[0], case.a_share
    sizes = sorted({*SIZES_LEFT, asked}, reverse=True)
    each = [_finer_in_pot(case, left, case.samples) for left in sizes]
    before, after = each[0].air.of(0), each[sizes.index(asked)].air.of(0)
    side = tells(after.value - before.value)
    ends = {
        -1: _("Its pores shrink with its grains, so water takes the room of the air."),
        0: too_little(),
        1: _("That is more air, not less."),
    }
    return Told(
        verdict={-1: HOLDS, 0: DEPENDS, 1: FAILS}[side],
        answer=_("With grains {left} of their size {mix} has {after} air in place of {before}. {so}").format(
            left=per_cent(asked),
            mix=mix.name,
            after=share_said(after),
            before=share_said(before),
            so=ends[side],
        ),
        numbers=tuple(
            row_of(_("grains {left} of their size").format(left=per_cent(left)), found, 0)
            for left, found in zip(sizes, each, strict=True)
        ),
        remarks=_size_for_fall(case, before.value),
    )


def _finer_in_pot(case: SayingCase, left: float, samples: int) -> InPot:
    """Return the mix with its organic grains, and the pores between and inside them, smaller by a factor."""
    mix, aged = case.media[0], []
    for material, volume in mix.parts:
        if material.kind == "organic" and left != 1:
            physics = replace(
                material.physics,
                alpha_ext_per_cm=material.physics.alpha_ext_per_cm * left,
                alpha_int_per_cm=material.physics.alpha_int_per_cm * left,
                sub_sizes_mm=tuple(size * left for size in material.physics.sub_sizes_mm),
                water_at_10cm_low=None,  # the range at 10 cm is that of the fresh grade
                water_at_10cm_high=None,
            )
            aged.append((replace(material, physics=physics), volume))
        else:
            aged.append((material, volume))
    medium = Medium(mix.name, tuple(aged), mix.pair_overlap_loss)
    return in_pot((medium,), [(1.0,)], case.pot, samples)


def _size_for_fall(case: SayingCase, fresh_air: float) -> tuple[str, ...]:
    """Say to which size the grains must shrink for the air to fall as far as was published of bark."""

    def falls_short(left: float) -> bool:
        return fresh_air - float(_finer_in_pot(case, left, 0).air.middle[0]) < PUBLISHED_FALL

    low, high = SMALLEST_LEFT, 1.0
    if falls_short(low):
        return ()
    for _halving in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if falls_short(middle) else (middle, high)
    return (
        _(
            "Pine bark of six months or more was published with {fall:.3g} points less air than fresh bark; "
            "here that is what grains of {left} of their size would do."
        ).format(fall=100 * PUBLISHED_FALL, left=per_cent(low)),
    )
