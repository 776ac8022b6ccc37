"""The answer of `friable water` as people read it: what to do first, then why."""

from typing import TYPE_CHECKING

from friable.cli.answer import columns, how_known, share, titled
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.climate import Climate
    from friable.planning.watering import WateringAnswer
    from friable.planning.weighing import OwnUse
    from friable.reference.materials import Material
    from friable.reference.plant_water import PlantWater
    from friable.science.estimate import Estimate

MOST_HEIGHTS = 6
A_DAY = 24


def water_lines(
    parts: "Sequence[tuple[Material, float]]",
    answer: "WateringAnswer",
    weather: "Climate",
    plant: "PlantWater | None",
    weighing: "OwnUse | None",
) -> list[str]:
    """Return the answer in words, then figures, moments, what it hangs on and what is not in it."""
    from friable.planning.watering import watering_reading

    pot = answer.container
    total = sum(volume for _material, volume in parts)
    lines = [
        _("{pot}, {headspace:g} cm headspace, {litres:.3g} L of mix").format(
            pot=pot.describe(), headspace=pot.headspace_cm, litres=pot.medium_volume_l
        ),
        *(f"  {share(volume / total):>5}  {material.title}" for material, volume in parts),
        "",
        watering_reading(answer),
    ]
    lines += titled(_("Figures, with 90 % range"), _figures(answer))
    lines += titled(_("When to water, by weight"), _by_weight(answer))
    lines += titled(_("The pot at four times: water and air in per cent, by height"), _moments(answer))
    lines += titled(_("With the layer"), _layer(answer))
    lines += titled(_("What it hangs on"), _reasons(weather, plant, weighing))
    lines += titled(_("Take care"), list(answer.warnings))
    lines += titled(_("Not in these figures"), list(answer.not_modelled))
    return lines


def spread(figure: "Estimate", unit: str = "") -> tuple[str, str]:
    """Return a figure with its unit, and its range to the same place."""
    places = _places(figure.value if figure.value else figure.high)
    value = f"{figure.value:.{places}f} {unit}".strip()
    if figure.low == figure.high:
        return value, ""
    return value, _("{low} to {high}").format(
        low=f"{figure.low:.{places}f}", high=f"{figure.high:.{places}f}"
    )


def _places(value: float) -> int:
    """Return the decimals that leave two digits of a value, none from ten on."""
    if value >= 10:
        return 0
    return 1 if value >= 1 else 2


def _figures(answer: "WateringAnswer") -> list[str]:
    limit = share(answer.air_limit)
    rows = [
        (
            _("hours with under {limit} air in the root zone, after a watering").format(limit=limit),
            *spread(answer.hours_wet, _("h")),
        ),
        (_("days until it is watered again"), *spread(answer.days_to_water, _("d"))),
        (_("poured at a watering"), *spread(answer.litres_per_watering, _("L"))),
        (_("of that, runs through"), *_shares(answer.runs_through)),
    ]
    return columns(rows, right=(1,))


def _shares(figure: "Estimate") -> tuple[str, str]:
    low, high = round(100 * figure.low), round(100 * figure.high)
    between = "" if low == high else _("{low} to {high}").format(low=low, high=high)
    return share(figure.value), between


def _by_weight(answer: "WateringAnswer") -> list[str]:
    rows = [
        (_("full, an hour or so after watering"), *spread(answer.full_mass_kg, _("kg"))),
        (_("water now"), *spread(answer.target_mass_kg, _("kg"))),
    ]
    return [
        *columns(rows, right=(1,)),
        _("That is {mass} of the full weight, or {water} of the water between full and dry.").format(
            mass=share(answer.target_of_full_mass), water=share(answer.target_of_water)
        ),
        _("Mix and water only: add pot and plant, or weigh yours when full and take the difference."),
    ]


def _moments(answer: "WateringAnswer") -> list[str]:
    moments = answer.moments
    if not moments:
        return []
    points = len(moments[0].profile)
    every = max(1, (points - 1) // MOST_HEIGHTS)
    rows = [("", *(moment.said for moment in moments)), ("", *(_after(moment.hour) for moment in moments))]
    for place in reversed(range(0, points, every)):
        rows.append(
            (
                f"{moments[0].profile[place].height_cm:.1f} cm",
                *(
                    f"{round(100 * moment.profile[place].water)} + {round(100 * moment.profile[place].air)}"
                    for moment in moments
                ),
            )
        )
    return columns(rows, right=(0, *range(1, len(moments) + 1)))


def _after(hour: float) -> str:
    if hour < A_DAY:
        return _("after {hours:.2g} h").format(hours=hour)
    return _("after {days:.2g} d").format(days=hour / A_DAY)


def _layer(answer: "WateringAnswer") -> list[str]:
    """Return both sides of a drainage layer, and what is published of such layers."""
    bounds = answer.layer_bounds
    if bounds is None:
        return []
    from friable.planning.evidence import drainage_layer_evidence

    return [*(str(side) for side in bounds), *(str(one) for one in drainage_layer_evidence())]


def _reasons(weather: "Climate", plant: "PlantWater | None", weighing: "OwnUse | None") -> list[str]:
    said = [_("Weather: {name} ({source}).").format(name=weather.name, source=weather.source)]
    said += weather.notes
    if weighing is not None:
        said.append(_("Weighed twice: it uses {use:.2g} times the reference.").format(use=weighing.use.value))
        said.append(weighing.advice)
    elif plant is not None:
        said.append(
            _("Use of {plant}: {use:g} times the reference, {low:g} to {high:g} ({known}).").format(
                plant=plant.name,
                use=plant.use,
                low=plant.use_low,
                high=plant.use_high,
                known=how_known(plant.how_known),
            )
        )
    else:
        said.append(
            _("No plant is named, so its use is left open; weigh the pot twice a day apart (--weighed).")
        )
    return said
