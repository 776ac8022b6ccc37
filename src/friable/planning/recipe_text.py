"""How a recipe is written in one line: numbers and names, joined by +."""

import re
from fractions import Fraction

from friable.errors import BadRecipe, BadText, shown
from friable.planning.recipe import STATES, USUAL_STATE, Component, Recipe
from friable.planning.typed_text import VULGAR_SIGNS, leading_number, plain
from friable.wording import gettext as _

MOST_COMPONENTS = 200
LONGEST_NAME = 200
LARGEST_PART = 1_000_000
PER_CENT_SLACK = 1  # the rounding of three parts printed as 33 %
HUNDRED = 100
EXAMPLE = "5 pine bark + 1 perlite"
# A comma between two digits is a decimal comma; elsewhere it joins, as +, a semicolon or a new line do.
JOINT = re.compile(r"\s*(?:[+;\n\r]|(?<![0-9]),|,(?![0-9])|\s:\s)\s*")

ROW_OF_CELLS = re.compile(rf"[^\W\d_][^\t]*\t\s*[-0-9{VULGAR_SIGNS}]")


def parse_recipe(text: str, name: str = "this mix") -> Recipe:
    """Read “5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse”.

    Parameters
    ----------
    text : str
        NUMBER NAME, joined by +, a comma, a semicolon, “ : ” or a new line. If one number is in per cent all
        must be, and they add up to 100 % (within 1 %, the rounding of thirds). The state in which a part is
        measured may follow in brackets: “6 coir pith (loose soaked)”.

    Raises
    ------
    BadText, BadRecipe
        If a part has no number or no name, or the text is too long or holds hidden characters.
    """
    what = _("recipe")
    whole = plain(text, what)
    written = JOINT.split(whole.strip(" \t\r\n+;,"))
    for piece in written:
        if ROW_OF_CELLS.search(piece):
            raise BadText(
                what,
                piece,
                _("holds a second number behind a tab, as a pasted row of cells does"),
                _("Put + between the materials, or each on a line of its own."),
            )
    pieces = [" ".join(piece.split()) for piece in written]
    if len(pieces) > MOST_COMPONENTS:
        raise BadRecipe(
            _("The recipe has {count} components; the most is {most}.").format(
                count=len(pieces), most=MOST_COMPONENTS
            )
        )
    read = [_part(piece, what) for piece in pieces]
    _check_per_cent([(parts, in_per_cent) for parts, in_per_cent, _name, _state in read])
    return Recipe(name=name, components=tuple(Component(n, parts, state) for parts, _p, n, state in read))


def part_number(text: str, what: str) -> Fraction:
    """Read the parts of one component: “5”, “1,5”, “½”, “1/3”."""
    number, rest = leading_number(text, what, "5")
    if rest:
        raise BadText(what, text, _("is not a plain number of parts"), _("Give one such as 5 or 1/2."))
    return number


def check_parts(parts: Fraction, name: str) -> Fraction:
    """Return parts that can be measured out, or refuse them."""
    if -LARGEST_PART <= parts <= 0:
        raise BadRecipe(
            _("{name} has {parts:g} parts; give more than 0, or leave it out.").format(
                name=shown(name), parts=float(parts)
            )
        )
    if not Fraction(1, LARGEST_PART) <= parts <= LARGEST_PART:
        raise BadRecipe(
            _("{name} has parts beyond all measure; give from 0.000001 to {most}.").format(
                name=shown(name), most=f"{LARGEST_PART:,}"
            )
        )
    return parts


def component_name(text: str, what: str) -> str:
    """Return a component's name on single spaces, or refuse it."""
    name = " ".join(plain(text, what).split())
    if len(name) > LONGEST_NAME:
        raise BadText(
            what,
            name,
            _("has a name of {count} characters").format(count=len(name)),
            _("The longest name is {longest}.").format(longest=LONGEST_NAME),
        )
    return name


def _part(piece: str, what: str) -> tuple[Fraction, bool, str, str]:
    """Return parts, whether they were per cent, name and state of one component."""
    if not piece:
        raise BadText(what, "+", _("has two joints with nothing between them"), _("Leave one out."))
    number, rest = leading_number(piece.replace("−", "-"), what, EXAMPLE)
    in_per_cent = rest.startswith("%")
    rest = rest.lstrip("%").strip()
    words = rest.split(maxsplit=1)
    if words and words[0].casefold() in {"part", "parts", "x", "×"}:
        rest = words[1] if len(words) > 1 else ""
    state = USUAL_STATE
    if bracket := re.fullmatch(r"(.*\S)\s*\(([^()]*)\)", rest):
        said = " ".join(bracket[2].casefold().split())
        if said in STATES:
            rest, state = bracket[1], said
    if not re.search(r"\w", rest):
        raise BadText(
            what, piece, _("has a number without a name"), _("Write it as {example}.").format(example=EXAMPLE)
        )
    if re.match(r"[/:]", rest):
        raise BadText(
            what,
            piece,
            _("names no material after its number"),
            _("Write it as {example}.").format(example=EXAMPLE),
        )
    name = component_name(rest, what)
    return check_parts(number, name), in_per_cent, name, state


def _check_per_cent(parts: "list[tuple[Fraction, bool]]") -> None:
    said = [in_per_cent for _number, in_per_cent in parts]
    if not any(said):
        return
    if not all(said):
        raise BadRecipe(_("Some components are in per cent and some in parts; write all of them one way."))
    total = sum((number for number, _said in parts), Fraction(0))
    if abs(total - HUNDRED) > PER_CENT_SLACK:
        raise BadRecipe(
            _("The components add up to {total:g} %; they must add up to 100 %.").format(total=float(total))
        )
