"""`friable find`: every recipe that a bucket can measure, held against the windows of a pot."""

import math
from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, optional_share, refusing
from friable.cli.at_hand_typed import find_group, say_preparing, typed_at_hand
from friable.cli.mix import read_pot
from friable.errors import BadText, Refused
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.at_hand import AtHand
    from friable.reference.materials import Material
    from friable.reference.windows import Window


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="find", help=_("The mix that most surely keeps a pot within its windows."))(find)


@refusing
def find(
    for_: Annotated[str, typer.Option("--for", help=_("A plant group, such as “epiphyte, grown”."))] = "",
    window: Annotated[str, typer.Option(help=_("A file of windows; - for standard input."))] = "",
    container: Annotated[
        str, typer.Option(help=_("Inside sizes, such as “round 17/12/13 cm”, or a name."))
    ] = "",
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1.5cm."))] = "",
    drainage_layer: Annotated[str, typer.Option(help=_("Such as “3 cm gravel”."))] = "",
    materials: Annotated[str, typer.Option(help=_("“stock”, “all”, or names with commas between."))] = "",
    parts: Annotated[str, typer.Option(help=_("Whole parts in all, at most."))] = "10",
    kinds: Annotated[str, typer.Option(help=_("Materials in a mix, at most."))] = "4",
    litres: Annotated[str, typer.Option(help=_("Finished mix wanted; with --within-stock."))] = "",
    within_stock: Annotated[
        bool, typer.Option("--within-stock", help=_("Only what the counted stock reaches."))
    ] = False,
    most_cost: Annotated[str, typer.Option(help=_("Highest price of a litre of mix."))] = "",
    most_peat: Annotated[str, typer.Option(help=_("Highest share of peat, such as 0 %."))] = "",
    most_wet: Annotated[str, typer.Option(help=_("Highest weight of a litre after draining, in kg."))] = "",
    lime: Annotated[str, typer.Option(help=_("Words allowed, such as “no, sometimes”."))] = "",
    feed: Annotated[str, typer.Option(help=_("Words allowed, such as “no”."))] = "",
    dust: Annotated[str, typer.Option(help=_("Words allowed, such as “no, sometimes”."))] = "",
    hygiene: Annotated[str, typer.Option(help=_("Words allowed, such as “clean, usually clean”."))] = "",
    least_years: Annotated[str, typer.Option(help=_("Years that the mix must last."))] = "",
    bucket: Annotated[str, typer.Option(help=_("The bucket, such as 12L; with --drum."))] = "",
    drum: Annotated[str, typer.Option(help=_("What one drum holds; with --bucket."))] = "",
    must: Annotated[str, typer.Option(help=_("Materials that must be in it, with commas between."))] = "",
    never: Annotated[
        str, typer.Option(help=_("Pairs that never stand together: “loam / perlite fine, …”."))
    ] = "",
    best: Annotated[str, typer.Option(help=_("How many recipes to show."))] = "10",
    no_range: Annotated[
        bool, typer.Option("--no-range", help=_("Leave the chances out, for speed."))
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Find a mix for a pot."""
    from friable.planning.find_values import DRAWS, MOST_KINDS, MOST_PARTS, FindCase
    from friable.planning.limits import Limits
    from friable.planning.units_in import litres as read_litres

    windows, title, meant = _windows(for_, window)
    pot, layer = read_pot(container or meant, "--container", headspace, drainage_layer)
    at_hand = typed_at_hand(materials)
    limits = Limits(
        litres=read_litres(litres, "--litres").value if litres else None,
        within_stock=within_stock,
        most_cost_per_l=_number(most_cost, "--most-cost"),
        most_peat_share=optional_share(most_peat, "--most-peat"),
        most_wet_kg_l=_number(most_wet, "--most-wet"),
        lime=_words(lime),
        feed=_words(feed),
        dust=_words(dust),
        hygiene=_words(hygiene),
        least_years=_number(least_years, "--least-years"),
        bucket_l=read_litres(bucket, "--bucket").value if bucket else None,
        drum_l=read_litres(drum, "--drum").value if drum else None,
        must=_keys(must, at_hand),
        never_with=_pairs(never),
    )
    case = FindCase(
        windows=windows,
        container=pot,
        at_hand=at_hand,
        parts=_whole(parts, "--parts", MOST_PARTS),
        kinds=_whole(kinds, "--kinds", MOST_KINDS),
        limits=limits,
        layer_material=_layer(layer),
    )
    from friable.science.compiled_code import first_use

    with first_use("search", say_preparing):
        from friable.planning.find import find as search

        answer = search(case, best=_whole(best, "--best", 500), draws=0 if no_range else DRAWS)
    if as_json:
        print_json(answer.to_json())
        return
    from friable.cli.find_printed import find_lines

    print_lines(find_lines(answer, title))


def _windows(for_: str, window: str) -> "tuple[tuple[Window, ...], str, str]":
    """Return windows, what they are for, and the container that they are meant for."""
    if bool(for_) == bool(window):
        raise Refused(
            _("Say for what the mix is: --for “epiphyte, grown” or --window FILE.")
            if not for_
            else _("--for stands beside --window. Give one of the two.")
        )
    if for_:
        group = find_group(for_)
        if not group.windows:
            raise Refused(
                _("No figure is known for “{group}”; set windows of your own with --window FILE.").format(
                    group=group.title
                )
            )
        return group.windows, group.title, group.container
    from friable.cli.typed_files import read_text
    from friable.planning.windows import read_windows

    file = read_windows(read_text(window, _("windows file")))
    return file.windows, file.title, file.container


def _whole(text: str, option: str, most: int) -> int:
    from friable.planning.units_in import count

    number = int(count(text, option).value)
    if not 1 <= number <= most:
        raise BadText(option, text, _("is out of range"), _("It must be from 1 to {most}.").format(most=most))
    return number


def _number(text: str, option: str) -> float | None:
    if not text:
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise BadText(option, text, _("is not a number"), _("Write it as 0.8."))
    return value


def _words(text: str) -> tuple[str, ...] | None:
    return tuple(word.strip().casefold() for word in text.split(",") if word.strip()) if text else None


def _keys(text: str, at_hand: "tuple[AtHand, ...]") -> tuple[str, ...]:
    """Return the keys of materials that must be in the mix; they must be at hand."""
    from friable.cli.names_here import find_material

    keys = tuple(dict.fromkeys(find_material(name.strip()).key for name in text.split(",") if name.strip()))
    here = {item.material.key for item in at_hand}
    for key in keys:
        if key not in here:
            raise Refused(
                _("{title} must be in the mix but is not among the materials; add it to --materials.").format(
                    title=find_material(key).title
                )
            )
    return keys


def _pairs(text: str) -> tuple[tuple[str, str], ...]:
    from friable.cli.names_here import find_material

    pairs = []
    for pair in text.split(","):
        if not pair.strip():
            continue
        first, _slash, second = pair.partition("/")
        if not second.strip():
            raise BadText("--never", pair, _("is no pair"), _("Write it as “loam / perlite fine”."))
        pairs.append((find_material(first.strip()).key, find_material(second.strip()).key))
    return tuple(pairs)


def _layer(layer: str) -> "Material | None":
    from friable.cli.names_here import find_material

    return find_material(layer) if layer else None
