"""`friable moisture`: water to add to a heap."""

from typing import Annotated

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.wording import gettext as _


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="moisture", help=_("Water to add to bring a heap to a moisture."))(moisture)


@refusing
def moisture(
    mass: Annotated[str, typer.Option(help=_("What the heap weighs now, such as 14kg."))],
    at: Annotated[str, typer.Option(help=_("Its moisture now, such as 30%."))],
    to: Annotated[str, typer.Option(help=_("The moisture wanted, such as 50%."))],
    meaning: Annotated[
        str, typer.Option(help=_("wet-mass: water in the wet mass; water-to-dry: water for the dry mass."))
    ] = "wet-mass",
    as_json: AsJson = False,
) -> None:
    """Work out the water."""
    from friable.planning.moisture import MOST_WATER_TO_DRY, WATER_TO_DRY, water_to_add
    from friable.planning.typed_text import one_cell
    from friable.planning.units_in import figures, fraction, kilograms

    said = one_cell(meaning, "--meaning").casefold()
    most = MOST_WATER_TO_DRY if said == WATER_TO_DRY else 1
    answer = water_to_add(
        kilograms(mass, "--mass").exact,
        fraction(at, "--at", most=most).exact,
        fraction(to, "--to", most=most).exact,
        said,
    )
    if as_json:
        print_json(answer.to_json())
        return
    print_lines(
        [
            _("Add {litres} L of water; the heap then weighs {mass} kg.").format(
                litres=figures(float(f"{answer.water_to_add_l:.3g}")),
                mass=figures(float(f"{answer.mass_after_kg:.3g}")),
            ),
            answer.advice,
        ]
    )
