"""`friable pot-test`: the bench porosity test."""

from typing import Annotated

import typer

from friable.cli.answer import columns, print_json, print_lines, share
from friable.cli.ask import AsJson, refusing
from friable.cli.mix import read_pot
from friable.wording import gettext as _


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="pot-test", help=_("Pores, air and water from water poured in and drained out."))(
        pot_test
    )


@refusing
def pot_test(
    container: Annotated[str, typer.Option(help=_("The pot of the test: inside sizes or a name."))],
    water_in: Annotated[str, typer.Option(help=_("Water to fill every pore, such as 1110mL."))],
    drained: Annotated[str, typer.Option(help=_("Water caught after opening the holes, such as 270mL."))],
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1cm."))] = "",
    also_in: Annotated[str, typer.Option(help=_("Another container, such as “tray 50x30x4 cm”."))] = "",
    as_json: AsJson = False,
) -> None:
    """Read a test."""
    from friable.planning.pot_test import read_pot_test
    from friable.planning.reading import with_range
    from friable.planning.units_in import litres

    pot, _layer = read_pot(container, "--container", headspace)
    other = read_pot(also_in, "--also-in")[0] if also_in else None
    answer = read_pot_test(
        pot, litres(water_in, "--water-in").value, litres(drained, "--drained", zero=True).value, other
    )
    if as_json:
        print_json(answer.to_json())
        return
    lines = columns(
        [
            (_("total porosity"), share(answer.total_porosity)),
            (_("air space"), share(answer.air_space)),
            (_("container capacity"), share(answer.container_capacity)),
        ],
        right=(1,),
    )
    if answer.also_in is not None:
        lines.append("")
        lines.append(
            _("In {pot}: air {air}; water {water}.").format(
                pot=answer.also_in.container.describe(),
                air=with_range(answer.also_in.air_space),
                water=with_range(answer.also_in.container_capacity),
            )
        )
    print_lines([*lines, "", answer.advice])
