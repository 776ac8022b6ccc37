"""`friable job`: litres and buckets for pots on a bench, or for so many litres."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, optional_cm, optional_share, refusing
from friable.cli.job_printed import job_lines
from friable.cli.mix import read_layer, read_pot
from friable.errors import BadRecipe, BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.job_values import JobLine


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="job", help=_("Litres and buckets of each material for these pots."))(job)


@refusing
def job(
    recipe: Annotated[str, typer.Argument(help=_("Such as “5 bark + 1 peat”."))] = "",
    into: Annotated[str, typer.Option(help=_("The new container: inside sizes or a name."))] = "",
    count: Annotated[str, typer.Option(help=_("How many of them."))] = "",
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1.5cm."))] = "",
    drainage_layer: Annotated[str, typer.Option(help=_("Such as “3 cm gravel”."))] = "",
    potted_from: Annotated[str, typer.Option(help=_("The old container, whose root ball stays whole."))] = "",
    potted_from_headspace: Annotated[
        str, typer.Option(help=_("Rim to fill line of the old container."))
    ] = "",
    pots: Annotated[
        str, typer.Option(help=_("A pot list as CSV, for several kinds; - for standard input."))
    ] = "",
    litres: Annotated[str, typer.Option(help=_("So many litres of finished mix, instead of pots."))] = "",
    recipe_file: Annotated[
        str, typer.Option("--recipe", help=_("A recipe file; - for standard input."))
    ] = "",
    published: Annotated[str, typer.Option(help=_("The name of a published recipe."))] = "",
    overage: Annotated[str, typer.Option(help=_("Made beyond the need, such as 5%."))] = "",
    shrinkage: Annotated[str, typer.Option(help=_("Lost on the last mixing, such as 12%."))] = "",
    settling: Annotated[str, typer.Option(help=_("Lost later in the pot, such as 3%."))] = "",
    bucket: Annotated[str, typer.Option(help=_("What our bucket holds to its line, such as 12L."))] = "",
    mixer: Annotated[str, typer.Option(help=_("What the mixer works with, such as 60L."))] = "",
    scale: Annotated[str, typer.Option(help=_("The least that our scale weighs, such as 1g."))] = "",
    as_json: AsJson = False,
) -> None:
    """Work out the amounts."""
    from friable.cli.names_here import find_material
    from friable.cli.recipes_typed import read_book
    from friable.planning.batch import loading_order, split_batches
    from friable.planning.buckets import Bucket
    from friable.planning.job_amendments import job_amendments
    from friable.planning.known_names import known_material
    from friable.planning.published_recipe import conflicts_within
    from friable.planning.quantities import job_amounts
    from friable.planning.units_in import grams as read_grams
    from friable.planning.units_in import litres as read_litres

    if recipe_file == "-" and pots == "-":
        raise BadRecipe(_("Recipe and pot list cannot both come from standard input; name a file for one."))
    wanted = _litres_wanted(litres)
    book = read_book(recipe, recipe_file, published)
    lines = _lines(into, count, headspace, drainage_layer, potted_from, potted_from_headspace, pots, litres)
    ours = Bucket(_("bucket"), read_litres(bucket, "--bucket").value) if bucket else None
    answer = job_amounts(
        lines,
        book,
        overage=optional_share(overage, "--overage") or 0,
        settling=optional_share(settling, "--settling", below_one=True) or 0,
        shrinkage=optional_share(shrinkage, "--shrinkage", below_one=True),
        bucket_l=ours.line_l if ours else None,
        litres=wanted,
        find=find_material,
    )
    least = read_grams(scale, "--scale").value if scale else None
    weighed = job_amendments(book, answer.stages, least, conflicts_within(book) if published else {})
    split = split_batches(answer.sum_of_parts_l, read_litres(mixer, "--mixer").value) if mixer else None
    known = [known_material(part.material, find_material) for part in answer.parts]
    plan = loading_order(
        [material for material in known if material is not None],
        [amendment for stage in answer.stages for amendment in book.recipes[stage.mix].amendments],
    )
    if as_json:
        print_json(
            {
                **answer.to_json(),
                **weighed.to_json(),
                "batches": split.to_json() if split else None,
                "loading": plan.to_json(),
            }
        )
    else:
        print_lines(job_lines(answer, weighed, ours, split, plan))


def _litres_wanted(text: str) -> Any:
    """Return litres typed with or without their unit."""
    from friable.planning.typed_text import leading_number, one_cell
    from friable.planning.units_in import litres

    if not text:
        return None
    cell = one_cell(text, "--litres")
    _number, unit = leading_number(cell, "--litres", "240")
    return litres(cell if unit else f"{cell} L", "--litres").exact


def _lines(
    into: str,
    count: str,
    headspace: str,
    drainage_layer: str,
    potted_from: str,
    potted_from_headspace: str,
    pots: str,
    litres: str,
) -> "list[JobLine]":
    from friable.cli.names_here import read_container
    from friable.cli.typed_files import read_text
    from friable.planning.job_values import JobLine
    from friable.planning.pot_list import read_pot_list
    from friable.planning.units_in import count as read_count

    said = [option for option, text in (("--into", into), ("--pots", pots), ("--litres", litres)) if text]
    if len(said) > 1:
        raise BadRecipe(
            _("{options} are given together; keep one of them.").format(options=_(" and ").join(said))
        )
    if not into:
        _refuse_without_into(
            {
                "--count": count,
                "--headspace": headspace if not pots else "",
                "--drainage-layer": drainage_layer,
                "--potted-from": potted_from,
                "--potted-from-headspace": potted_from_headspace,
            }
        )
    if pots:
        above = optional_cm(headspace, "--headspace")
        return read_pot_list(read_text(pots, _("pot list")), read_container, headspace_cm=above)
    if not into:
        return []
    if not count:
        raise BadText("--count", count, _("is empty"), _("Say how many pots, such as --count 60."))
    pot, _layer = read_pot(into, "--into", headspace)
    if drainage_layer:
        pot = pot.with_drainage_layer(read_layer(drainage_layer)[0])
    old = read_pot(potted_from, "--potted-from", potted_from_headspace)[0] if potted_from else None
    return [JobLine(pot, int(read_count(count, "--count").exact), old)]


def _refuse_without_into(options: dict[str, str]) -> None:
    """Refuse options that would be left out of account."""
    for option, text in options.items():
        if text:
            raise BadText(option, text, _("belongs to --into"), _("Name the container, or leave it out."))
