"""`friable fewest`: how few mixes can keep a collection, each group within its window."""

from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import print_json, print_lines
from friable.cli.ask import AsJson, refusing
from friable.cli.typed_files import read_bytes, read_text
from friable.errors import BadFile, BadText
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.collection_values import Mix
    from friable.planning.fewest_values import Stands

MOST_COLLECTION_BYTES = 8_000_000
LONGEST_S = 600


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="fewest", help=_("The fewest mixes that keep every group of a collection."))(fewest)


@refusing
def fewest(
    collection: Annotated[
        str,
        typer.Argument(
            help=_("A collection as CSV: group, stage, container, count, mix; - for standard input.")
        ),
    ] = "",
    materials: Annotated[
        str,
        typer.Option(help=_("What recipes may be made of: names, “stock” or “all”; without: stock, or all.")),
    ] = "",
    chance: Annotated[
        str, typer.Option(help=_("The least chance at which a mix keeps a group within its window."))
    ] = "50%",
    mixes: Annotated[str, typer.Option(help=_("More mixes to choose from, in a recipe file."))] = "",
    parts: Annotated[str, typer.Option(help=_("Whole parts of a recipe at most."))] = "10",
    kinds: Annotated[str, typer.Option(help=_("Materials of a recipe at most."))] = "3",
    seconds: Annotated[
        str, typer.Option(help=_("How long the proof may take before what was found is told as not proved."))
    ] = "20",
    as_json: AsJson = False,
) -> None:
    """Find the fewest mixes."""
    from friable.cli.at_hand_typed import say_preparing, typed_at_hand
    from friable.planning.fewest_values import FewestCase
    from friable.planning.find_values import MOST_KINDS, MOST_PARTS

    least = _chance(chance)
    most_parts = _whole(parts, "--parts", MOST_PARTS)
    most_kinds = _whole(kinds, "--kinds", MOST_KINDS)
    longest_s = _whole(seconds, "--seconds", LONGEST_S)
    given = _given(mixes)
    stands = _stands(collection)
    case = FewestCase(
        stands=stands,
        at_hand=typed_at_hand(materials),
        given=given,
        least_chance=least,
        parts=most_parts,
        kinds=most_kinds,
        longest_s=longest_s,
    )
    from friable.science.compiled_code import first_use

    with first_use("search", say_preparing):
        from friable.planning.fewest import fewest as fewest_mixes

        answer = fewest_mixes(case)
    if as_json:
        print_json(answer.to_json())
        return
    from friable.cli.fewest_printed import fewest_lines

    print_lines(fewest_lines(answer))


def _stands(collection: str) -> "Stands":
    from friable.cli.at_hand_typed import find_group
    from friable.cli.names_here import find_material, read_container
    from friable.planning.fewest_collection import read_stands

    if not collection:
        raise BadFile(
            _("No collection is given; name a CSV file whose first line is group,stage,container,count,mix.")
        )
    content = read_bytes(collection, _("collection"), MOST_COLLECTION_BYTES)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadFile(_("The collection is not text in UTF-8; save it as such.")) from None
    return read_stands(
        text,
        find_group=find_group,
        read_container=read_container,
        find_material=find_material,
        stored_mix=_stored_mix,
    )


def _stored_mix(name: str) -> "Mix | None":
    """Return one of our own mixes with what is added to it and whom it is not for."""
    from friable.cli.names_here import find_mix, look_up_here
    from friable.planning.fewest_card import carded

    mix = find_mix(name)
    if mix is None:
        return None
    return carded(mix, *look_up_here(name, lambda: _card(name)))


def _card(name: str) -> tuple[list[str], list[str]]:
    from friable.records.queries.cards import added_and_not_for
    from friable.records.queries.mixes import mix_named

    return added_and_not_for(mix_named(name).versions.order_by("-number").first())


def _given(file: str) -> "tuple[Mix, ...]":
    """Return the mixes of a recipe file that no other mix of it contains."""
    if not file:
        return ()
    from friable.cli.names_here import find_material
    from friable.planning.fewest_given import mixes_given

    return mixes_given(read_text(file, _("recipe file")), find_material)


def _chance(text: str) -> float:
    from friable.planning.units_in import fraction

    least = fraction(text, "--chance").value
    if not least > 0:
        raise BadText("--chance", text, _("is nothing at all"), _("Write it as 50%."))
    return least


def _whole(text: str, option: str, most: int) -> int:
    from friable.planning.typed_text import leading_number, one_cell

    number, rest = leading_number(one_cell(text, option), option, "3")
    if rest or number.denominator != 1 or not 1 <= number <= most:
        raise BadText(
            option, text, _("is no whole number from 1 to {most}").format(most=most), _("Give one such as 3.")
        )
    return int(number)
