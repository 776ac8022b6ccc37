"""Recipe files: several mixes in TOML that may contain each other.

    [mix."base A"]
    parts = [["coir pith", 6, "loose soaked"], ["wood fibre", 3], ["perlite", 1]]
    shrinkage = 0.08
    amendments = [["dolomitic lime", "3 kg/m3"], ["slow feed", "2 to 3 g/L", "do not heat"]]

The mix that no other contains is the one that is made.
"""

import re
import tomllib
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import Any

from friable.errors import BadFile, BadRecipe, FriableError, shown
from friable.planning.nesting import made_mix, order_of_mixing
from friable.planning.recipe import USUAL_STATE, Amendment, Component, Recipe, RecipeBook
from friable.planning.recipe_text import MOST_COMPONENTS, check_parts, component_name, part_number
from friable.planning.typed_text import MAX_TEXT, plain
from friable.planning.units_in import fraction, rate_g_per_l
from friable.wording import gettext as _

MOST_MIXES = 500
MOST_DIGITS = 99
KEYS = (
    "parts",
    "shrinkage",
    "amendments",
    "cautions",
    "top_dressing",
    "not_for",
    "use_within_days",
    "incomplete",
)


def read_recipe_file(text: str) -> RecipeBook:
    """Read mixes that may contain each other, and find the one that is made.

    Raises
    ------
    BadFile
        If it is no TOML, or has keys that are not known.
    BadRecipe, BadText, BadQuantity
        If a mix cannot be made, mixes contain each other in a ring, or several mixes stand at the top.
    """
    recipes = read_mixes(text)
    return RecipeBook(recipes=recipes, made=made_mix(recipes))


def read_mixes(text: str) -> dict[str, Recipe]:
    """Read mixes that may contain each other, whichever of them are made.

    Raises
    ------
    BadFile
        If it is no TOML, or has keys that are not known.
    BadRecipe, BadText, BadQuantity
        If a mix cannot be made, or mixes contain each other in a ring.
    """
    if len(text) > MAX_TEXT:
        raise BadFile(
            _("The recipe file has {count} characters; the most is {most}.").format(
                count=f"{len(text):,}", most=f"{MAX_TEXT:,}"
            )
        )
    tables = _mix_tables(text)
    recipes: dict[str, Recipe] = {}
    for name, table in tables.items():
        clean = component_name(name, _("mix"))
        if clean.casefold() in {known.casefold() for known in recipes}:
            raise BadFile(
                _("Two mixes are called “{name}”; give each its own name.").format(name=shown(clean))
            )
        recipes[clean] = _recipe(clean, table)
    recipes = _with_names_as_written(recipes)
    order_of_mixing(recipes)
    return recipes


def _mix_tables(text: str) -> dict[str, Any]:
    try:
        document = tomllib.loads(text.removeprefix("\ufeff"), parse_float=Decimal)
    except tomllib.TOMLDecodeError as problem:
        raise BadFile(
            _("The recipe file cannot be read as TOML: {problem}.").format(
                problem=shown(str(problem).rstrip("."))
            )
        ) from None
    except (ValueError, RecursionError, InvalidOperation):
        raise BadFile(
            _("The recipe file cannot be read as TOML: a number or a list in it is beyond all measure.")
        ) from None
    unknown = [key for key in document if key != "mix"]
    mixes = document.get("mix")
    if unknown:
        raise BadFile(
            _("The recipe file has “{key}” at its top; only tables called [mix.NAME] belong there.").format(
                key=shown(unknown[0])
            )
        )
    if not isinstance(mixes, dict) or not mixes:
        raise BadFile(
            _('The recipe file holds no mix; write [mix.NAME] and below it parts = [["coir pith", 6]].')
        )
    if len(mixes) > MOST_MIXES:
        raise BadFile(
            _("The recipe file holds {count} mixes; the most is {most}.").format(
                count=len(mixes), most=MOST_MIXES
            )
        )
    return mixes


def _recipe(name: str, table: Any) -> Recipe:
    if not isinstance(table, dict):
        raise _bad(name, _("is not a table; write [mix.NAME] and below it parts = [...]"))
    for key in table:
        if key not in KEYS:
            raise _bad(
                name,
                _("has “{key}”, which is not known; known are: {keys}").format(
                    key=shown(key), keys=", ".join(KEYS)
                ),
            )
    lines = table.get("parts")
    if not isinstance(lines, list) or not lines:
        raise _bad(name, _('has no parts; write parts = [["coir pith", 6], ["perlite", 1]]'))
    if len(lines) > MOST_COMPONENTS:
        raise _bad(
            name,
            _("has {count} components; the most is {most}").format(count=len(lines), most=MOST_COMPONENTS),
        )
    incomplete = table.get("incomplete", False)
    if not isinstance(incomplete, bool):
        raise _bad(name, _("has an “incomplete” that is neither true nor false"))
    return Recipe(
        name=name,
        components=tuple(_component(name, line) for line in lines),
        amendments=tuple(_amendment(name, line) for line in _list(name, table, "amendments")),
        cautions=tuple(_words(name, line, "cautions") for line in _list(name, table, "cautions")),
        shrinkage=_shrinkage(name, table["shrinkage"]) if "shrinkage" in table else None,
        incomplete=incomplete,
        top_dressing=_words(name, table["top_dressing"], "top_dressing") if "top_dressing" in table else "",
        not_for=_words(name, table["not_for"], "not_for") if "not_for" in table else "",
        use_within_days=_whole(name, table["use_within_days"]) if "use_within_days" in table else None,
    )


def _component(mix: str, line: Any) -> Component:
    if not (
        isinstance(line, list)
        and len(line) in (2, 3)
        and all(isinstance(x, str) for x in (line[0], *line[2:]))
    ):
        raise _bad(
            mix, _('has a component that is not written as ["name", parts] or ["name", parts, "state"]')
        )
    what = _("component of {mix}").format(mix=shown(mix))
    name = component_name(line[0], what)
    number = line[1]
    if isinstance(number, str):
        parts = part_number(number, _("parts of {name}").format(name=shown(name)))
    else:
        parts = _number(mix, number, shown(name))
    state = " ".join(line[2].casefold().split()) if len(line) > 2 else USUAL_STATE
    return Component(name, check_parts(parts, name), state)


def _amendment(mix: str, line: Any) -> Amendment:
    if not (isinstance(line, list) and len(line) in (2, 3) and all(isinstance(x, str) for x in line)):
        raise _bad(
            mix,
            _(
                'has an amendment that is not written as ["name", "3 kg/m3"] or ["name", "3 kg/m3", '
                '"caution"]'
            ),
        )
    name = component_name(line[0], _("amendment of {mix}").format(mix=shown(mix)))
    return amendment(name, line[1], line[2] if len(line) > 2 else "")


def amendment(name: str, rate: str, caution: str = "") -> Amendment:
    """Return an amendment from its rate as typed, “3 kg/m3” or “2 to 3 g/L” (then the low end is weighed).

    Raises
    ------
    BadText, BadRecipe, BadQuantity
        If the rate cannot be read, or its range runs backwards.
    """
    what = _("rate of {name}").format(name=shown(name))
    typed = plain(rate, what)
    ends = re.fullmatch(
        r"(?P<low>[\d.,/½¼¾ ]+?)\s*(?:-|–|to)\s*(?P<high>[\d.,/½¼¾ ]+?)(?P<unit>\s*[^\W\d].*)", typed
    )
    if ends is None:
        return Amendment(name, rate_g_per_l(typed, what).value, typed=typed, caution=caution)
    low, high = (rate_g_per_l(ends[end] + ends["unit"], what) for end in ("low", "high"))
    if not low.exact < high.exact:
        raise BadRecipe(
            _("The rate of {name} runs from {low} to {high}; write the lower one first.").format(
                name=shown(name), low=ends["low"], high=shown(ends["high"] + ends["unit"])
            )
        )
    return Amendment(name, low.value, low.value, high.value, typed, caution)


def _shrinkage(mix: str, value: Any) -> float:
    if isinstance(value, str):
        return fraction(value, _("shrinkage of {mix}").format(mix=shown(mix)), below_one=True).value
    share = _number(mix, value, _("shrinkage"))
    if not 0 <= share < 1:
        raise _bad(mix, _('has a shrinkage outside 0 to 1; write 8 % as 0.08 or "8 %"'))
    return float(share)


def _number(mix: str, value: Any, of: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, (int, Decimal)):
        raise _bad(mix, _("has no plain number for {what}").format(what=of))
    if isinstance(value, Decimal) and (not value.is_finite() or abs(value.adjusted()) > MOST_DIGITS):
        raise _bad(mix, _("has a number for {what} that is not finite or beyond all measure").format(what=of))
    return Fraction(value)


def _list(mix: str, table: dict[str, Any], key: str) -> list[Any]:
    value = table.get(key, [])
    if not isinstance(value, list):
        raise _bad(mix, _("has “{key}” that is not a list").format(key=key))
    return value


def _words(mix: str, value: Any, key: str) -> str:
    if not isinstance(value, str):
        raise _bad(mix, _("has “{key}” that is not text").format(key=key))
    return " ".join(plain(value, key).split())


def _whole(mix: str, value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise _bad(mix, _("has “use_within_days” that is not a whole number"))
    return value


def _bad(mix: str, problem: str) -> FriableError:
    return BadFile(_("The mix “{mix}” {problem}.").format(mix=shown(mix), problem=problem))


def _with_names_as_written(recipes: dict[str, Recipe]) -> dict[str, Recipe]:
    """Spell a mix that is used as it is spelled where it is defined."""
    spelled = {name.casefold(): name for name in recipes}
    return {
        name: replace(
            recipe,
            components=tuple(
                Component(spelled.get(c.name.casefold(), c.name), c.parts, c.state) for c in recipe.components
            ),
        )
        for name, recipe in recipes.items()
    }
