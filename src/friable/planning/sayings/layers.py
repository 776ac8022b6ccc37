"""What a layer below the mix does: between water films that break at it and films that run on through it."""

from typing import TYPE_CHECKING

from friable.planning.forecast import RULE, forecast
from friable.planning.reading import per_cent
from friable.planning.sayings.drawn_together import SAME_MIX_APART, WET_BELOW_AIR, wet_zone
from friable.planning.sayings.pots import wet_share
from friable.planning.sayings.said import tells
from friable.planning.sayings.values import (
    DEPENDS,
    FAILS,
    HOLDS,
    Asked,
    Drawn,
    Number,
    Role,
    SayingCase,
    Told,
)
from friable.science.drainage import water_entry_suction_cm
from friable.science.estimate import Estimate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.forecast_values import Forecast
    from friable.reference.materials import Material
    from friable.science.containers import Container

PEAT_MIX = "3 sphagnum peat medium + 1 perlite medium"
USUAL_MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
RAISED_CM = 0.5  # less is not seen in a pot; common practice, no source


def asked_of_gravel() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(Role(_("the mix"), PEAT_MIX), Role(_("the layer"), "gravel", one_material=True)),
        container="round 12/9/12 cm",
        layer="3 cm",
    )


def asked_of_filler() -> Asked:
    """What it is asked of."""
    return Asked(
        media=(
            Role(_("the mix"), USUAL_MIX),
            Role(_("the filler"), "non-degradable foam pieces", one_material=True),
        ),
        container="round 15/11/14 cm",
    )


def gravel_drains(case: SayingCase) -> Told:
    """Air and water of a pot with and without a layer."""
    material = _layer(case)
    pot = case.pot.with_drainage_layer(0.0)
    layered = pot.with_drainage_layer(case.a_layer)
    without, with_it = _forecasts(case, pot, layered, material)
    low, high = _bounds(with_it)
    before = without.air_space.value
    sides = [tells(one.value - before, SAME_MIX_APART) for one in (low, high)]
    lost = layered.layer_volume_l / layered.fill_volume_l
    verdict = HOLDS if min(sides) > 0 else FAILS if max(sides) <= 0 else DEPENDS
    ends = {
        HOLDS: _("Either way the mix above it is airier."),
        FAILS: _("Either way the mix above it is no airier."),
        DEPENDS: _("It depends on whether the water films break at the layer or run on through it."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "Without the layer {mix} has {before} air; above {depth:.2g} cm of {layer} it has {low} "
            "if the water films break there, {high} if they run on. {so} In any case it takes {lost} "
            "of the volume."
        ).format(
            mix=case.media[0].name,
            before=per_cent(before),
            depth=case.a_layer,
            layer=material.title,
            low=per_cent(low.value),
            high=per_cent(high.value),
            so=ends[verdict],
            lost=per_cent(lost),
        ),
        numbers=_rows(without, with_it, pot, layered),
        drawn=(
            Drawn(_("Without a layer"), without),
            Drawn(_("With the layer"), with_it, material),
        ),
    )


def gravel_lifts_wet_zone(case: SayingCase) -> Told:
    """Where in the pot the mix stays wet, with and without a layer."""
    material = _layer(case)
    pot = case.pot.with_drainage_layer(0.0)
    layered = pot.with_drainage_layer(case.a_layer)
    zone = wet_zone(case.media[0], case.samples)
    entry = min(water_entry_suction_cm(material.d50_mm), case.a_layer)
    rows, tops = [], []
    for words, where, suction_cm in (
        (_("no layer"), pot, 0.0),
        (_("with the layer, films broken"), layered, entry),
        (_("with the layer, films running on"), layered, case.a_layer),
    ):
        wet = _less(zone, suction_cm, where.medium_height_cm)
        tops.append(where.drainage_layer_cm + wet.value if wet.value > 0 else 0.0)
        rows.append(
            Number(
                words,
                {
                    "wet_zone_cm": wet,
                    "wet_up_to_cm": tops[-1] or None,
                    "wet_share_of_mix": wet_share(where, wet.value),
                },
            )
        )
    raised = [top - tops[0] for top in tops[1:]]
    verdict = HOLDS if min(raised) > RAISED_CM else FAILS if max(raised) <= RAISED_CM else DEPENDS
    ends = {
        HOLDS: _("Either way the wet zone stands higher, and nearer to the roots."),
        FAILS: _("Either way it stands no higher."),
        DEPENDS: _("It depends on whether the water films break at the layer or run on through it."),
    }
    without, with_it = _forecasts(case, pot, layered, material)
    said = _("up to {top:.2g} cm above the floor")
    tops_said = [said.format(top=top) if top else _("nowhere") for top in tops]
    return Told(
        verdict=verdict,
        answer=_(
            "Without a layer {mix} stays wet {without}; above {depth:.2g} cm of {layer} it does so "
            "{broken} if the water films break there, and {unbroken} if they run on. {so}"
        ).format(
            mix=case.media[0].name,
            without=tops_said[0],
            depth=case.a_layer,
            layer=material.title,
            broken=tops_said[1],
            unbroken=tops_said[2],
            so=ends[verdict],
        ),
        numbers=tuple(rows),
        remarks=(_("Wet means less than {limit} air.").format(limit=per_cent(WET_BELOW_AIR)),),
        drawn=(
            Drawn(_("Without a layer"), without),
            Drawn(_("With the layer"), with_it, material),
        ),
    )


def half_filler(case: SayingCase) -> Told:
    """Air and water of half a pot of mix above filler, against a full pot."""
    material = _layer(case)
    pot = case.pot.with_drainage_layer(0.0)
    half = pot.with_drainage_layer(pot.fill_height_cm / 2)
    full, above = _forecasts(case, pot, half, material)
    low, high = _bounds(above)
    before = full.air_space.value
    sides = [tells(one.value - before, SAME_MIX_APART) for one in (low, high)]
    share = half.medium_volume_l * full.container_capacity.value
    bounds = above.layer_bounds
    held = 0.0 if bounds is None else bounds.broken_films["container_capacity"].value
    ratio = half.medium_volume_l * held / share
    verdict = HOLDS if min(sides) >= 0 else FAILS if max(sides) < 0 else DEPENDS
    ends = {
        HOLDS: _("So the mix stays about as airy as in the full pot, or airier."),
        FAILS: _("So the mix is less airy than in the full pot."),
        DEPENDS: _("So it depends on the water films: where they break, the mix stands as in a shallow pot."),
    }
    return Told(
        verdict=verdict,
        answer=_(
            "A full pot of {mix} has {before} air; above half a pot of {filler} it has {low} if the "
            "water films break there, {high} if they run on. {so} With broken films it holds "
            "{ratio:.2g} times the water of as much mix in a full pot."
        ).format(
            mix=case.media[0].name,
            before=per_cent(before),
            filler=material.title,
            low=per_cent(low.value),
            high=per_cent(high.value),
            so=ends[verdict],
            ratio=ratio,
        ),
        numbers=(
            *_rows(full, above, pot, half),
            Number(_("water over that of as much mix in a full pot, films broken"), {"ratio": ratio}),
        ),
        drawn=(Drawn(_("A full pot"), full), Drawn(_("Half filler"), above, material)),
    )


def _layer(case: SayingCase) -> "Material":
    material = case.media[1].single
    if material is None:
        raise ValueError("a layer is of one material")
    return material


def _forecasts(
    case: SayingCase, pot: "Container", layered: "Container", material: "Material"
) -> "tuple[Forecast, Forecast]":
    mix = case.media[0]
    return (
        forecast(mix.parts, pot, samples=case.samples, pair_overlap_loss=mix.pair_overlap_loss),
        forecast(
            mix.parts,
            layered,
            samples=case.samples,
            layer_material=material,
            pair_overlap_loss=mix.pair_overlap_loss,
        ),
    )


def _bounds(found: "Forecast") -> tuple[Estimate, Estimate]:
    """Return the air with broken and with continuous films."""
    bounds = found.layer_bounds
    if bounds is None:  # the layer drains as far as it is thick
        return found.air_space, found.air_space
    return bounds.broken_films["air_space"], bounds.continuous_films["air_space"]


def _less(zone: Estimate, suction_cm: float, most_cm: float) -> Estimate:
    """Return the wet zone under a suction at the bottom of the mix, at most as high as the mix. [cm]"""
    low, value, high = (min(most_cm, max(0.0, h - suction_cm)) for h in (zone.low, zone.value, zone.high))
    return Estimate(value, low, high, "computed", RULE)


def _rows(
    without: "Forecast", with_it: "Forecast", pot: "Container", layered: "Container"
) -> tuple[Number, ...]:
    def row(what: str, air: Estimate, water: Estimate, where: "Container") -> Number:
        volume = where.medium_volume_l
        held = Estimate(
            volume * water.value, volume * water.low, volume * water.high, water.how_known, water.source
        )
        return Number(
            what, {"air_space": air, "container_capacity": water, "water_l": held, "medium_volume_l": volume}
        )

    rows = [row(_("no layer"), without.air_space, without.container_capacity, pot)]
    bounds = with_it.layer_bounds
    if bounds is None:
        rows.append(row(_("with the layer"), with_it.air_space, with_it.container_capacity, layered))
        return tuple(rows)
    for words, films in (
        (_("with the layer, films broken"), bounds.broken_films),
        (_("with the layer, films running on"), bounds.continuous_films),
    ):
        rows.append(row(words, films["air_space"], films["container_capacity"], layered))
    return tuple(rows)
