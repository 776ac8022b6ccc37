"""`friable packs`: bales, blocks and bags to order."""

from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.errors import BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from fractions import Fraction

LONGEST_NAME = 200
MOST_YIELD = 1000


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="packs", help=_("How many bales, blocks or bags to order for a loose volume."))(packs)


@refusing
def packs(
    material: Annotated[str, typer.Argument(help=_("What is in the pack."))],
    need: Annotated[str, typer.Option(help=_("Loose volume wanted, such as 168L."))],
    pack: Annotated[str, typer.Option(help=_("One pack as it is sold: “3.8 cu ft”, “107L” or “5kg”."))],
    yield_: Annotated[
        str,
        typer.Option(
            "--yield",
            help=_("As measured here: loose over packed volume, 2.0, or loose litres a pack, 62.5L."),
        ),
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Work out the order."""
    from friable.planning.packs import PackYields, packs_needed, yields_of
    from friable.planning.typed_text import leading_number, one_cell, plain
    from friable.planning.unit_names import GRAMS, tidy
    from friable.planning.units_in import kilograms, litres

    name = " ".join(plain(material, _("material"), LONGEST_NAME).split())
    wanted = litres(need, "--need")
    _number, unit = leading_number(one_cell(pack, "--pack"), "--pack", "3.8 cu ft")
    size_unit = "kg" if tidy(unit) in GRAMS else "L"
    size = kilograms(pack, "--pack") if size_unit == "kg" else litres(pack, "--pack")
    if yield_:
        per_unit = _measured_yield(yield_, size.exact, size_unit)
        known = PackYields(per_unit, per_unit, True, "measured", _("as typed"))
    else:
        known = yields_of(name, size_unit, size.value)
    answer = packs_needed(
        name,
        wanted.exact,
        size.exact,
        known.low,
        known.high,
        known.measured,
        size_unit=size_unit,
        how_known=known.how_known,
        source=known.source,
    )
    if as_json:
        print_json({**answer.to_json(), "need_l": wanted.value, f"pack_{size_unit.lower()}": size.value})
        return
    echoes = "; ".join(quantity.echo for quantity in (wanted, size))
    print_lines([_("Order {packs}.").format(packs=answer.packs), answer.advice, "", echoes])


def _measured_yield(text: str, pack_size: "Fraction", size_unit: str) -> float:
    """Return loose litres for one litre or kilogram of pack.

    A bare number is loose over compressed volume for a pack sold by volume, and loose litres out of one pack
    for one sold by weight; “L” after it always means litres out of one pack.
    """
    from friable.planning.typed_text import leading_number, one_cell

    cell = one_cell(text, "--yield")
    number, rest = leading_number(cell, "--yield", "2.0")
    unit = rest.casefold().replace(" ", "")
    if unit in {"l", "litres", "liters"} or (not unit and size_unit == "kg"):
        number /= pack_size
    elif unit not in {"", f"l/{size_unit.casefold()}", ":1", "x", "×"}:
        raise BadText(
            "--yield", text, _("is not a plain number"), _("Write it as 2.0, or as 62.5 L for one pack.")
        )
    if not 0 < number < MOST_YIELD:
        raise BadText("--yield", text, _("is impossible"), _("Write it as 2.0, or as 62.5 L for one pack."))
    return float(number)
