"""Mixes as they were published: components as printed, amendments, cautions, and where sources disagree."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.words import nearest, tokens
from friable.wording import gettext as _

GRAMS_PER_POUND = 453.59237  # exact, by definition
GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16
LITRES_PER_CUBIC_YARD = 764.554857984  # exact
LITRES_PER_IMPERIAL_GALLON = 4.54609  # exact

# Unit of a printed rate -> g per litre of finished mix; None: a measure of volume, whose mass is not known.
GRAMS_PER_LITRE: dict[str, float | None] = {
    "kg/m3": 1.0,
    "g/m3": 0.001,
    "lb/yd3": GRAMS_PER_POUND / LITRES_PER_CUBIC_YARD,
    "oz per 8 imp gal": GRAMS_PER_OUNCE / (8 * LITRES_PER_IMPERIAL_GALLON),
    "tablespoon per US gal": None,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedComponent:
    """A component as printed. `material` is our reading of it, empty where the words leave the grade open."""

    printed_name: str
    parts: Fraction
    parts_low: Fraction | None = None  # where a range is printed
    parts_high: Fraction | None = None
    state: str = "loose moist"
    material: str = ""  # key of a material
    mix: str = ""  # key of another published recipe

    @property
    def asks(self) -> bool:
        """Whether someone has to say which material is meant."""
        return not (self.material or self.mix)


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedAmendment:
    """An amendment with its rate as printed; no rate where none is printed."""

    name: str
    rate_low: float | None
    rate_high: float | None
    unit: str
    when: str  # condition that the source names
    source: str

    @property
    def low_g_per_l(self) -> float | None:
        """Lower rate per litre of finished mix, or None if the unit is no mass. [g/L]"""
        return self._grams_per_litre(self.rate_low)

    @property
    def high_g_per_l(self) -> float | None:
        """Upper rate per litre of finished mix, or None if the unit is no mass. [g/L]"""
        return self._grams_per_litre(self.rate_high)

    def _grams_per_litre(self, rate: float | None) -> float | None:
        grams = GRAMS_PER_LITRE.get(self.unit)
        return None if rate is None or grams is None else rate * grams


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Sources that give different rates for one amendment: (rate, unit, note, source) each."""

    amendment: str
    rates: tuple[tuple[float, str, str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedRecipe:
    """A mix as published. An incomplete one may be kept, not made."""

    key: str
    name: str
    plant_group: str
    stage: str
    components: tuple[PublishedComponent, ...]
    amendments: tuple[PublishedAmendment, ...]
    amendments_as_printed: str
    cautions: tuple[str, ...]
    conflicts: tuple[Conflict, ...]
    top_dressing: str
    incomplete: bool
    note: str
    how_known: str
    source: str

    @property
    def total_parts(self) -> Fraction:
        """Sum of all parts."""
        return sum((component.parts for component in self.components), Fraction(0))


@cache
def published_recipes() -> tuple[PublishedRecipe, ...]:
    """Return every published recipe, in the order of the table.

    Raises
    ------
    LookupError
        If parts do not sum to the total that the recipe's row states, or a line belongs to no recipe.
    """
    lines = {
        name: _by_recipe(read_table(name))
        for name in ("recipe_components", "recipe_amendments", "recipe_conflicts", "recipe_cautions")
    }
    found = []
    for row in read_table("recipes"):
        own = {name: rows.pop(row["key"], []) for name, rows in lines.items()}
        recipe = PublishedRecipe(
            key=row["key"],
            name=row["name"],
            plant_group=row["plant_group"],
            stage=row["stage"],
            components=tuple(_component(line) for line in own["recipe_components"]),
            amendments=tuple(_amendment(line) for line in own["recipe_amendments"]),
            amendments_as_printed=row["amendments_as_printed"],
            cautions=tuple(line["caution"] for line in own["recipe_cautions"]),
            conflicts=_conflicts(own["recipe_conflicts"]),
            top_dressing=row["top_dressing"],
            incomplete=row["incomplete"] == "yes",
            note=row["note"],
            how_known=row["how_known"],
            source=row["source"],
        )
        if recipe.total_parts != Fraction(row["total_parts"]):
            raise row.refused(
                _("the parts sum to {found}, not {total}").format(
                    found=recipe.total_parts, total=row["total_parts"]
                )
            )
        found.append(recipe)
    for rows in lines.values():
        for orphans in rows.values():
            raise orphans[0].refused(_("no recipe is called “{key}”").format(key=orphans[0]["recipe"]))
    return tuple(found)


def find_recipe(text: str) -> PublishedRecipe:
    """Return the published recipe that a text names, by key or by words of its name.

    Raises
    ------
    UnknownName, AmbiguousName
        If none or several have this name.
    """
    words = tokens(text)
    recipes = published_recipes()
    for found in (
        [r for r in recipes if words in (tokens(r.key), tokens(r.name))],
        [r for r in recipes if words and words <= tokens(r.name)],
    ):
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousName(_("published recipe"), text, [recipe.name for recipe in found])
    raise UnknownName(_("published recipe"), text, nearest(text, {r.name: r.name for r in recipes}))


def _by_recipe(rows: list[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row["recipe"], []).append(row)
    return found


def _component(row: Row) -> PublishedComponent:
    return PublishedComponent(
        printed_name=row["printed_name"],
        parts=Fraction(row["parts"]),
        parts_low=Fraction(row["parts_low"]) if row["parts_low"] else None,
        parts_high=Fraction(row["parts_high"]) if row["parts_high"] else None,
        state=row["state"],
        material=row["material"],
        mix=row["mix"],
    )


def _amendment(row: Row) -> PublishedAmendment:
    return PublishedAmendment(
        name=row["name"],
        rate_low=row.maybe("rate_low"),
        rate_high=row.maybe("rate_high"),
        unit=row["unit"],
        when=row["when"],
        source=row["source"],
    )


def _conflicts(rows: list[Row]) -> tuple[Conflict, ...]:
    rates: dict[str, list[tuple[float, str, str, str]]] = {}
    for row in rows:
        rates.setdefault(row["name"], []).append(
            (row.number("rate"), row["unit"], row["note"], row["source"])
        )
    return tuple(Conflict(amendment=name, rates=tuple(found)) for name, found in rates.items())
