"""`friable mix`: air and water of a mix in a container."""

import math
from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import columns, print_json, print_lines, share, titled
from friable.cli.ask import AsJson, optional_cm, refusing
from friable.errors import BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.evidence import Evidence
    from friable.planning.forecast_values import Forecast
    from friable.reference.materials import Material
    from friable.science.containers import Container

MOST_PROFILE_LINES = 7


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="mix", help=_("Air and water of a mix in a container, after watering."))(mix)


@refusing
def mix(
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
    no_range: Annotated[bool, typer.Option("--no-range", help=_("Leave the ranges out, for speed."))] = False,
    as_json: AsJson = False,
) -> None:
    """Forecast air and water."""
    from friable.cli.names_here import find_material
    from friable.cli.recipes_typed import read_book
    from friable.planning.forecast import forecast
    from friable.planning.mix_parts import mix_parts
    from friable.science import ranges

    pot, layer = read_pot(container, "--container", headspace, drainage_layer)
    parts = mix_parts(read_book(recipe, recipe_file, published), find_material)
    layer_material = find_material(layer) if layer else None
    answer = forecast(parts, pot, samples=0 if no_range else ranges.SAMPLES, layer_material=layer_material)
    if as_json:
        print_json({**answer.to_json(), "mix": [{"material": m.title, "loose_l": v} for m, v in parts]})
    else:
        print_lines(_lines(parts, pot, answer))


def read_pot(
    container: str, option: str, headspace: str = "", drainage_layer: str = ""
) -> "tuple[Container, str]":
    """Return a container with its headspace and layer, and what the layer is made of."""
    from friable.cli.names_here import read_container

    if not container.strip():
        raise BadText(option, container, _("is empty"), _("Write it as “round 17/12/13 cm”."))
    pot = read_container(container)
    above = optional_cm(headspace, "--headspace")
    if above is not None:
        pot = pot.with_headspace(above)
    if not drainage_layer:
        return pot, ""
    depth_cm, layer = read_layer(drainage_layer)
    return pot.with_drainage_layer(depth_cm), layer


def read_layer(text: str) -> tuple[float, str]:
    """Return depth and material of a layer typed as “3 cm gravel”. [cm]"""
    from friable.planning.typed_text import leading_number, one_cell
    from friable.planning.units_in import centimetres

    option, example = "--drainage-layer", _("3 cm gravel")
    cell = one_cell(text, option)
    _number, rest = leading_number(cell, option, example)
    unit, _space, material = rest.partition(" ")
    if not unit or not material.strip():
        raise BadText(option, text, _("does not say how deep and of what"), _("Write it as “3 cm gravel”."))
    return centimetres(cell[: len(cell) - len(rest)] + unit, option).value, material.strip()


def _lines(parts: "Sequence[tuple[Material, float]]", pot: "Container", answer: "Forecast") -> list[str]:
    from friable.planning.evidence import drainage_layer_evidence, published_near
    from friable.planning.reading import pot_reading, trust_sentence

    total = sum(volume for _material, volume in parts)
    lines = [
        _("{pot}, {headspace:g} cm headspace, {litres:.3g} L of mix").format(
            pot=pot.describe(), headspace=pot.headspace_cm, litres=pot.medium_volume_l
        ),
        *(f"  {share(volume / total):>5}  {material.title}" for material, volume in parts),
        "",
        pot_reading(answer),
    ]
    lines += titled(_("Shares of the volume, with 90 % range"), _figures(answer))
    lines += titled(_("Height above the floor"), _profile(answer))
    if answer.layer_bounds is not None:
        lines += titled(_("Air with the layer"), _bounds(answer))
    lines += titled(_("What it hangs on"), _reasons(answer))
    lines += titled(_("Published for the same materials, by other methods"), _told(published_near(parts)))
    if answer.layer_bounds is not None:
        lines += titled(_("On drainage layers"), _told(drainage_layer_evidence()))
    return [*lines, "", trust_sentence()]


def _told(evidence: "Sequence[Evidence]") -> list[str]:
    return [str(one) for one in evidence]


def _figures(answer: "Forecast") -> list[str]:
    from friable.planning.reading import with_range

    plain = answer.plain_average
    rows = [("", _("forecast"), _("range"), _("plain average"))]
    for name, here, there in (
        (_("air space"), answer.air_space, plain.air_space),
        (_("container capacity"), answer.container_capacity, plain.container_capacity),
        (_("total porosity"), answer.total_porosity, plain.total_porosity),
        (_("available water"), answer.available_water, plain.available_water),
        (_("easily available water"), answer.easily_available_water, plain.easily_available_water),
        (_("shrinkage on mixing"), answer.shrinkage, plain.shrinkage),
    ):
        shown, _comma, between = with_range(here).partition(", ")
        rows.append((name, shown, between, share(there.value)))
    for name, here, there, unit in (
        (
            _("dry bulk density"),
            answer.dry_bulk_density_g_cm3,
            plain.dry_bulk_density_g_cm3,
            _("g/cm3"),
        ),
        (_("wet mass of the mix"), answer.wet_mass_kg, plain.wet_mass_kg, _("kg")),
    ):
        places = _places(here.value)
        between = _("{low} to {high}").format(low=f"{here.low:.{places}f}", high=f"{here.high:.{places}f}")
        rows.append((name, f"{here.value:.{places}f} {unit}", between, f"{there.value:.{places}f} {unit}"))
    return columns(rows, right=(1, 3))


def _places(value: float) -> int:
    """Return the decimals that leave two digits of a value; its range is given to the same place."""
    return max(0, 1 - math.floor(math.log10(value)))


def _profile(answer: "Forecast") -> list[str]:
    points = answer.profile
    every = max(1, (len(points) - 1) // (MOST_PROFILE_LINES - 1))
    rows = [("", _("water"), _("range"), _("air"))]
    for point in reversed(points[::every]):
        rows.append(
            (
                f"{point.height_cm:.1f} cm",
                share(point.water),
                _("{low} to {high}").format(
                    low=round(100 * point.water_low), high=round(100 * point.water_high)
                ),
                share(point.air),
            )
        )
    return columns(rows, right=(0, 1, 3))


def _bounds(answer: "Forecast") -> list[str]:
    bounds = answer.layer_bounds
    if bounds is None:
        return []
    rows = [
        (_("water films into the layer broken"), share(bounds.broken_films["air_space"].value)),
        (_("water films continuous"), share(bounds.continuous_films["air_space"].value)),
        (_("volume lost to the layer"), share(bounds.lost_volume_share)),
    ]
    return columns(rows, right=(1,))


def _reasons(answer: "Forecast") -> list[str]:
    said = [_("Supported by {material}.").format(material=answer.supported_by)]
    if answer.switch_at is not None:
        said.append(
            _("Below {share} of it, something else carries the structure.").format(
                share=share(answer.switch_at)
            )
        )
    if answer.widest_input:
        said.append(
            _("The range comes most from {name}; a test narrows it.").format(name=answer.widest_input)
        )
    return [*said, *answer.warnings]
