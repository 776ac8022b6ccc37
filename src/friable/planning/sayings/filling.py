"""What pressing and moisture do to a mix when a pot is filled."""

from friable.errors import BadQuantity
from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import in_pot
from friable.planning.sayings.said import share_said, tells, times, too_little
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
from friable.reference.moisture import moisture_targets
from friable.wording import gettext as _

USUAL_MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
STEPS = (1.0, 1.05, 1.1, 1.2)
MOST_PRESSED = 3.0
ABOUT_HALF = 0.6  # of the air left: read generously; common practice, no source
HARDLY = 0.8
BISECTIONS = 12


def asked_of_pressing() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), USUAL_MIX),),
        container="round 17/12/13 cm",
        share="20 %",
        share_words=_("how much denser it is pressed"),
    )


def packing_halves_air(case: SayingCase) -> Told:
    """Air of a mix pressed to a multiple of its loose density."""
    mix = case.media[0]
    asked = 1 + case.a_share
    dense = sorted({*STEPS, asked})
    rows = [(1.0,)] * len(dense)
    found = in_pot((mix,), rows, case.pot, case.samples, denser=dense)
    place = dense.index(asked)
    loose, pressed = found.air.of(0), found.air.of(place)
    left = pressed.value / loose.value if loose.value > 0 else 1.0
    verdict = HOLDS if left <= ABOUT_HALF else FAILS if left >= HARDLY else DEPENDS
    if not tells(pressed.value - loose.value):
        verdict = DEPENDS
    halved = _denser_for(case, loose.value / 2)
    told = _(
        "Pressed {share} denser {mix} has {pressed} air in place of {loose}: {left} of it is left."
    ).format(
        share=per_cent(case.a_share),
        mix=mix.name,
        pressed=share_said(pressed),
        loose=share_said(loose),
        left=per_cent(left),
    )
    if halved is None:
        more = _("Pressing alone does not halve it.")
    else:
        more = _("It is halved at {share} denser.").format(share=per_cent(halved - 1))
    return Told(
        verdict=verdict,
        answer=f"{told} {more}",
        numbers=tuple(
            Number(
                _("loose") if one == 1 else _("{share} denser").format(share=per_cent(one - 1)),
                {
                    "air_space": found.air.of(i),
                    "container_capacity": found.water.of(i),
                    "total_porosity": found.porosity.of(i),
                    "dry_bulk_density_g_cm3": found.density.of(i),
                },
            )
            for i, one in enumerate(dense)
        ),
        remarks=(
            _("Pressing is taken to close the widest gaps first; the grains themselves are not broken."),
            *((too_little(),) if not tells(pressed.value - loose.value) else ()),
        ),
    )


def _denser_for(case: SayingCase, air: float) -> float | None:
    """Return how dense the mix must be pressed for its air to fall so far; None if it never does."""
    mix = case.media[0]

    def left(dense: float) -> float:
        try:
            return float(in_pot((mix,), [(1.0,)], case.pot, 0, denser=[dense]).air.middle[0])
        except BadQuantity:  # pressed further than there are gaps
            return 0.0

    low, high = 1.0, MOST_PRESSED
    if left(high) > air:
        return None
    for _bisection in range(BISECTIONS):
        middle = (low + high) / 2
        low, high = (middle, high) if left(middle) > air else (low, middle)
    return high


def asked_of_moisture() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), "3 sphagnum peat medium + 1 perlite medium"),),
        container="round 17/12/13 cm",
        container_words=_("the pot"),
        other="cell 4/2.5/4.5 cm",
        other_words=_("the cell"),
    )


def smaller_cell_moister(case: SayingCase) -> Told:
    """What the usual moistures at filling come to in litres, and what pot and cell can hold."""
    mix = case.media[0]
    pots = {"pots and packs": case.pot, "plug trays": case.other_pot}
    targets = {t.use: (t.low or 0.0) / 100 for t in moisture_targets() if t.use in pots and t.low}
    rows, water, room = [], {}, {}
    for use, pot in pots.items():
        found = in_pot((mix,), [(1.0,)], pot, case.samples)
        density = float(found.density.middle[0])
        water[use] = density * targets[use] / (1 - targets[use])  # kg of water for a litre of dry mix
        room[use] = found.water.of(0)
        rows.append(
            Number(
                pot.describe(),
                {
                    "water_by_wet_mass": targets[use],
                    "water_when_filled": water[use],
                    "container_capacity": room[use],
                    "share_of_capacity": water[use] / room[use].value,
                },
            )
        )
    pot_use, cell_use = pots
    fits = all(water[use] <= room[use].value for use in pots)
    wetter = tells(room[cell_use].value - room[pot_use].value)
    verdict = FAILS if not fits else HOLDS if wetter > 0 else DEPENDS
    ends = {
        HOLDS: _("The cell can hold it: drained, it keeps {cell} water where the pot keeps {pot}."),
        DEPENDS: _(
            "Drained, the cell keeps {cell} water and the pot {pot}: this mix hardly cares for the depth."
        ),
        FAILS: _(
            "This mix cannot hold that: drained, the cell keeps {cell} and the pot {pot}. Such per cents "
            "are meant for light mixes of peat."
        ),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "{low} of the wet mass is {pot_water} of the volume in {mix}, {high} is {cell_water}, "
            "{times} times as much. {so}"
        ).format(
            low=per_cent(targets[pot_use]),
            pot_water=per_cent(water[pot_use]),
            mix=mix.name,
            high=per_cent(targets[cell_use]),
            cell_water=per_cent(water[cell_use]),
            times=times(water[cell_use] / water[pot_use]),
            so=ends[verdict].format(cell=share_said(room[cell_use]), pot=share_said(room[pot_use])),
        ),
        numbers=tuple(rows),
    )
