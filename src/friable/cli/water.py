"""`friable water`: a pot through a watering and the days after it."""

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, optional_share, refusing
from friable.cli.mix import read_pot
from friable.errors import BadQuantity, BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.climate import Climate
    from friable.planning.weighing import OwnUse
    from friable.reference.plant_water import PlantWater
    from friable.science.containers import Container

USUAL_CLIMATE = "temperate glasshouse summer"
DAYS = 60  # of a built-in season: enough for bark in winter
MORNING = 8
LEAST_USE, MOST_USE = 0.05, 10.0
MOST_POURED_L = 1_000


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="water", help=_("How a watering runs through, how long it lasts, when to water again."))(
        water
    )


@refusing
def water(
    recipe: Annotated[str, typer.Argument(help=_("Such as “5 pine bark nursery + 1 perlite coarse”."))] = "",
    container: Annotated[
        str, typer.Option(help=_("Inside sizes, such as “round 17/12/13 cm”, or a name."))
    ] = "",
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1.5cm."))] = "",
    drainage_layer: Annotated[str, typer.Option(help=_("Such as “3 cm gravel”."))] = "",
    recipe_file: Annotated[
        str, typer.Option("--recipe", help=_("A recipe file; - for standard input."))
    ] = "",
    published: Annotated[str, typer.Option(help=_("The name of a published recipe."))] = "",
    climate: Annotated[
        str,
        typer.Option(
            help=_("A season such as “cold glasshouse winter”, a logger's CSV or an EnergyPlus weather file.")
        ),
    ] = USUAL_CLIMATE,
    from_: Annotated[
        str, typer.Option("--from", help=_("First day taken from a weather file, such as 2026-07-01."))
    ] = "",
    columns: Annotated[
        str, typer.Option(help=_("Which column of a logger's CSV is which: “time=…, temperature=…”."))
    ] = "",
    glass: Annotated[str, typer.Option(help=_("Whether the pots of a weather file stand in glass."))] = "",
    light: Annotated[str, typer.Option(help=_("Share of the light outside that reaches them."))] = "",
    latitude: Annotated[str, typer.Option(help=_("Of a logger without light, such as 51.5."))] = "",
    plant: Annotated[str, typer.Option(help=_("A group of plants, such as epiphytes or seedlings."))] = "",
    use: Annotated[
        str, typer.Option(help=_("The pot's own use as a multiple of reference, such as 0.8."))
    ] = "",
    weighed: Annotated[
        str, typer.Option(help=_("The pot weighed twice instead: “2.31 kg 2.05 kg 24 h”."))
    ] = "",
    base: Annotated[
        str,
        typer.Option(
            help=_("“open holes”, “standing water 2 cm”, “saucer 1 L”, “mat 5 cm”, “flood 4 cm 15 min”.")
        ),
    ] = "open holes",
    litres: Annotated[str, typer.Option(help=_("Poured at a watering; without: what is missing."))] = "",
    rate: Annotated[str, typer.Option(help=_("How fast it is poured, such as 6L/min."))] = "",
    used: Annotated[
        str, typer.Option(help=_("Share of the available water used when it is watered again."))
    ] = "50%",
    no_range: Annotated[bool, typer.Option("--no-range", help=_("Leave the ranges out, for speed."))] = False,
    as_json: AsJson = False,
) -> None:
    """Follow a pot through time."""
    from friable.cli.names_here import find_material
    from friable.cli.recipes_typed import read_book
    from friable.planning.mix_parts import mix_parts
    from friable.planning.units_in import litres as read_litres
    from friable.planning.watering_text import rate_l_h, read_base

    pot, layer = read_pot(container, "--container", headspace, drainage_layer)
    parts = mix_parts(read_book(recipe, recipe_file, published), find_material)
    layer_material = find_material(layer) if layer else None
    weather = read_weather_of_pot(
        climate, from_, columns=columns, glass=glass, light=light, latitude=latitude
    )
    group = _plant(plant)
    own, weighing = _own_use(use, weighed, weather, pot)
    stands = read_base(base, "--base")
    dose_l = read_litres(litres, "--litres").value if litres else None
    if dose_l is not None and dose_l > MOST_POURED_L:
        raise BadText(
            "--litres",
            litres,
            _("is too large"),
            _("It must be at most {most:,} L at a watering.").format(most=MOST_POURED_L),
        )
    poured_l_h = rate_l_h(rate, "--rate") if rate else None
    share = optional_share(used, "--used", below_one=True)
    if not share:
        raise BadText("--used", used, _("is nothing at all"), _("Write it as 50 %."))

    from friable.science.compiled_code import first_use

    with first_use("pot", say_preparing):
        from friable.planning.watering import WateringCase, watering

        answer = watering(
            WateringCase(
                parts=tuple(parts),
                container=pot,
                climate=weather,
                plant=group,
                use=own,
                base=stands,
                dose_l=dose_l,
                rate_l_h=poured_l_h,
                used_share=share,
                layer_material=layer_material,
            ),
            **({"draws": 0} if no_range else {}),
        )
    if as_json:
        print_json(
            {
                **answer.to_json(),
                "mix": [{"material": m.title, "loose_l": v} for m, v in parts],
                "climate": weather.name,
                "plant": group.name if group else None,
                "weighed": weighing.to_json() if weighing else None,
            }
        )
        return
    from friable.cli.water_printed import water_lines

    print_lines(water_lines(parts, answer, weather, group, weighing))


def say_preparing(seconds: int) -> None:
    """Say on standard error why the first answer takes longer."""
    sys.stderr.write(
        _("Preparing the flow model, once after installing: about {seconds} s.").format(seconds=seconds)
        + "\n"
    )
    sys.stderr.flush()


def read_weather_of_pot(climate: str, first_day: str, **of_file: str) -> "Climate":
    """Return the weather that one pot stands in, from the day that was asked for on."""
    from friable.cli.weather_typed import read_climate, read_date, starting_on
    from friable.planning.plain_season import plain_season

    weather = read_climate(climate, lambda name: plain_season(name, DAYS), **of_file)
    if first_day:
        weather = starting_on(weather, read_date(first_day, "--from"), "--from")
    return weather


def _plant(text: str) -> "PlantWater | None":
    from friable.planning.typed_text import one_cell
    from friable.reference.plant_water import find_plant

    return find_plant(one_cell(text, "--plant")) if text else None


def _own_use(use: str, weighed: str, weather: "Climate", pot: "Container") -> "tuple[Any, OwnUse | None]":
    """Return the pot's own factor, typed or from two weighings; None where neither was given."""
    from friable.planning.typed_text import leading_number, one_cell

    if use and weighed:
        raise BadText("--weighed", weighed, _("stands beside --use"), _("Give one of the two."))
    if use:
        number, rest = leading_number(one_cell(use, "--use"), "--use", "0.8")
        if rest:
            raise BadText("--use", use, _("is no plain number"), _("Write it as 0.8."))
        if not LEAST_USE <= number <= MOST_USE:
            raise BadQuantity(
                _("use of the pot"),
                float(number),
                "",
                _("from {low:g} to {high:g} times the reference").format(low=LEAST_USE, high=MOST_USE),
            )
        return float(number), None
    if not weighed:
        return None, None
    from datetime import datetime, time, timedelta

    from friable.planning.watering_text import weighings
    from friable.planning.weighing import reference_between, use_from_weighings

    first_kg, second_kg, hours = weighings(weighed, "--weighed")
    start = datetime.combine(weather.starts_on, time(MORNING))
    lost = reference_between(weather, start, start + timedelta(hours=hours))
    found = use_from_weighings(first_kg, second_kg, hours, lost, float(pot.area_cm2(pot.height_cm)))
    return found.use, found
