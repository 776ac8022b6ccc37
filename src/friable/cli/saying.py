"""`friable saying`: a claim of growers, answered by computation and beside what is published."""

from typing import TYPE_CHECKING, Annotated

import typer

from friable.cli.answer import columns, print_json, print_lines, titled
from friable.cli.ask import AsJson, refusing
from friable.errors import AmbiguousName, BadText, UnknownName
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.planning.sayings.values import Medium, SayingAnswer

SEPARATORS = (";", ",")
LONGEST_LIST = 4000


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command(name="saying", help=_("Whether a saying of growers holds for your materials and pots."))(
        saying
    )


@refusing
def saying(
    name: Annotated[str, typer.Argument(help=_("Which saying; without one, the list of all."))] = "",
    materials: Annotated[
        str,
        typer.Option(help=_("Materials or mixes in the order they are asked for, parted by commas (or ;).")),
    ] = "",
    container: Annotated[
        str, typer.Option(help=_("Inside sizes, such as “round 17/12/13 cm”, or a name."))
    ] = "",
    headspace: Annotated[str, typer.Option(help=_("Rim to fill line, such as 1.5cm."))] = "",
    other_container: Annotated[str, typer.Option(help=_("The second one, where two are compared."))] = "",
    share: Annotated[str, typer.Option(help=_("Such as 20%."))] = "",
    layer: Annotated[str, typer.Option(help=_("Thickness of the layer below, such as 3cm."))] = "",
    need: Annotated[str, typer.Option(help=_("Loose volume wanted, such as 168L."))] = "",
    pack: Annotated[str, typer.Option(help=_("One pack as it is sold: “3.8 cu ft” or “650g”."))] = "",
    pot: Annotated[str, typer.Option(help=_("Name of a pot by trade, such as “20 cm”."))] = "",
    no_range: Annotated[bool, typer.Option("--no-range", help=_("Leave the ranges out, for speed."))] = False,
    as_json: AsJson = False,
) -> None:
    """Answer one saying, or list them."""
    from friable.planning.typed_text import MAX_CELL, plain
    from friable.reference.sayings import all_sayings, find_saying

    typed = (materials, container, headspace, other_container, share, layer, need, pack, pot)
    if not name.strip():
        if any(typed):
            raise BadText(_("saying"), name, _("is empty"), _("Name the saying that is meant."))
        if as_json:
            listed = [{"name": s.key, "claim": s.claim, "computed": s.is_computed} for s in all_sayings()]
            print_json({"sayings": listed})
        else:
            print_lines(_listed())
        return
    found = find_saying(plain(name, _("saying"), 2 * MAX_CELL))

    from friable.cli.names_here import read_container
    from friable.planning.sayings.asking import SAMPLES, Typed, read_case
    from friable.planning.sayings.registry import answer

    asked = Typed(
        media=_parted(materials),
        container=container,
        headspace=headspace,
        other=other_container,
        share=share,
        layer=layer,
        need=need,
        pack=pack,
        pot_name=pot,
    )
    case = read_case(
        found, asked, medium=_medium, container=read_container, samples=0 if no_range else SAMPLES
    )
    told = answer(found, case)
    if as_json:
        print_json(told.to_json())
    else:
        print_lines(_lines(told))


def _parted(text: str) -> tuple[str, ...]:
    """Return the names in a list; parted by semicolons if there is one, else by commas."""
    if not text.strip():
        return ()
    if len(text) > LONGEST_LIST:
        raise BadText(
            "--materials",
            text,
            _("is too long"),
            _("Give at most {most} characters.").format(most=LONGEST_LIST),
        )
    mark = next((mark for mark in SEPARATORS if mark in text), ",")
    names = tuple(one.strip() for one in text.split(mark))
    if not all(names):
        raise BadText("--materials", text, _("has an empty name in it"), _("Write it as peat, perlite."))
    return names


def _medium(text: str) -> "Medium":
    """Return a material, a recipe written out, or one of our own mixes."""
    from friable.cli.names_here import find_material, find_mix
    from friable.planning.sayings.asking import medium_named
    from friable.planning.sayings.values import Medium

    try:
        return medium_named(text, find_material)
    except (UnknownName, AmbiguousName):
        own = find_mix(text)
        if own is None:
            raise
        return Medium(own.title, tuple(own.parts), own.pair_overlap_loss or {})


def _listed() -> list[str]:
    from friable.reference.sayings import all_sayings

    computed = [(s.key, s.claim) for s in all_sayings() if s.is_computed]
    others = [(s.key, s.claim) for s in all_sayings() if not s.is_computed]
    return [
        _("Sayings that are computed; `friable saying NAME` answers one."),
        *(f"  {line}" for line in columns(computed)),
        *titled(_("Not computed, with what is published"), columns(others)),
    ]


def _lines(told: "SayingAnswer") -> list[str]:
    from friable.planning.reading import trust_sentence
    from friable.planning.sayings.words import side_words, table_of, verdict_words
    from friable.reference.sources import cited

    lines = [
        _("“{claim}”: {verdict}").format(
            claim=told.saying.claim.rstrip("."), verdict=verdict_words(told.told.verdict)
        ),
        "",
        told.told.answer,
        *told.told.remarks,
    ]
    table = table_of(told.told.numbers)
    if table.rows:
        rows = [("", *table.headings), *((what, *cells) for what, cells in table.rows)]
        title = _("Figures, with 90 % range") if table.ranged else _("Figures")
        lines += titled(title, columns(rows))
    lines += titled(
        _("What is published"),
        [
            _("{side}: {text} [{source}]").format(
                side=side_words(one.side), text=one.text, source=cited(one.source)
            )
            for one in told.evidence
        ],
    )
    return [*lines, "", trust_sentence()] if told.told.is_forecast else lines
