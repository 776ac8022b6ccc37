"""`friable replace`: what can stand in for a mix when a material has run out or is to be given up."""

from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.cli.mix import read_layer
from friable.errors import BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from friable.planning.at_hand import AtHand
    from friable.science.containers import Container

FEWEST_KINDS = 3
MOST_TOLD = 60


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(
        name="replace", help=_("What can stand in when a material has run out, or is to be given up.")
    )(replace)


@refusing
def replace(
    recipe: Annotated[str, typer.Argument(help=_("Such as “5 pine bark nursery + 1 perlite coarse”."))] = "",
    without: Annotated[
        str,
        typer.Option(
            help=_("What must go: a material, every grade of a name, or “peat”; several parted by commas.")
        ),
    ] = "",
    container: Annotated[
        str,
        typer.Option(help=_("In which it is used: “round 17/12/13 cm”; several parted by semicolons.")),
    ] = "",
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1.5cm."))] = "",
    drainage_layer: Annotated[str, typer.Option(help=_("Such as “3 cm gravel”."))] = "",
    recipe_file: Annotated[
        str, typer.Option("--recipe", help=_("A recipe file; - for standard input."))
    ] = "",
    published: Annotated[str, typer.Option(help=_("The name of a published recipe."))] = "",
    materials: Annotated[
        str, typer.Option(help=_("What may be used: names parted by commas, “stock” or “all”."))
    ] = "",
    parts: Annotated[str, typer.Option(help=_("Whole parts in all, at most."))] = "10",
    kinds: Annotated[
        str, typer.Option(help=_("Materials in a mix, at most; without: as many as it has, at least 3."))
    ] = "",
    litres: Annotated[str, typer.Option(help=_("How much is to be made, such as 80L."))] = "",
    within_stock: Annotated[
        bool, typer.Option("--within-stock", help=_("Only what the stock reaches for; needs --litres."))
    ] = False,
    best: Annotated[str, typer.Option(help=_("How many swaps and how many recipes to tell."))] = "6",
    swaps_only: Annotated[
        bool, typer.Option("--swaps-only", help=_("One material for another; do not look through recipes."))
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Find what can stand in."""
    from friable.cli.at_hand_typed import say_preparing, typed_at_hand
    from friable.cli.names_here import find_material
    from friable.cli.recipes_typed import read_book
    from friable.planning.find_values import MOST_KINDS, MOST_PARTS
    from friable.planning.limits import Limits
    from friable.planning.mix_parts import mix_parts
    from friable.planning.replacing import ReplaceCase
    from friable.planning.replacing import replace as replace_materials
    from friable.planning.replacing import without as read_without
    from friable.planning.units_in import litres as read_litres

    if not without.strip():
        raise BadText("--without", without, _("is empty"), _("Write it as “perlite coarse”, or “peat”."))
    told = read_count(best, "--best", MOST_TOLD)
    wanted_l = read_litres(litres, "--litres").value if litres else None
    if within_stock and wanted_l is None:
        raise BadText(
            "--litres", litres, _("is missing beside --within-stock"), _("Say how much is to be made: 80L.")
        )
    pots, layer = read_pots(container, headspace, drainage_layer)
    mix = tuple(mix_parts(read_book(recipe, recipe_file, published), find_material))
    at_hand: Sequence[AtHand] = typed_at_hand(materials)
    case = ReplaceCase(
        mix=mix,
        without=read_without(without, mix, at_hand, find_material),
        containers=pots,
        at_hand=tuple(at_hand),
        parts=read_count(parts, "--parts", MOST_PARTS),
        kinds=read_count(kinds, "--kinds", MOST_KINDS)
        if kinds
        else min(MOST_KINDS, max(FEWEST_KINDS, len(mix))),
        limits=Limits(litres=wanted_l, within_stock=within_stock),
        layer_material=find_material(layer) if layer else None,
    )
    if swaps_only:
        answer = replace_materials(case, best=told, search=False)
    else:
        from friable.science.compiled_code import first_use

        with first_use("search", say_preparing):
            answer = replace_materials(case, best=told)
    if as_json:
        print_json(answer.to_json())
        return
    from friable.cli.replace_printed import replace_lines

    print_lines(replace_lines(answer))


def read_count(text: str, option: str, most: int) -> int:
    """Return a whole number from 1 on."""
    from friable.planning.units_in import count

    number = int(count(text, option).value)
    if not 1 <= number <= most:
        raise BadText(option, text, _("is out of range"), _("It must be from 1 to {most}.").format(most=most))
    return number


def read_pots(container: str, headspace: str, drainage_layer: str) -> "tuple[tuple[Container, ...], str]":
    """Return the containers, each with headspace and layer, and what the layer is made of."""
    from friable.cli.mix import read_pot

    pots = []
    for text in container.split(";") if container.strip() else [""]:
        pot, _layer = read_pot(text, "--container", headspace, drainage_layer)
        pots.append(pot)
    layer = read_layer(drainage_layer)[1] if drainage_layer else ""
    return tuple(pots), layer
