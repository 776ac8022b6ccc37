"""How mixes without peat hold their water, and how sure one can be of them."""

from typing import TYPE_CHECKING

from friable.planning.forecast import forecast
from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import TELLS_APART, in_pot
from friable.planning.sayings.said import litres, share_said
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
from friable.science.estimate import Estimate
from friable.science.ranges import FEWEST_SAMPLES
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast

PEAT_MIX = "3 sphagnum peat medium + 1 perlite medium"
PEAT_FREE_MIX = "2 coir pith + 1 wood fibre + 1 perlite medium"
POT = "round 17/12/13 cm"
AS_MUCH = 0.15  # of the water that plants can take: 5 points of about 35, as far as forecasts miss
WIDER = 1.25  # times as wide a range; common practice, no source


def asked_of_drying() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix with peat"), PEAT_MIX), Role(_("the mix without"), PEAT_FREE_MIX)),
        container=POT,
    )


def peat_free_dries_faster(case: SayingCase) -> Told:
    """Available water of two mixes, and how it lies between top and bottom."""
    found = [
        forecast(m.parts, case.pot, samples=case.samples, pair_overlap_loss=m.pair_overlap_loss)
        for m in case.media
    ]
    held = [_in_litres(one.available_water, one) for one in found]
    tops = [one.profile[-1].water for one in found]
    bottoms = [one.profile[0].water for one in found]
    ratio = held[1].value / held[0].value
    verdict = HOLDS if ratio < 1 - AS_MUCH else FAILS
    looks = tops[1] < tops[0] - TELLS_APART
    ends = {
        HOLDS: _("So with the same use it is due sooner."),
        FAILS: _("So with the same use it lasts about as long."),
    }
    surface = _("Its surface holds {without} where the other's holds {peat}.").format(
        without=per_cent(tops[1]), peat=per_cent(tops[0])
    )
    if looks and verdict == FAILS:
        surface += " " + _("It looks dry and is not: lift the pot.")
    return Told(
        verdict=verdict,
        answer=_(
            "{without} keeps {held} of water that plants can take in this pot, {peat} keeps {other}: "
            "{ratio} as much. {so} {surface}"
        ).format(
            without=case.media[1].name,
            held=litres(held[1].value),
            peat=case.media[0].name,
            other=litres(held[0].value),
            ratio=per_cent(ratio),
            so=ends[verdict],
            surface=surface,
        ),
        numbers=tuple(
            Number(
                medium.name,
                {
                    "air_space": one.air_space,
                    "container_capacity": one.container_capacity,
                    "available_water_l": water,
                    "water_at_top": top,
                    "water_at_bottom": bottom,
                },
            )
            for medium, one, water, top, bottom in zip(case.media, found, held, tops, bottoms, strict=True)
        ),
        remarks=(
            _(
                "It counts water down to 15,000 cm of suction, and the same use of water by the "
                "plant in both."
            ),
        ),
    )


def _in_litres(water: Estimate, found: "Forecast") -> Estimate:
    volume = found.container.medium_volume_l
    return Estimate(
        volume * water.value, volume * water.low, volume * water.high, water.how_known, water.source
    )


def asked_of_varying() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix with peat"), PEAT_MIX), Role(_("the mix without"), PEAT_FREE_MIX)),
        container=POT,
    )


def peat_free_varies(case: SayingCase) -> Told:
    """How wide the ranges of air and water of two mixes are, by the ranges of their materials."""
    samples = case.samples or FEWEST_SAMPLES  # it is of ranges that this saying speaks
    found = [in_pot((medium,), [(1.0,)], case.pot, samples) for medium in case.media]
    airs = [one.air.of(0) for one in found]
    widths = [air.high - air.low for air in airs]
    ratio = widths[1] / widths[0]
    verdict = HOLDS if ratio >= WIDER else FAILS if ratio <= 1 / WIDER else DEPENDS
    ends = {
        HOLDS: _("So of this one less is sure: measure a pot of each new lot."),
        FAILS: _("So of this one more is sure."),
        DEPENDS: _("So they are about as sure: test a new lot of either."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "By the ranges of its materials {without} has {air} air in this pot, {peat} has {other}: "
            "a range {ratio:.2g} times as wide. {so}"
        ).format(
            without=case.media[1].name,
            air=share_said(airs[1]),
            peat=case.media[0].name,
            other=share_said(airs[0]),
            ratio=ratio,
            so=ends[verdict],
        ),
        numbers=tuple(
            Number(
                medium.name,
                {"air_space": one.air.of(0), "container_capacity": one.water.of(0), "air_width": width},
            )
            for medium, one, width in zip(case.media, found, widths, strict=True)
        ),
        remarks=(
            _("The ranges tell how unlike published materials of a name are, not lots of one supplier."),
        ),
    )
